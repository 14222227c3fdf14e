import { channelsOfClip } from '../regions/channels-of-clip.js';
import { checkListShape } from '../regions/check-list-shape.js';
import { editRegions } from '../regions/edit-regions.js';
import { LEAST_GAIN_DB, type Region, type RegionList } from '../regions/region.js';
import { checkChoice, checkFinite, checkNumber, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, Samples } from '../signal/samples.js';
import { decideGain, type RegionChoice } from './change-gain.js';
import { edgeLimits } from './edge-limits.js';
import { type HeardPower, heardPower } from './heard-power.js';
import { DEFAULT_KIND_CUTS, type TakePart } from './kind-cuts.js';
import { roomTonePower } from './room-tone-power.js';

/** Settings of softenBreaths. */
export interface SoftenBreathsOptions extends Omit<RegionChoice, 'kinds'> {
  /** Whether the take carries the words or stands behind one that does. */
  readonly part?: TakePart;
  /** How far breaths are lowered, in dB, 0 to 120; left out: 9 in a lead, 24 in a backing take. */
  readonly cutDb?: number;
  /** True: no breath is brought under the take's room tone. Needs the clip. */
  readonly keepRoomTone?: boolean;
  /** Least length of both fades, in seconds, 0 to 1; never more than a third of a region. */
  readonly fadeSeconds?: number;
  /** How far an edge may follow the soft skirt of a breath outwards, in seconds, 0 to 0.5. */
  readonly reachSeconds?: number;
}

/**
 * Defaults of softenBreaths (common practice, no source): lead, so 9 dB, the middle of 6 to 12; in backing takes 24 dB, nearly out, since many
 * add up; room tone kept; fades of 30 ms, the long end of 10 to 30 ms; edges follow a skirt by up to 0.1 s.
 */
export const DEFAULT_SOFTEN_BREATHS_OPTIONS: Readonly<
  Required<
    Pick<SoftenBreathsOptions, 'part' | 'keepRoomTone' | 'fadeSeconds' | 'reachSeconds' | 'minConfidence'>
  >
> = Object.freeze({
  part: 'lead',
  keepRoomTone: true,
  fadeSeconds: 0.03,
  reachSeconds: 0.1,
  minConfidence: 0,
});

/** Blocks in which levels are read: longer than a period of any pitch that a breath has (none), short beside its skirts. */
const BLOCK_SECONDS = 0.005;
/** A skirt is followed while it stands this far above the room, in dB, and does not rise again by this. */
const ABOVE_ROOM_DB = 3;
const RISE_DB = 6;

/**
 * Lowers breaths, with long soft fades: gain = −min(cutDb, breath above room tone).
 *
 * With the clip at hand no breath is brought under the take's room tone: its median level (K-weighted, ITU-R BS.1770, in
 * blocks of 5 ms) minus the cut stays at or above the room's, the mean of the take's quietest 2 % (30 ms blocks, digital silence left out).
 * Start and end follow the skirts of the breath outwards while they fall towards the room, never into another region and never where
 * the level rises again, so that a consonant which is not listed stays whole too; the fades lie on the skirts. Without the clip (null)
 * the cut is as asked, edges stay, and fades lie inside. Regions made by hand keep their edges.
 *
 * Gains are set, not added, and edges count from the measured onset and offset: doing it twice changes nothing more. Locked and bypassed
 * regions stay as they are, and so do other kinds. Where placeEdges is used too, call it first: this sets longer fades.
 *
 * @param list - The regions of a take; not changed. An empty list comes back as it is.
 * @param channels - The take, one channel or several; or null.
 * @param options - Part, cut, fades and choice of regions. A mute has to be asked for: `cutDb: 120` with `keepRoomTone: false`.
 * @returns A new list that shares the untouched regions, or the same list where nothing changes. Chosen breaths carry the reason
 *   `{ rule: 'softenBreaths', numbers: { wantedCutDb, gainDb } }`, with `aboveRoomDb` where the room was measured.
 * @throws RangeError where the clip is not as long as the list says, a sample is NaN or infinite (with its index), or an option is out
 *   of range; TypeError for the wrong kind of value.
 *
 * Source: common practice.
 *
 * @example
 * import { softenBreaths } from 'lenition/gain';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'breath', startSample: 0, endSample: 24000 });
 * softenBreaths(list, null).regions[0]?.gainDb; // => -9
 * softenBreaths(list, null, { part: 'backing' }).regions[0]?.gainDb; // => -24
 * softenBreaths(list, null).regions[0]?.fadeInSamples; // => 1440
 */
