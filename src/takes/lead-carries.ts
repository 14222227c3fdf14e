import { gainBefore } from '../gain/gain-before.js';
import { editRegions, type RegionChange } from '../regions/edit-regions.js';
import { LEAST_GAIN_DB, type Region } from '../regions/region.js';
import { secondsToSamples } from '../regions/time.js';
import { checkChoice, checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { EventGroup } from './event-group.js';
import {
  ledGroups,
  mapLists,
  noteGain,
  type Stack,
  type StackGains,
  stackOf,
  withGains,
} from './stack-decision.js';
import type { LeadOption, Take, TakeId } from './take.js';

/** Settings of leadCarries; what is left out has its value from DEFAULT_LEAD_CARRIES_OPTIONS. */
export interface LeadCarriesOptions extends LeadOption {
  /** `cut`: the others come down by `cutDb` more than they are. `fade`: they are faded out before their noise begins. */
  readonly how?: 'cut' | 'fade';
  /** Further cut of the others, in dB, 0 to 120. Not used by `fade`. */
  readonly cutDb?: number;
  /** Length of the fade before the noise, in seconds, 0 to 1. Not used by `cut`. */
  readonly fadeSeconds?: number;
}

/** Defaults of leadCarries: 12 dB further, or a fade of 40 ms (both common practice, no source). */
export const DEFAULT_LEAD_CARRIES_OPTIONS: Readonly<
  Required<Pick<LeadCarriesOptions, 'how' | 'cutDb' | 'fadeSeconds'>>
> = Object.freeze({ how: 'cut', cutDb: 12, fadeSeconds: 0.04 });

const RULE = 'leadCarries';

/**
 * Lets the lead carry the consonant: in every group that it is a member of, the others are cut by a further amount, or faded out
 * before it.
 *
 * `cut`: gain = gain before − cutDb, not below LEAST_GAIN_DB. `fade`: gain = LEAST_GAIN_DB; the region begins up to `fadeSeconds`
 * before the onset (but not within its neighbour), and its fade-in ends at the onset, so that not even the start of the noise is left.
 * With a tone or vowel before it that fades too, as it does where a singer leaves the last consonant to the lead.
 *
 * The reason keeps the gain before, so that doing it twice changes nothing, and a new amount starts from the same place. The lead and
 * groups without it stay as they are: nobody else would carry the word. So do muted regions, and members with a locked or bypassed one. The over-cut guard does not hold the others: that
 * their s can no longer be told from a th is what is asked for here, since the lead's can.
 *
 * @param takes - The stack; not changed.
 * @param groups - Its groups, as groupEvents gives them.
 * @param options - Cut or fade, how much, and which take leads.
 * @returns The takes, with new lists where something changes; the same array where nothing does. Changed regions carry the reason
 *   `{ rule: 'leadCarries', numbers: { baseGainDb, cutDb, gainDb } }` or, after a fade, `{ baseGainDb, leadInSamples,
 *   baseFadeInSamples, fadeSeconds, gainDb }`: how far the start lay before the onset, and its fade.
 * @throws As checkTakes; RangeError for groups of another stack, an unknown lead, an option out of range.
 *
 * Source: common practice, no source.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { groupEvents, leadCarries } from 'lenition/takes';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 9600 });
 * const list = insertRegion(clip, { kind: 'sibilant', startSample: 2400, endSample: 7200, gainDb: -6 });
 * const takes = ['lead', 'high'].map((id) => ({ id, channels: new Float32Array(9600), list, offsetSamples: 0, gainDb: 0 }));
 * const groups = groupEvents(takes);
 * leadCarries(takes, groups).map((take) => take.list.regions[0]?.gainDb); // => [-6, -18]
 */
export function leadCarries(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: LeadCarriesOptions = {},
): readonly Take[] {
  const { how, cutDb, fadeSeconds } = checkedOptions('leadCarries', DEFAULT_LEAD_CARRIES_OPTIONS, options, [
    'leadId',
  ]);
  checkChoice(RULE, 'how', how, ['cut', 'fade']);
  checkNumber(RULE, 'cutDb', cutDb, 0, -LEAST_GAIN_DB);
  checkNumber(RULE, 'fadeSeconds', fadeSeconds, 0, 1);
  const stack = stackOf(RULE, takes, groups, options);
  return how === 'cut' ? cutOthers(stack, groups, cutDb) : fadeOthers(stack, groups, fadeSeconds);
}

function cutOthers(stack: Stack, groups: readonly EventGroup[], cutDb: number): readonly Take[] {
  const gains: StackGains = new Map();
  for (const { others } of ledGroups(groups, stack.lead.id))
    for (const member of others)
      for (const region of stack.freeRegionsOf(member) ?? []) {
        const baseGainDb = gainBefore(RULE, region);
        if (baseGainDb <= LEAST_GAIN_DB) continue;
        const gainDb = Math.max(LEAST_GAIN_DB, baseGainDb - cutDb);
        noteGain(gains, member.takeId, region.id, { gainDb, numbers: { baseGainDb, cutDb } });
      }
  return withGains(RULE, startsRestored(stack.takes, gains), gains);
}

/** Puts the starts that a fade has moved back to where they were. */
function startsRestored(takes: readonly Take[], gains: StackGains): readonly Take[] {
  return mapLists(takes, ({ id, list }) => {
    const own = gains.get(id);
    if (!list.regions.some((region) => own?.has(region.id) && startBefore(region) !== undefined)) return list;
    return editRegions(list, (region) => (own?.has(region.id) ? startBefore(region) : undefined));
  });
}

/** Start and fade of a region that were there before a fade, where one has moved them. */
function startBefore(region: Region): RegionChange | undefined {
  const before = beforeFade(region);
  const isMoved = before.startSample !== region.startSample || before.fadeInSamples !== region.fadeInSamples;
  return isMoved ? before : undefined;
}

/**
 * Start and fade-in as they were before a fade. The start is known by its distance to the onset, which goes along when a list is
 * shifted, stretched or reconciled; where that lies outside the region, as in the second half of one that was split, the start stays.
 */
function beforeFade(region: Region): { readonly startSample: number; readonly fadeInSamples: number } {
  const { startSample, endSample, fadeInSamples, fadeOutSamples, reason } = region;
  const { leadInSamples, baseFadeInSamples } = reason.rule === RULE ? reason.numbers : {};
  if (leadInSamples === undefined || baseFadeInSamples === undefined) return { startSample, fadeInSamples };
  // Without an onset the fade ends where the region began.
  const base = (region.onsetSample ?? startSample + fadeInSamples) - leadInSamples;
  if (base < startSample || base >= endSample) return { startSample, fadeInSamples };
  const room = Math.max(0, endSample - fadeOutSamples - base);
  return { startSample: base, fadeInSamples: Math.min(baseFadeInSamples, room) };
}

function fadeOthers(stack: Stack, groups: readonly EventGroup[], fadeSeconds: number): readonly Take[] {
  // By take, each region that goes, and whether it is the one that begins the noise.
  const faded = new Map<TakeId, Map<number, boolean>>();
  for (const { others } of ledGroups(groups, stack.lead.id))
    for (const member of others)
      stack.freeRegionsOf(member)?.forEach((region, i) => {
        if (gainBefore(RULE, region) <= LEAST_GAIN_DB) return;
        const own = faded.get(member.takeId) ?? new Map<number, boolean>();
        faded.set(member.takeId, own.set(region.id, i === 0));
      });
  return mapLists(stack.takes, ({ id, list }) => {
    const own = faded.get(id);
    if (own === undefined) return list;
    const fadeSamples = secondsToSamples(fadeSeconds, list.sampleRateHz);
    let changed = false;
    const next = editRegions(list, (region, index) => {
      const isFirst = own.get(region.id);
      if (isFirst === undefined) return undefined;
      const from = list.regions[index - 1]?.endSample ?? 0;
      const change = fadedOut(region, isFirst ? fadeSamples : 0, from, fadeSeconds);
      if (isDone(region, change)) return undefined;
      changed = true;
      return change;
    });
    return changed ? next : list;
  });
}

function fadedOut(region: Region, fadeSamples: number, from: number, fadeSeconds: number): RegionChange {
  const before = beforeFade(region);
  const onset = Math.max(region.onsetSample ?? before.startSample, from);
  const early = Math.max(from, Math.min(before.startSample, onset - fadeSamples));
  const startSample = fadeSamples === 0 ? before.startSample : early;
  const room = region.endSample - region.fadeOutSamples - startSample;
  return {
    startSample,
    fadeInSamples: fadeSamples === 0 ? before.fadeInSamples : Math.min(onset - startSample, room),
    gainDb: LEAST_GAIN_DB,
    reason: {
      rule: RULE,
      numbers: {
        baseGainDb: gainBefore(RULE, region),
        leadInSamples: (region.onsetSample ?? before.startSample) - before.startSample,
        baseFadeInSamples: before.fadeInSamples,
        fadeSeconds,
        gainDb: LEAST_GAIN_DB,
      },
    },
  };
}

function isDone(region: Region, change: RegionChange): boolean {
  const { fadeSeconds } = change.reason?.numbers ?? {};
  const { fadeSeconds: lastSeconds } = region.reason.numbers;
  return (
    region.startSample === change.startSample &&
    region.fadeInSamples === change.fadeInSamples &&
    region.gainDb === change.gainDb &&
    region.reason.rule === RULE &&
    lastSeconds === fadeSeconds
  );
}
