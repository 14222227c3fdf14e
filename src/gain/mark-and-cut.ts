import { checkListShape } from '../regions/check-list-shape.js';
import { firstEndingAfter } from '../regions/find-index.js';
import { draftToRegion } from '../regions/insert-region.js';
import {
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  type Region,
  type RegionKind,
  type RegionList,
} from '../regions/region.js';
import { regionAt } from '../regions/region-at.js';
import { regionsBetween } from '../regions/regions-between.js';
import { spliceRegions } from '../regions/replace-regions.js';
import { nearestCrossing } from '../regions/snap-to-zero-crossing.js';
import { splitRegion } from '../regions/split-region.js';
import { samplesWithin, secondsToSamples } from '../regions/time.js';
import { channelList, checkInteger, checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, Samples } from '../signal/samples.js';
import { DEFAULT_EDGE_OPTIONS } from './edge-options.js';

/** Settings of markAndCut. */
export interface MarkAndCutOptions {
  /** What one press adds to the gain, in dB, −144 to 0. */
  readonly stepDb?: number;
  /** Kind of what is newly marked; what was there keeps its own. */
  readonly kind?: RegionKind;
  /** Fade at each end of the range that has none, in seconds, 0 to 0.1; at most a third of its region. */
  readonly fadeSeconds?: number;
  /** Farthest move of each end of the range, in seconds, 0 to 0.001. */
  readonly snapSeconds?: number;
}

/** One press is −6 dB (common practice, no source); fade and snap are those of placeEdges for a range marked by hand. */
export const DEFAULT_MARK_AND_CUT_OPTIONS: Readonly<Required<MarkAndCutOptions>> = Object.freeze({
  stepDb: -6,
  kind: 'custom',
  fadeSeconds: DEFAULT_EDGE_OPTIONS.fadeSeconds.custom,
  snapSeconds: DEFAULT_EDGE_OPTIONS.snapSeconds,
});

/**
 * Marks a range and cuts it, as one press of a key would: everything heard in the range becomes 6 dB quieter, and the
 * same call again takes 6 dB more.
 *
 * First the ends of the range are snapped: to the nearest edge of a region within `snapSeconds`, so that no sliver is
 * left beside it; else, in audio of one channel, to a zero crossing inside the range, at most that far. Then regions that
 * lie partly in the range are split at its ends. Those inside are cut from the gain they have; what is free becomes a new
 * region. An end of the range that has no fade gets one, which runs from gain to gain where regions touch.
 *
 * A bypassed region in the range is switched on again and cut from 0 dB, since that is what was heard. A region with a
 * band is cut in its band. Gains end at LEAST_GAIN_DB.
 *
 * @param list the regions of a clip; not changed
 * @param startSample first sample of the range
 * @param endSample one past its last sample
 * @param channels the clip, `list.lengthSamples` long; null for no snapping to zero crossings
 * @param options the step, the kind of new regions, fade and reach
 * @returns a new list; or *the very same list* where a locked region lies in the snapped range (nothing is done then, not
 * even beside it) or nothing changes: compare with `===` to learn that nothing was cut. New and cut regions carry the reason
 * `{ rule: 'markAndCut', numbers: { stepDb, gainDb } }`.
 * @throws RangeError where the range is empty, inverted or leaves the clip, an option is out of range, the clip is not as
 * long as the list says, or a sample that is read is NaN or infinite; TypeError where a value is of the wrong kind
 *
 * Source: common practice, no source.
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { markAndCut } from 'lenition/gain';
 * const samples = new Float32Array(48000).map((_, i) => Math.sin((2 * Math.PI * 1000 * (i + 0.5)) / 48000));
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const once = markAndCut(list, 4805, 9595, samples);
 * once.regions.map((r) => [r.startSample, r.endSample, r.gainDb]); // => [[4824, 9576, -6]]
 * markAndCut(once, 4805, 9595, samples).regions.map((r) => r.gainDb); // => [-12]
 */
export function markAndCut(
  list: RegionList,
  startSample: number,
  endSample: number,
  channels: Channels | null,
  options: MarkAndCutOptions = {},
): RegionList {
  const settings = checkedOptions('markAndCut', DEFAULT_MARK_AND_CUT_OPTIONS, options);
  checkListShape('markAndCut', list);
  checkNumber('markAndCut', 'stepDb', settings.stepDb, LEAST_GAIN_DB - MOST_GAIN_DB, 0);
  checkNumber('markAndCut', 'fadeSeconds', settings.fadeSeconds, 0, 0.1);
  checkNumber('markAndCut', 'snapSeconds', settings.snapSeconds, 0, 0.001);
  checkInteger('markAndCut', 'startSample', startSample, 0);
  checkInteger('markAndCut', 'endSample', endSample, startSample + 1, list.lengthSamples);
  const mono = checkedMono(list, channels);
  const reach = samplesWithin(settings.snapSeconds, list.sampleRateHz);
  // Never past the middle, so that the ends cannot meet.
  const within = Math.min(reach, Math.floor((endSample - startSample - 1) / 2));
  const start = snapEnd(list, startSample, within, mono, 'later');
  const end = snapEnd(list, endSample, within, mono, 'earlier');
  if (regionsBetween(list, start, end).some((region) => region.locked)) return list;
  const next = splitAt(splitAt(list, start), end);
  const inside = regionsBetween(next, start, end);
  const pieces = cutPieces(next, inside, start, end, settings);
  if (next === list && pieces.every((piece, i) => piece === inside[i])) return list;
  const added = pieces.filter((piece) => piece.id >= next.nextId).length;
  const index = firstEndingAfter(next.regions, start);
  const nextId = next.nextId + added;
  return spliceRegions('markAndCut', next, index, inside.length, pieces, nextId, () => 'region');
}

