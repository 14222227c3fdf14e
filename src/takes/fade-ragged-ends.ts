import { DEFAULT_SHORTENED_OPTIONS } from '../gain/shortened-flags.js';
import type { LevelTable } from '../levels/region-level.js';
import { cutPiece } from '../regions/fit-region.js';
import { LEAST_GAIN_DB, type Region, type RegionList } from '../regions/region.js';
import { spliceRegions } from '../regions/replace-regions.js';
import { secondsToSamples } from '../regions/time.js';
import { checkNumber, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { EventGroup } from './event-group.js';
import type { StackLevels } from './hold-sum.js';
import { ledGroups, mapLists, stackOf } from './stack-decision.js';
import type { LeadOption, Take, TakeId } from './take.js';

/** Settings of fadeRaggedEnds; what is left out has its value from DEFAULT_FADE_RAGGED_ENDS_OPTIONS. */
export interface FadeRaggedEndsOptions extends LeadOption {
  /** How much longer than the lead's end a noise may last, in seconds, 0 to 1. */
  readonly outlastSeconds?: number;
  /** Length of the fade, which ends there, in seconds, 0.001 to 0.5. */
  readonly fadeSeconds?: number;
  /** How much of an s stays as it is, in seconds, 0 to 1. */
  readonly sKeptSeconds?: number;
  /** How much of an sh stays as it is, in seconds, 0 to 1. */
  readonly shKeptSeconds?: number;
  /** Measures of the takes, which tell s from sh; what they do not hold counts as s. */
  readonly levels?: StackLevels;
}

/**
 * Defaults of fadeRaggedEnds. 30 ms and a fade of 15 ms: choices of this project. 50 ms of an s and 30 ms of an sh: the least that
 * about 70 % of listeners still took for them (identification of truncated fricatives, from its abstract and notes on it).
 */
export const DEFAULT_FADE_RAGGED_ENDS_OPTIONS: Readonly<
  Required<Pick<FadeRaggedEndsOptions, 'outlastSeconds' | 'fadeSeconds' | 'sKeptSeconds' | 'shKeptSeconds'>>
> = Object.freeze({ outlastSeconds: 0.03, fadeSeconds: 0.015, ...DEFAULT_SHORTENED_OPTIONS });

const RULE = 'fadeRaggedEnds';

/** Where the tail of a region is to be gone, in its own take. */
interface Wish {
  readonly goneSample: number;
  readonly keptSamples: number;
}

/**
 * Fades the tails that outlast the lead's: where another member ends more than `outlastSeconds` after the lead does, it is
 * faded out early, to be gone there.
 *
 * The region is split where the fade begins. The earlier piece keeps its gain, the later one is muted (LEAST_GAIN_DB) and has the fade at its start; its own
 * fade-out stays, so what follows comes back as it did. From the onset at least 50 ms of an s and 30 ms of an sh stay
 * as they are: a shorter piece may be heard as a t. Then the tail ends later than asked for. A vowel that follows at once has a gap before it as long
 * as the tail, which the rest of the stack covers.
 *
 * Every call starts from the noise as measured, so doing it twice changes nothing, other settings move the split, and a tail that no longer outlasts comes back.
 * The lead, groups without it, noises with a locked or bypassed region, and noises that were split by hand stay as they are.
 *
 * @param takes - The stack; not changed.
 * @param groups - Its groups, as groupEvents gives them, before or after.
 * @param options - How much longer, fade, what is kept, and which take leads.
 * @returns The takes, with new lists where something changes; the same array where nothing does. Tails are new regions, with the reason
 *   `{ rule: 'fadeRaggedEnds', numbers: { outlastSeconds, fadeSeconds, gainDb } }`.
 * @throws As checkTakes; RangeError for groups of another stack, an unknown lead, an option out of range.
 *
 * Source: common practice, no source; what is kept, see DEFAULT_FADE_RAGGED_ENDS_OPTIONS.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { fadeRaggedEnds, groupEvents } from 'lenition/takes';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 24000 });
 * const take = (id: string, endSample: number) => ({
 *   id, channels: new Float32Array(24000), offsetSamples: 0, gainDb: 0,
 *   list: insertRegion(clip, { kind: 'sibilant', startSample: 4800, endSample }),
 * });
 * const takes = [take('lead', 9600), take('high', 14400)];
 * const faded = fadeRaggedEnds(takes, groupEvents(takes));
 * // 30 ms after the lead's end are 11040; the fade takes 15 ms
 * faded[1]?.list.regions.map((region) => [region.startSample, region.endSample, region.gainDb]);
 * // => [[4800, 10320, 0], [10320, 14400, -120]]
 */
export function fadeRaggedEnds(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: FadeRaggedEndsOptions = {},
): readonly Take[] {
  const settings = checkedOptions('fadeRaggedEnds', DEFAULT_FADE_RAGGED_ENDS_OPTIONS, options, [
    'leadId',
    'levels',
  ]);
  checkNumber(RULE, 'outlastSeconds', settings.outlastSeconds, 0, 1);
  checkNumber(RULE, 'fadeSeconds', settings.fadeSeconds, 0.001, 0.5);
  checkNumber(RULE, 'sKeptSeconds', settings.sKeptSeconds, 0, 1);
  checkNumber(RULE, 'shKeptSeconds', settings.shKeptSeconds, 0, 1);
  const { levels } = settings;
  if (levels !== undefined && !(levels instanceof Map))
    throw typeError(RULE, 'levels', 'must be a Map', levels);
  const stack = stackOf(RULE, takes, groups, options);
  const { sampleRateHz } = stack.lead.list;
  const outlastSamples = secondsToSamples(settings.outlastSeconds, sampleRateHz);
  const fadeSamples = Math.max(1, secondsToSamples(settings.fadeSeconds, sampleRateHz));
  const wishes = new Map<TakeId, Map<number, Wish>>();
  for (const { lead, others } of ledGroups(groups, stack.lead.id))
    for (const member of others) {
      const { takeId } = member;
      const { offsetSamples } = stack.byId.get(takeId) as Take;
      const { id } = stack.regionsOf(member)[0] as Region;
      const sound = (levels?.get(takeId) as LevelTable | undefined)?.byId.get(id)?.sound;
      const keptSeconds = sound === 'sh-like' ? settings.shKeptSeconds : settings.sKeptSeconds;
      const own = wishes.get(takeId) ?? new Map<number, Wish>();
      const goneSample = lead.endSample + outlastSamples - offsetSamples;
      wishes.set(
        takeId,
        own.set(id, { goneSample, keptSamples: secondsToSamples(keptSeconds, sampleRateHz) }),
      );
    }
  const numbers = {
    outlastSeconds: settings.outlastSeconds,
    fadeSeconds: settings.fadeSeconds,
    gainDb: LEAST_GAIN_DB,
  };
  return mapLists(takes, ({ id, list }) => {
    let next = list;
    for (const [regionId, wish] of wishes.get(id) ?? [])
      next = fadeTail(next, regionId, wish, fadeSamples, numbers);
    return next;
  });
}

function fadeTail(
  list: RegionList,
  id: number,
  { goneSample, keptSamples }: Wish,
  fadeSamples: number,
  numbers: Region['reason']['numbers'],
): RegionList {
  const index = list.regions.findIndex((region) => region.id === id);
  const first = list.regions[index] as Region;
  const after = list.regions[index + 1];
  const tail = after?.reason.rule === RULE && after.startSample === first.endSample ? after : undefined;
  // The noise as measured: a tail that was taken off earlier is put back.
  const whole = tail === undefined ? first : putBack(first, tail);
  if ([first, tail].some((region) => region?.locked || region?.bypassed) || isPiece(whole, list)) return list;
  const onset = whole.onsetSample ?? whole.startSample;
  const end = whole.offsetSample ?? whole.endSample;
  const at = Math.max(goneSample - fadeSamples, onset + keptSamples, whole.startSample + 1);
  const pieces =
    end <= goneSample || at >= end
      ? [whole]
      : split(whole, at, tail?.id ?? list.nextId, fadeSamples, numbers);
  const old = tail === undefined ? [first] : [first, tail];
  if (pieces.length === old.length && pieces.every((piece, p) => isSame(piece, old[p] as Region)))
    return list;
  const nextId = pieces.length > 1 && tail === undefined ? list.nextId + 1 : list.nextId;
  return spliceRegions(RULE, list, index, old.length, pieces, nextId, () => 'region');
}

function putBack(first: Region, { endSample, offsetSample, fadeOutSamples }: Region): Region {
  const room = endSample - first.startSample - first.fadeInSamples;
  return { ...first, endSample, offsetSample, fadeOutSamples: Math.min(fadeOutSamples, room) };
}

/** True for a part of a noise that was split by hand: what is measured is then missing at the cut. */
function isPiece(region: Region, { regions }: RegionList): boolean {
  const { startSample, endSample, onsetSample, offsetSample } = region;
  return regions.some(
    (other) =>
      (onsetSample === null && other.endSample === startSample && other.offsetSample === null) ||
      (offsetSample === null && other.startSample === endSample && other.onsetSample === null),
  );
}

function split(
  whole: Region,
  at: number,
  tailId: number,
  fadeSamples: number,
  numbers: Region['reason']['numbers'],
): readonly Region[] {
  const kept = cutPiece({ ...whole, fadeOutSamples: 0 }, whole.startSample, at);
  const rest = cutPiece({ ...whole, fadeInSamples: 0 }, at, whole.endSample);
  const fadeInSamples = Math.min(fadeSamples, rest.endSample - rest.startSample - rest.fadeOutSamples);
  const reason = { rule: RULE, numbers };
  return [kept, { ...rest, id: tailId, fadeInSamples, gainDb: LEAST_GAIN_DB, reason }];
}

/** Whether a piece is the one that was there. Both have its id, and both begin where the piece before them ends. */
function isSame(a: Region, b: Region): boolean {
  return (
    a.endSample === b.endSample &&
    a.offsetSample === b.offsetSample &&
    a.gainDb === b.gainDb &&
    a.fadeInSamples === b.fadeInSamples &&
    a.fadeOutSamples === b.fadeOutSamples &&
    sameNumbers(a.reason.numbers, b.reason.numbers)
  );
}

function sameNumbers(a: Region['reason']['numbers'], b: Region['reason']['numbers']): boolean {
  const names = Object.keys(a);
  return names.length === Object.keys(b).length && names.every((name) => a[name] === b[name]);
}
