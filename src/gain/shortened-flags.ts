import { checkLevels } from '../levels/check-levels.js';
import type { LevelTable, SibilantSound } from '../levels/region-level.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkNumber } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { decibelsFromAmplitude } from '../signal/decibels.js';
import { gainCurveInto } from './gain-curve.js';

/** Settings of shortenedFlags; what is left out has its value from DEFAULT_SHORTENED_OPTIONS. */
export interface ShortenedOptions {
  /** How much of an s stays near its level, in seconds, 0 to 1. */
  readonly sKeptSeconds?: number;
  /** How much of an sh stays near its level, in seconds, 0 to 1. */
  readonly shKeptSeconds?: number;
}

/**
 * Defaults of shortenedFlags: 50 ms of an s and 30 ms of an sh, the least noise that about 70 % of listeners still took for
 * them (identification of truncated fricatives, from its abstract and notes on it).
 */
export const DEFAULT_SHORTENED_OPTIONS: Readonly<Required<ShortenedOptions>> = Object.freeze({
  sKeptSeconds: 0.05,
  shKeptSeconds: 0.03,
});

/** A level that stands for less than this in all is the flank of a fade, not a part of the sound. */
const LEAST_PART_SECONDS = 0.01;
/** What lies at most this far below the loudest part is near its level. */
const NEAR_DB = 3;
/** What lies this far below is as good as gone: about the cut that brings s down to th (14.6 dB, Behrens and Blumstein 1988, from notes on it). */
const GONE_DB = 15;

/** A sibilant of which a cut may leave too short a piece. */
export interface ShortenedFlag {
  /** The first region of the sound that has the gain. */
  readonly id: number;
  /** How much of the noise stays near its loudest part, in seconds. */
  readonly keptSeconds: number;
  /** How much would be enough, in seconds. */
  readonly enoughSeconds: number;
  /** What may be heard, in words; never a certainty. */
  readonly message: string;
}

/**
 * The sibilants of which a mute or an early fade leaves so short a piece that it may be heard as a stop.
 *
 * The gain curve is looked at over the noise, from onset to offset. Its *loudest part* is the highest gain that 10 ms of
 * the noise have or pass, in one place or several: less than that is the flank of a fade. What lies within 3 dB of it is *kept*,
 * what lies 15 dB or more below it is *gone*. A sound is flagged where something is gone and less than 50 ms (sh: 30 ms) is kept.
 * So the same cut over all of the noise is never flagged, however deep (see overCutFlags for that), nor is the mute of a whole sound.
 *
 * A noise that was split, or in which a range was marked, counts as one: touching regions follow each other as long as the measured
 * edges between them are missing. Where onset or offset is unknown, the region's own end stands for it. The noise is taken as
 * even, so that its length under a gain is what counts. A region with a band counts as untouched: the rest of the noise stays.
 *
 * @param list - The regions of a take with their gains.
 * @param levels - Tells s-like from sh-like; a sibilant that it does not hold counts as s-like.
 * @param options - How much is enough.
 * @returns A frozen array in order of time.
 * @throws RangeError or TypeError for lengths out of range, or a table of another rate.
 *
 * Source: identification of truncated fricatives (from its abstract and notes on it; least frication for about 70 % right); what counts as
 * kept and gone is this project's choice.
 *
 * @example
 * import { shortenedFlags } from 'lenition/gain';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * // 100 ms of noise, of which all but the first 40 ms is muted
 * const list = insertRegion(empty, {
 *   kind: 'sibilant', onsetSample: 4800, offsetSample: 9600, startSample: 6720, endSample: 9600, gainDb: -120,
 * });
 * const levels = { sampleRateHz: 48000, byId: new Map(), voiceDbfs: null };
 * shortenedFlags(list, levels)[0]?.message; // => '40 ms of it stay near their level: may be heard as a stop, such as t'
 */
export function shortenedFlags(
  list: RegionList,
  levels: LevelTable,
  options: ShortenedOptions = {},
): readonly ShortenedFlag[] {
  const settings = checkedOptions('shortenedFlags', DEFAULT_SHORTENED_OPTIONS, options);
  checkNumber('shortenedFlags', 'sKeptSeconds', settings.sKeptSeconds, 0, 1);
  checkNumber('shortenedFlags', 'shKeptSeconds', settings.shKeptSeconds, 0, 1);
  checkLevels('shortenedFlags', list, levels);
  const flags: ShortenedFlag[] = [];
  for (let first = 0; first < list.regions.length; ) {
    const past = endOfSound(list.regions, first);
    const regions = list.regions.slice(first, past);
    first = past;
    const sibilant = regions.find(({ kind }) => kind === 'sibilant');
    const active = regions.find(({ bypassed, gainDb }) => !bypassed && gainDb < 0);
    if (sibilant === undefined || active === undefined) continue;
    const sound: SibilantSound = levels.byId.get(sibilant.id)?.sound ?? 's-like';
    const enoughSeconds = sound === 's-like' ? settings.sKeptSeconds : settings.shKeptSeconds;
    const keptSeconds = keptPart(list, regions);
    if (keptSeconds === null || keptSeconds >= enoughSeconds) continue;
    const message = `${Math.round(1000 * keptSeconds)} ms of it stay near their level: may be heard as a stop, such as t`;
    flags.push(Object.freeze({ id: active.id, keptSeconds, enoughSeconds, message }));
  }
  return Object.freeze(flags);
}

/** Index past the last region of the sound that begins with region `first`. */
function endOfSound(regions: readonly Region[], first: number): number {
  let past = first + 1;
  for (; past < regions.length; past++) {
    const before = regions[past - 1] as Region;
    const after = regions[past] as Region;
    const joined = before.offsetSample === null && after.onsetSample === null;
    if (!joined || before.endSample !== after.startSample) break;
  }
  return past;
}

/** Seconds of a sound that are kept; null where nothing of it is gone. */
function keptPart(list: RegionList, regions: readonly Region[]): number | null {
  const earliest = regions[0] as Region;
  const latest = regions[regions.length - 1] as Region;
  const start = earliest.onsetSample ?? earliest.startSample;
  const end = latest.offsetSample ?? latest.endSample;
  if (end <= start) return null;
  const curve = new Float64Array(end - start);
  gainCurveInto(curve, list, start);
  const falling = curve.sort().reverse();
  const part = Math.min(Math.round(LEAST_PART_SECONDS * list.sampleRateHz), falling.length);
  const loudestDb = decibelsFromAmplitude(falling[part - 1] as number);
  if (decibelsFromAmplitude(falling[falling.length - 1] as number) > loudestDb - GONE_DB) return null;
  const near = (gain: number): boolean => decibelsFromAmplitude(gain) >= loudestDb - NEAR_DB;
  return falling.filter(near).length / list.sampleRateHz;
}
