import { checkListShape } from '../regions/check-list-shape.js';
import type { FadeShape, RegionList } from '../regions/region.js';
import { regionGain } from './region-gain.js';

/** One point of a gain envelope. */
export interface GainBreakpoint {
  /** Position in samples from the start of the clip. */
  readonly sample: number;
  /** Gain there, in dB; LEAST_GAIN_DB is a mute. */
  readonly gainDb: number;
  /** How the gain moves from here to the next point (see fadeGain; both gains as amplitude factors). */
  readonly shape: FadeShape;
}

/**
 * The gain of a whole clip as an envelope: points in time order, the first at sample 0, the last at the clip's
 * length, with a stated shape between each and the next. It says exactly what renderGain does to the whole spectrum.
 *
 * Two points at one sample are a step: the later one holds from that sample on. Between points of equal gain the
 * gain stands still, whatever the shape. Regions that leave the audio alone (bypassed, 0 dB) and
 * regions with a band give no points.
 *
 * @param list - The regions of the clip. No regions: two points at 0 dB. An empty clip: one point at sample 0.
 * @returns A frozen array of frozen points; at most four per region, and two.
 *
 * @throws TypeError unless it is a region list
 * @example
 * import { gainBreakpoints } from 'lenition/gain';
 * const region = {
 *   id: 1, kind: 'sibilant', onsetSample: null, offsetSample: null, startSample: 100, endSample: 200, gainDb: -6,
 *   confidence: 1, bypassed: false, locked: false, fadeInSamples: 10, fadeOutSamples: 0, fadeShape: 'linear',
 *   label: '', reason: { rule: 'byHand', numbers: {} },
 * } as const;
 * const list = { sampleRateHz: 48000, lengthSamples: 300, nextId: 2, regions: [region] };
 * gainBreakpoints(list).map((point) => [point.sample, point.gainDb]);
 * // => [[0, 0], [100, 0], [110, -6], [200, -6], [200, 0], [300, 0]]
 */
export function gainBreakpoints(list: RegionList): readonly GainBreakpoint[] {
  checkListShape('gainBreakpoints', list);
  const points: GainBreakpoint[] = [];
  const add = (sample: number, gainDb: number, shape: FadeShape): void => {
    const last = points[points.length - 1];
    // The end of one piece and the start of the next are one point; the shape belongs to what follows.
    if (last && last.sample === sample && last.gainDb === gainDb) points.pop();
    points.push(Object.freeze({ sample, gainDb, shape }));
  };
  add(0, 0, 'linear');
  for (let index = 0; index < list.regions.length; index++) {
    const gain = regionGain(list.regions, index);
    if (gain === null) continue;
    add(gain.startSample, gain.fromDb, gain.shape);
    add(gain.fadeInEndSample, gain.gainDb, gain.shape);
    add(gain.fadeOutStartSample, gain.gainDb, gain.shape);
    add(gain.endSample, gain.toDb, 'linear');
  }
  add(list.lengthSamples, 0, 'linear');
  return Object.freeze(points);
}
