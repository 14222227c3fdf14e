import { checkChoice, checkInteger } from '../signal/check.js';

/** How pictures are counted; `drop` leaves out numbers so that the count keeps up with the clock. */
export type TimecodeRate = '23.976' | '24' | '25' | '29.97' | '29.97 drop' | '30';

/** One rate: numerator/denominator frames a second, exactly. */
export interface FrameRate {
  /** Frames in `denominator` seconds. */
  readonly numerator: number;
  /** Seconds in which `numerator` frames pass: 1, or 1001. */
  readonly denominator: number;
  /** Frame numbers that a counted second has. */
  readonly countedFrames: number;
  /** True: numbers 0 and 1 of each minute are left out, except in every tenth minute. No frame is lost, only its number. */
  readonly dropFrame: boolean;
}

function frameRate(countedFrames: number, slowed: boolean, dropFrame: boolean): FrameRate {
  // 23.976 and 29.97 are names: the rates are 24 and 30 slowed by 1000/1001.
  return Object.freeze({
    numerator: slowed ? countedFrames * 1000 : countedFrames,
    denominator: slowed ? 1001 : 1,
    countedFrames,
    dropFrame,
  });
}

/**
 * Every rate as an exact fraction: 24000/1001, 24, 25, 30000/1001 (twice) and 30 frames a second.
 *
 * Source: the rates and the rule of dropped numbers of SMPTE timecode (SMPTE ST 12-1; from memory).
 *
 * @example
 * import { TIMECODE_RATES } from 'lenition/regions';
 * TIMECODE_RATES['29.97']; // => { numerator: 30000, denominator: 1001, countedFrames: 30, dropFrame: false }
 */
export const TIMECODE_RATES: Readonly<Record<TimecodeRate, FrameRate>> = Object.freeze({
  '23.976': frameRate(24, true, false),
  '24': frameRate(24, false, false),
  '25': frameRate(25, false, false),
  '29.97': frameRate(30, true, false),
  '29.97 drop': frameRate(30, true, true),
  '30': frameRate(30, false, false),
});

const RATE_NAMES = Object.freeze(Object.keys(TIMECODE_RATES)) as readonly TimecodeRate[];

/** The rate of that name; throws where there is none. */
export function checkedRate(functionName: string, rate: unknown): FrameRate {
  checkChoice(functionName, 'rate', rate, RATE_NAMES);
  return TIMECODE_RATES[rate];
}

/**
 * Samples a frame as an exact fraction: `over / under`. The sample rate must be a whole number, since no other has an
 * exact one.
 */
export function samplesPerFrame(
  functionName: string,
  sampleRateHz: number,
  rate: TimecodeRate,
): { readonly over: bigint; readonly under: bigint } {
  const { numerator, denominator } = checkedRate(functionName, rate);
  checkInteger(functionName, 'sampleRateHz', sampleRateHz, 8000, 192000);
  return { over: BigInt(sampleRateHz) * BigInt(denominator), under: BigInt(numerator) };
}
