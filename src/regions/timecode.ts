import { checkInteger, rangeError, typeError } from '../signal/check.js';
import { samplesPerFrame, type TimecodeRate } from './timecode-rate.js';
import { framesADay, framesToTimecode, parseTimecode } from './timecode-text.js';

/** A position as timecode. A frame is 33 to 42 ms, far too coarse for an edge: the rest is carried in samples. */
export interface Timecode {
  /** `HH:MM:SS:FF`, or `HH:MM:SS;FF` where numbers are dropped. */
  readonly text: string;
  /** Samples from the first sample of that frame, at least 0 and less than the frame has. */
  readonly remainderSamples: number;
}

/**
 * A sample position as timecode, counted from 00:00:00:00 at sample 0.
 *
 * Frame n lasts from n·F to (n + 1)·F samples, F = sampleRateHz / frames a second, as exact fractions: the frame of a
 * sample is floor(sample / F), and its first sample ceil(n·F). So nothing drifts, and `timecodeToSamples` gives every
 * position back. For a session that begins elsewhere, add its frames with `timecodeToFrames` and `framesToTimecode`.
 *
 * @param sample a position in samples, at least 0 and within the first day
 * @param sampleRateHz samples a second, a whole number, 8,000 to 192,000
 * @param rate the frame rate
 * @throws RangeError where a value is out of range; TypeError where it is of the wrong kind
 *
 * Source: SMPTE timecode (SMPTE ST 12-1; from memory); the rounding is ours.
 *
 * @example
 * import { samplesToTimecode } from 'lenition/regions';
 * samplesToTimecode(48000, 48000, '25'); // => { text: '00:00:01:00', remainderSamples: 0 }
 * samplesToTimecode(1601, 48000, '29.97'); // => { text: '00:00:00:00', remainderSamples: 1601 }
 * samplesToTimecode(1602, 48000, '29.97'); // => { text: '00:00:00:01', remainderSamples: 0 }
 */
export function samplesToTimecode(sample: number, sampleRateHz: number, rate: TimecodeRate): Timecode {
  const { over, under } = samplesPerFrame('samplesToTimecode', sampleRateHz, rate);
  const daySamples = firstSample(BigInt(framesADay(rate)), over, under);
  checkInteger('samplesToTimecode', 'sample', sample, 0, daySamples - 1);
  const frame = (BigInt(sample) * under) / over;
  return Object.freeze({
    text: framesToTimecode(Number(frame), rate),
    remainderSamples: sample - firstSample(frame, over, under),
  });
}

/**
 * The sample position of a timecode: ceil(n·F) + remainderSamples, the first sample of its frame and so many more.
 * The exact inverse of `samplesToTimecode`.
 *
 * @param timecode text and remainder, or the text alone for the first sample of the frame
 * @param sampleRateHz samples a second, a whole number, 8,000 to 192,000
 * @param rate the rate that the timecode was written at
 * @throws RangeError where the text is no timecode of this rate, or the remainder is not within its frame; TypeError
 * where a value is of the wrong kind
 *
 * @example
 * import { timecodeToSamples } from 'lenition/regions';
 * timecodeToSamples('01:00:00;00', 48000, '29.97 drop'); // => 172799828
 * timecodeToSamples({ text: '00:00:01:00', remainderSamples: 7 }, 48000, '25'); // => 48007
 */
export function timecodeToSamples(
  timecode: Timecode | string,
  sampleRateHz: number,
  rate: TimecodeRate,
): number {
  const name = 'timecodeToSamples';
  const { over, under } = samplesPerFrame(name, sampleRateHz, rate);
  if (typeof timecode !== 'string' && (typeof timecode !== 'object' || timecode === null))
    throw typeError(name, 'timecode', 'must be a text or a Timecode', timecode);
  const { text, remainderSamples } =
    typeof timecode === 'string' ? { text: timecode, remainderSamples: 0 } : timecode;
  const frame = BigInt(parseTimecode(name, text, rate));
  const first = firstSample(frame, over, under);
  const length = firstSample(frame + 1n, over, under) - first;
  checkInteger(name, 'remainderSamples', remainderSamples, 0, length - 1);
  return first + remainderSamples;
}

/**
 * How long some frames are, in samples: frames · sampleRateHz / rate, to the nearest sample, halves away from zero, so
 * that going forth and back ends where it began. Rounded once: five single frames of 29.97 are 8010 samples, five
 * frames in one go 8008.
 *
 * @param frames a whole number, negative allowed
 * @param sampleRateHz samples a second, a whole number, 8,000 to 192,000
 * @param rate the frame rate
 * @throws RangeError where a value is out of range or the result no safe integer; TypeError where it is of the wrong kind
 *
 * @example
 * import { framesToSamples } from 'lenition/regions';
 * framesToSamples(1, 48000, '25'); // => 1920
 * framesToSamples(-1, 48000, '29.97'); // => -1602
 * framesToSamples(5, 48000, '29.97'); // => 8008
 */
export function framesToSamples(frames: number, sampleRateHz: number, rate: TimecodeRate): number {
  return samplesOfFrames('framesToSamples', frames, sampleRateHz, rate);
}

/** The same for another function, whose name the messages then carry. */
export function samplesOfFrames(
  functionName: string,
  frames: number,
  sampleRateHz: number,
  rate: TimecodeRate,
): number {
  const { over, under } = samplesPerFrame(functionName, sampleRateHz, rate);
  checkInteger(functionName, 'frames', frames);
  const magnitude = (2n * BigInt(Math.abs(frames)) * over + under) / (2n * under);
  const samples = Number(magnitude);
  if (!Number.isSafeInteger(samples))
    throw rangeError(functionName, 'frames', 'must give a length within ±(2^53 − 1) samples', frames);
  return frames < 0 && samples > 0 ? -samples : samples;
}

/** ceil(frame · F). */
function firstSample(frame: bigint, over: bigint, under: bigint): number {
  return Number((frame * over + under - 1n) / under);
}