function checkedMono(list: RegionList, channels: Channels | null): Samples | null {
  if (channels === null) return null;
  const signals = channelList('markAndCut', channels);
  const first = signals[0] as Samples;
  if (first.length !== list.lengthSamples)
    throw rangeError('markAndCut', 'channels', `must be ${list.lengthSamples} samples long`, first.length);
  // Several channels do not cross zero together: the fades do the work.
  return signals.length === 1 ? first : null;
}

/** The nearest region edge in reach, the earlier of two; else a zero crossing further inside. */
function snapEnd(
  list: RegionList,
  at: number,
  withinSamples: number,
  mono: Samples | null,
  direction: 'earlier' | 'later',
): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (const region of regionsBetween(list, at - withinSamples - 1, at + withinSamples + 1))
    for (const edge of [region.startSample, region.endSample])
      if (Math.abs(edge - at) < Math.abs(nearest - at)) nearest = edge;
  if (Math.abs(nearest - at) <= withinSamples) return nearest;
  return mono === null ? at : nearestCrossing('markAndCut', mono, at, { withinSamples, direction });
}

function splitAt(list: RegionList, at: number): RegionList {
  const region = regionAt(list, at);
  return region === undefined || region.startSample === at ? list : splitRegion(list, region.id, at);
}

/** What the range holds after the cut, in order: the regions inside, turned down, and new ones in the gaps. */
function cutPieces(
  list: RegionList,
  inside: readonly Region[],
  start: number,
  end: number,
  settings: Required<MarkAndCutOptions>,
): readonly Region[] {
  const { stepDb, kind, fadeSeconds } = settings;
  const longest = secondsToSamples(fadeSeconds, list.sampleRateHz);
  const fade = (from: number, to: number): number => Math.min(longest, Math.floor((to - from) / 3));
  const pieces: Region[] = [];
  let { nextId } = list;
  let at = start;
  const fill = (to: number, next: Region | undefined): void => {
    if (to <= at) return;
    const before = pieces[pieces.length - 1];
    const length = fade(at, to);
    const draft = {
      kind,
      startSample: at,
      endSample: to,
      ...cutGain(0, stepDb),
      // Where the region beside it fades by itself, that fade goes on from gain to gain.
      fadeInSamples: before !== undefined && before.fadeOutSamples > 0 ? 0 : length,
      fadeOutSamples: next !== undefined && next.fadeInSamples > 0 ? 0 : length,
    };
    pieces.push(draftToRegion(draft, nextId++));
  };
  for (const region of inside) {
    fill(region.startSample, region);
    const edge = fade(region.startSample, region.endSample);
    const newStart = region.startSample === start && region.fadeInSamples === 0 && edge > 0;
    const newEnd = region.endSample === end && region.fadeOutSamples === 0 && edge > 0;
    const heardDb = region.bypassed ? 0 : region.gainDb;
    // An old fade gives way to a new one at the other end, which takes a third at most.
    const room = region.endSample - region.startSample - edge;
    const { fadeInSamples, fadeOutSamples } = region;
    const cut: Region = {
      ...region,
      bypassed: false,
      ...cutGain(heardDb, stepDb),
      fadeInSamples: newStart ? edge : newEnd ? Math.min(fadeInSamples, room) : fadeInSamples,
      fadeOutSamples: newEnd ? edge : newStart ? Math.min(fadeOutSamples, room) : fadeOutSamples,
    };
    const same = cut.gainDb === region.gainDb && !region.bypassed && !newStart && !newEnd;
    pieces.push(same ? region : cut);
    at = region.endSample;
  }
  fill(end, undefined);
  return pieces;
}

function cutGain(fromDb: number, stepDb: number): Pick<Region, 'gainDb' | 'reason'> {
  // Adding 0 makes 0 of −0.
  const gainDb = Math.max(LEAST_GAIN_DB, fromDb + stepDb) + 0;
  return { gainDb, reason: { rule: 'markAndCut', numbers: { stepDb, gainDb } } };
}
