import { editRegions } from '../regions/edit-regions.js';
import { LEAST_GAIN_DB, type Region, type RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { decideGain, REGION_CHOICE_FIELDS, type RegionChoice } from './change-gain.js';
import { DEFAULT_KIND_CUTS } from './kind-cuts.js';

/** Settings of lowerNoise. */
export interface LowerNoiseOptions extends RegionChoice {
  /** How far the chosen regions are lowered, in dB, 0 to 120. */
  readonly cutDb?: number;
  /** Length of both fades of a noise, in seconds, 0 to 1; never more than a third of a region. */
  readonly fadeSeconds?: number;
  /** The same for noises that are cut on a band alone, such as thumps: they are short. */
  readonly bandFadeSeconds?: number;
  /** The same for clicks. */
  readonly clickFadeSeconds?: number;
}

/**
 * Defaults of lowerNoise (common practice, no source): noises and clicks by 12 dB, so that a pause sinks and does not fall into a hole;
 * fades of 80 ms, too slow to be heard as an edge; 10 ms for thumps, of which 20 to 200 ms is all there is; 0.5 ms for clicks.
 */
export const DEFAULT_LOWER_NOISE_OPTIONS: Readonly<
  Required<
    Pick<LowerNoiseOptions, 'kinds' | 'cutDb' | 'fadeSeconds' | 'bandFadeSeconds' | 'clickFadeSeconds'>
  >
> = Object.freeze({
  kinds: Object.freeze(['noise', 'click'] as const),
  cutDb: -DEFAULT_KIND_CUTS.lead.noise,
  fadeSeconds: 0.08,
  bandFadeSeconds: 0.01,
  clickFadeSeconds: 0.0005,
});

/** With less room than this beside a noise it goes on beyond the region, and the fade lies on it. */
const LEAST_ROOM_SECONDS = 0.01;

/**
 * Lowers what is not the performance by a stated amount: noises between phrases, thumps (on their band alone) and mouth clicks, each with
 * fades of its own length.
 *
 * gain = −cutDb; fades lie inside the regions, whose edges stay: findNoise has left holds beside phrases and breaths. A
 * fade ends where the noise begins if the region starts 10 ms before it or more. Gains are
 * set, not added: doing it twice changes nothing more. Locked and bypassed regions stay as they are, and so do other kinds.
 *
 * @param list - The regions of a take; not changed. An empty list comes back as it is.
 * @param options - Cut, fades and choice of regions: noises and clicks unless `kinds` says otherwise.
 * @returns A new list that shares the untouched regions, or the same list where nothing changes. Chosen regions carry the reason
 *   `{ rule: 'lowerNoise', numbers: { gainDb } }`.
 * @throws RangeError or TypeError for an option out of range, an unknown kind or a bad id.
 *
 * Source: common practice.
 *
 * @example
 * import { lowerNoise } from 'lenition/gain';
 * import { createRegionList, insertRegions } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 });
 * const list = insertRegions(empty, [
 *   { kind: 'noise', startSample: 0, endSample: 48000 },
 *   { kind: 'breath', startSample: 60000, endSample: 90000 },
 * ]);
 * const lowered = lowerNoise(list);
 * lowered.regions.map((region) => region.gainDb); // => [-12, 0]
 * lowered.regions[0]?.fadeInSamples; // => 3840
 */
export function lowerNoise(list: RegionList, options: LowerNoiseOptions = {}): RegionList {
  const all = checkedOptions('lowerNoise', DEFAULT_LOWER_NOISE_OPTIONS, options, REGION_CHOICE_FIELDS);
  checkNumber('lowerNoise', 'cutDb', all.cutDb, 0, -LEAST_GAIN_DB);
  checkNumber('lowerNoise', 'fadeSeconds', all.fadeSeconds, 0, 1);
  checkNumber('lowerNoise', 'bandFadeSeconds', all.bandFadeSeconds, 0, 1);
  checkNumber('lowerNoise', 'clickFadeSeconds', all.clickFadeSeconds, 0, 1);
  const chosen = new Set<number>();
  const cut = decideGain('lowerNoise', list, all, (region) => {
    chosen.add(region.id);
    return { gainDb: -all.cutDb, numbers: {} };
  });
  let changed = false;
  const faded = editRegions(cut, (region) => {
    if (!chosen.has(region.id)) return undefined;
    const { startSample, endSample, onsetSample, offsetSample } = region;
    const longest = Math.min(
      Math.floor((endSample - startSample) / 3),
      Math.round(fadeSecondsOf(region) * list.sampleRateHz),
    );
    // Done before the noise begins, where there is room to be.
    const fadeInSamples = fitted(longest, (onsetSample ?? startSample) - startSample);
    const fadeOutSamples = fitted(longest, endSample - (offsetSample ?? endSample));
    if (region.fadeInSamples === fadeInSamples && region.fadeOutSamples === fadeOutSamples) return undefined;
    changed = true;
    return { fadeInSamples, fadeOutSamples };
  });
  return changed ? faded : cut;

  function fitted(longest: number, room: number): number {
    return room >= LEAST_ROOM_SECONDS * list.sampleRateHz ? Math.min(longest, room) : longest;
  }

  function fadeSecondsOf({ kind, band }: Region): number {
    if (kind === 'click') return all.clickFadeSeconds;
    return band === undefined ? all.fadeSeconds : all.bandFadeSeconds;
  }
}
