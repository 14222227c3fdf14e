import type { ClipOptions } from '../regions/create-region-list.js';
import { draftToRegion } from '../regions/insert-region.js';
import { REGION_KINDS, type RegionKind, type RegionReason } from '../regions/region.js';
import { secondsToSamples } from '../regions/time.js';
import { checkInteger, checkObject, checkSampleRate } from '../signal/check.js';
import type { RegionRow } from './list-from-rows.js';
import type { NoteProblem } from './parse-json.js';

/** Throws unless the clip that a caller states is sound. */
export function checkClip(functionName: string, clip: ClipOptions, parameter: string = 'options'): void {
  checkObject(functionName, parameter, clip);
  checkSampleRate(functionName, clip.sampleRateHz);
  checkInteger(functionName, 'lengthSamples', clip.lengthSamples, 0);
}

/** A position in the clip; NaN, which the rules of regions report, where the time is none or too large for a position. */
export function positionAt(seconds: unknown, sampleRateHz: number): number {
  if (typeof seconds !== 'number' || !(Math.abs(seconds) * sampleRateHz < Number.MAX_SAFE_INTEGER))
    return NaN;
  return secondsToSamples(seconds, sampleRateHz);
}

/**
 * A region made of what other programs' files say: two times and a text. Its kind is the text where that names one. Times
 * rounded to milliseconds may end just behind the clip, so an end up to 1 ms behind it is taken for the end of the clip.
 */
export function regionFromTimes(
  startSeconds: unknown,
  endSeconds: unknown,
  label: string,
  clip: ClipOptions,
  reason: RegionReason,
): RegionRow['region'] {
  const { sampleRateHz, lengthSamples } = clip;
  const end = positionAt(endSeconds, sampleRateHz);
  const isKind = (REGION_KINDS as readonly string[]).includes(label);
  const draft = {
    kind: isKind ? (label as RegionKind) : ('custom' as const),
    startSample: positionAt(startSeconds, sampleRateHz),
    endSample: end > lengthSamples && end - lengthSamples <= sampleRateHz / 1000 ? lengthSamples : end,
    label,
    reason,
  };
  return { ...draftToRegion(draft, 0) };
}

/** Numbers regions made of times from 1 on, in the order of their lines. */
export function numbered(rows: readonly RegionRow[]): RegionRow[] {
  return rows.map(({ line, region }, i) => ({ line, region: { ...region, id: i + 1 } }));
}

/**
 * Notes where the time that people read and the position that counts lie further apart than rounding puts them: someone
 * changed one of the two.
 */
export function checkAgreement(
  seconds: unknown,
  positionSamples: unknown,
  sampleRateHz: number,
  toleranceSeconds: number,
  path: string,
  note: NoteProblem,
): void {
  if (typeof seconds !== 'number') {
    note(path, 'must be a number', String(seconds));
    return;
  }
  // A position that is none is reported by the rules of regions.
  if (typeof positionSamples !== 'number') return;
  const expected = positionSamples / sampleRateHz;
  if (Math.abs(seconds - expected) <= toleranceSeconds) return;
  const rule = `must agree with its position in samples (${expected.toFixed(6)} s) within ${toleranceSeconds} s`;
  note(path, rule, String(seconds));
}
