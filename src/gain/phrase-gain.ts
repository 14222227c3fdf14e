import { checkListShape } from '../regions/check-list-shape.js';
import { firstEndingAfter, firstStartingAt } from '../regions/find-index.js';
import { cutPiece } from '../regions/fit-region.js';
import { draftToRegion } from '../regions/insert-region.js';
import { LEAST_GAIN_DB, MOST_GAIN_DB, type Region, type RegionList } from '../regions/region.js';
import { spliceRegions } from '../regions/replace-regions.js';
import { checkInteger, checkNumber, checkObject } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';

/** Settings of phraseGain. */
export interface PhraseGainOptions {
  /** What is added over the whole range, in dB, −144 to 144. */
  readonly gainDb: number;
  /** Length of the fades at the two ends of the range, and beside regions that stay as they are, in seconds, 0 to 1. Default 0.02. */
  readonly fadeSeconds?: number;
}

/** Defaults of phraseGain: fades of 20 ms, as long as a breath's, since a phrase begins and ends in a pause (common practice, no source). */
export const DEFAULT_PHRASE_GAIN_OPTIONS: Readonly<Required<Pick<PhraseGainOptions, 'fadeSeconds'>>> =
  Object.freeze({
    fadeSeconds: 0.02,
  });

/**
 * Adds decibels over a whole range, a phrase for one: to every region in it, and to what lies between them, which becomes
 * regions of kind `custom`. Away from fades, the gain in the range is the old gain plus `gainDb`.
 *
 * Regions may not overlap, so a gain over regions is not one region but a chain of touching ones; from one to the next the gain
 * goes through their own fades and not by way of 0 dB. A region that reaches over an end of the range is split there. Calling
 * it again with the same range adds once more and makes no new regions; with the opposite gain it takes the gain back.
 *
 * Locked and bypassed regions stay as they are, whole, with fades towards them in what lies beside. A region with a band takes the gain
 * in its band alone, since a region has one gain: the rest of its spectrum stays at 0 dB. Gains end at LEAST_GAIN_DB and MOST_GAIN_DB; a positive gain boosts, so see to the peaks.
 * A decision that sets gains (fixedCut, levelledCut, evenedCut) would undo what is added here to the regions it takes: decide first, then this.
 *
 * @param list - The regions of a take; not changed.
 * @param range - First sample and one past the last, such as one of phrasesOf; half-open, not empty, inside the clip.
 * @param options - Gain and fades. A fade is at most a third of its region.
 * @returns A new list, or the same where `gainDb` is 0. Regions that changed carry the reason
 *   `{ rule: 'phraseGain', numbers: { addedDb, beforeDb, gainDb } }`. New ids follow `list.nextId` in order of time.
 * @throws RangeError or TypeError for a range or option that is not as stated; the list passed stays as it was.
 *
 * Source: common practice.
 *
 * @example
 * import { phraseGain } from 'lenition/gain';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800, gainDb: -6 });
 * const lower = phraseGain(list, { startSample: 9600, endSample: 48000 }, { gainDb: -3 });
 * lower.regions.map((r) => [r.kind, r.startSample, r.endSample, r.gainDb]);
 * // => [['custom', 9600, 24000, -3], ['sibilant', 24000, 28800, -9], ['custom', 28800, 48000, -3]]
 */
export function phraseGain(
  list: RegionList,
  range: { readonly startSample: number; readonly endSample: number },
  options: PhraseGainOptions,
): RegionList {
  checkListShape('phraseGain', list);
  checkObject('phraseGain', 'range', range);
  const { startSample, endSample } = range;
  const { gainDb, fadeSeconds } = checkedOptions('phraseGain', DEFAULT_PHRASE_GAIN_OPTIONS, options, [
    'gainDb',
  ]);
  const widest = MOST_GAIN_DB - LEAST_GAIN_DB;
  checkInteger('phraseGain', 'range.startSample', startSample, 0);
  checkInteger('phraseGain', 'range.endSample', endSample, startSample + 1, list.lengthSamples);
  checkNumber('phraseGain', 'gainDb', gainDb, -widest, widest);
  checkNumber('phraseGain', 'fadeSeconds', fadeSeconds, 0, 1);
  if (gainDb === 0) return list;
  const first = firstEndingAfter(list.regions, startSample);
  const past = Math.max(first, firstStartingAt(list.regions, endSample));
  const inside = list.regions.slice(first, past);
  const chain = chainOf(inside, startSample, endSample, gainDb);
  if (!chain.some((link) => link.added)) return list;
  let { nextId } = list;
  const fadeSamples = Math.round(fadeSeconds * list.sampleRateHz);
  const pieces = chain.map((link, i) => {
    const region = link.added
      ? withChainFades(link.region, chain[i - 1], chain[i + 1], range, fadeSamples)
      : link.region;
    return link.isNew ? { ...region, id: nextId++ } : region;
  });
  return spliceRegions('phraseGain', list, first, past - first, pieces, nextId, () => 'region');
}

