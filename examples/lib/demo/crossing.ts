import { ease } from './fade.js';
import type { TimedPhone } from './schedule.js';

/** The stretch from the middle of one phone to the middle of the next, in which the first turns into the second. */
export interface Crossing {
  readonly before: TimedPhone;
  readonly after: TimedPhone;
  readonly fromSample: number;
  readonly toSample: number;
  /** How far the blend reaches into each phone, in samples. */
  readonly reachBefore: number;
  readonly reachAfter: number;
}

/**
 * Cuts a take into crossings. A blend reaches to the middle of a phone at most, so there is one at a time.
 *
 * @param blendSeconds Wished length of the blend of two phones.
 */
export function crossings(
  phones: readonly TimedPhone[],
  sampleRateHz: number,
  blendSeconds: (before: TimedPhone, after: TimedPhone) => number,
): readonly Crossing[] {
  return phones.slice(1).map((after, k) => {
    const before = phones[k]!;
    const reach = (blendSeconds(before, after) * sampleRateHz) / 2;
    return {
      before,
      after,
      fromSample: k === 0 ? 0 : middleOf(before),
      toSample: k === phones.length - 2 ? after.endSample : middleOf(after),
      reachBefore: Math.min(reach, lengthOf(before) / 2),
      reachAfter: Math.min(reach, lengthOf(after) / 2),
    };
  });
}

/** How much of the later phone there is at a sample, 0 to 1; exactly half on the boundary. */
export function blendAt({ after, reachBefore, reachAfter }: Crossing, sample: number): number {
  const distance = sample - after.startSample;
  return ease(0.5 + (0.5 * distance) / (distance < 0 ? reachBefore : reachAfter));
}

function lengthOf(phone: TimedPhone): number {
  return phone.endSample - phone.startSample;
}

function middleOf(phone: TimedPhone): number {
  return Math.floor((phone.startSample + phone.endSample) / 2);
}