export function softenBreaths(
  list: RegionList,
  channels: Channels | null,
  options: SoftenBreathsOptions = {},
): RegionList {
  const { part, keepRoomTone, fadeSeconds, reachSeconds } = checkedOptions(
    'softenBreaths',
    DEFAULT_SOFTEN_BREATHS_OPTIONS,
    options,
    ['cutDb', 'ids', 'between'],
  );
  checkChoice('softenBreaths', 'part', part, ['lead', 'backing']);
  const cutDb = options.cutDb ?? -DEFAULT_KIND_CUTS[part].breath;
  checkNumber('softenBreaths', 'cutDb', cutDb, 0, -LEAST_GAIN_DB);
  checkNumber('softenBreaths', 'fadeSeconds', fadeSeconds, 0, 1);
  checkNumber('softenBreaths', 'reachSeconds', reachSeconds, 0, 0.5);
  if (typeof keepRoomTone !== 'boolean')
    throw typeError('softenBreaths', 'keepRoomTone', 'must be a boolean', keepRoomTone);
  checkListShape('softenBreaths', list);
  const clip = channels === null ? null : wholeClip(list, channels);
  if (!list.regions.some(({ kind }) => kind === 'breath')) return list;
  const heard = clip && heardPower(clip, list.sampleRateHz, BLOCK_SECONDS);
  const room = clip === null ? 0 : roomTonePower(clip, list.sampleRateHz);

  const chosen = new Set<number>();
  const { ids, minConfidence, between } = options;
  const choice: RegionChoice = {
    kinds: ['breath'],
    ...(ids === undefined ? {} : { ids }),
    ...(minConfidence === undefined ? {} : { minConfidence }),
    ...(between === undefined ? {} : { between }),
  };
  const cut = decideGain('softenBreaths', list, choice, (region) => {
    chosen.add(region.id);
    const aboveRoomDb =
      heard === null || room === 0 ? null : 10 * Math.log10(medianPower(heard, region) / room);
    const most = aboveRoomDb !== null && keepRoomTone ? Math.max(0, aboveRoomDb) : cutDb;
    const numbers = { wantedCutDb: cutDb };
    return {
      gainDb: -Math.min(cutDb, most),
      numbers: aboveRoomDb === null ? numbers : { ...numbers, aboveRoomDb: Math.max(-200, aboveRoomDb) },
    };
  });

  const limits = edgeLimits(cut);
  const samples = (seconds: number): number => Math.round(seconds * list.sampleRateHz);
  let moved = false;
  const placed = editRegions(cut, (region, index) => {
    if (!chosen.has(region.id)) return undefined;
    const { onsetSample, offsetSample } = region;
    let { startSample, endSample } = region;
    let before = 0;
    let after = 0;
    if (heard !== null && onsetSample !== null && offsetSample !== null) {
      const low = limits[index] as number;
      const high = limits[index + 1] as number;
      const reach = samples(reachSeconds);
      // Where hands have put another region over a measured edge, theirs stands.
      const start =
        onsetSample < low
          ? startSample
          : skirtEnd(heard, room, onsetSample, Math.max(low, onsetSample - reach));
      const end =
        offsetSample > high
          ? endSample
          : skirtEnd(heard, room, offsetSample, Math.min(high, offsetSample + reach));
      if (start < end) {
        startSample = start;
        endSample = end;
        before = onsetSample - start;
        after = end - offsetSample;
      }
    }
    const longest = Math.floor((endSample - startSample) / 3);
    const change = {
      startSample,
      endSample,
      fadeInSamples: Math.min(longest, Math.max(before, samples(fadeSeconds))),
      fadeOutSamples: Math.min(longest, Math.max(after, samples(fadeSeconds))),
    };
    if (Object.entries(change).every(([name, value]) => region[name as keyof Region] === value))
      return undefined;
    moved = true;
    return change;
  });
  return moved ? placed : cut;
}

function wholeClip(list: RegionList, channels: Channels): readonly Samples[] {
  const clip = channelsOfClip('softenBreaths', list, channels);
  for (let c = 0; c < clip.length; c++) checkFinite('softenBreaths', `channels[${c}]`, clip[c] as Samples);
  return clip;
}

/** Median power of the blocks between onset and offset: half of a breath is at least that loud. */
function medianPower({ powers, blockSamples }: HeardPower, region: Region): number {
  const from = Math.floor((region.onsetSample ?? region.startSample) / blockSamples);
  const to = Math.max(from + 1, Math.floor((region.offsetSample ?? region.endSample) / blockSamples));
  const sorted = powers.slice(from, to).sort();
  return sorted[sorted.length >> 1] as number;
}

/** How far the soft skirt of a breath goes from an edge towards `limit`: to where it meets the room or something that rises. */
function skirtEnd({ powers, blockSamples }: HeardPower, room: number, edge: number, limit: number): number {
  const step = limit < edge ? -blockSamples : blockSamples;
  const floor = room * 10 ** (ABOVE_ROOM_DB / 10);
  let least = Number.POSITIVE_INFINITY;
  let at = edge;
  while (step < 0 ? at + step >= limit : at + step <= limit) {
    const power = powers[Math.floor((at + step / 2) / blockSamples)] as number;
    if (power <= floor || power > least * 10 ** (RISE_DB / 10)) break;
    least = Math.min(least, power);
    at += step;
  }
  return at;
}