/** A region of the result; each touches the one before. */
interface Link {
  readonly region: Region;
  /** True where the gain was added; false for what stays as it is. */
  readonly added: boolean;
  /** True for a region that needs an id of its own. */
  readonly isNew: boolean;
}

function chainOf(inside: readonly Region[], startSample: number, endSample: number, addedDb: number): Link[] {
  const chain: Link[] = [];
  const add = (region: Region, isNew: boolean): void => {
    const beforeDb = region.gainDb;
    const gainDb = Math.min(MOST_GAIN_DB, Math.max(LEAST_GAIN_DB, beforeDb + addedDb)) + 0;
    const reason = { rule: 'phraseGain', numbers: { addedDb, beforeDb, gainDb } };
    chain.push({ region: { ...region, gainDb, reason }, added: true, isNew });
  };
  let at = startSample;
  const fillTo = (end: number): void => {
    if (end > at) add(draftToRegion({ startSample: at, endSample: end }, 0), true);
  };
  for (const region of inside) {
    fillTo(region.startSample);
    at = region.endSample;
    if (region.locked || region.bypassed) {
      chain.push({ region, added: false, isNew: false });
      continue;
    }
    const start = Math.max(region.startSample, startSample);
    const end = Math.min(region.endSample, endSample);
    const hasHead = start > region.startSample;
    const hasTail = end < region.endSample;
    // As splitRegion does: no fade at a cut, the earliest piece keeps the id.
    if (hasHead) {
      const head = cutPiece({ ...region, fadeOutSamples: 0 }, region.startSample, start);
      chain.push({ region: head, added: false, isNew: false });
    }
    const middle = { ...region };
    if (hasHead) middle.fadeInSamples = 0;
    if (hasTail) middle.fadeOutSamples = 0;
    add(cutPiece(middle, start, end), hasHead);
    if (hasTail) {
      const tail = cutPiece({ ...region, fadeInSamples: 0 }, end, region.endSample);
      chain.push({ region: tail, added: false, isNew: true });
    }
  }
  fillTo(endSample);
  return chain;
}

/** A fade at each side that needs one and has none. */
function withChainFades(
  region: Region,
  before: Link | undefined,
  after: Link | undefined,
  range: { readonly startSample: number; readonly endSample: number },
  fadeSamples: number,
): Region {
  const length = region.endSample - region.startSample;
  let { fadeInSamples, fadeOutSamples } = region;
  if (fadeInSamples === 0) {
    const wanted =
      region.startSample === range.startSample
        ? fadeSamples
        : fadeBeside(before, 'fadeOutSamples', fadeSamples);
    fadeInSamples = Math.min(wanted, Math.floor(length / 3), length - fadeOutSamples);
  }
  if (fadeOutSamples === 0) {
    const wanted =
      region.endSample === range.endSample ? fadeSamples : fadeBeside(after, 'fadeInSamples', fadeSamples);
    fadeOutSamples = Math.min(wanted, Math.floor(length / 3), length - fadeInSamples);
  }
  return { ...region, fadeInSamples, fadeOutSamples };
}

/**
 * Length of the fade towards a neighbour in the chain. Where both are active, the neighbour's own fade goes from gain to gain. The
 * fades of a region that was brought to 0 dB are not used, so they move over to this side.
 */
function fadeBeside(
  neighbour: Link | undefined,
  side: 'fadeInSamples' | 'fadeOutSamples',
  fadeSamples: number,
): number {
  if (neighbour === undefined) return 0;
  const { region, added } = neighbour;
  // To a gain on the whole spectrum, a region with a band is one at 0 dB.
  if (region.band !== undefined) return fadeSamples;
  const isActive = !region.bypassed && region.gainDb !== 0;
  if (isActive && (added || region[side] > 0)) return 0;
  return added ? region[side] : fadeSamples;
}
