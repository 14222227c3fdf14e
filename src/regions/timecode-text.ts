import { checkInteger, rangeError, typeError } from '../signal/check.js';
import { checkedRate, TIMECODE_RATES, type TimecodeRate } from './timecode-rate.js';

/** Numbers that are left out in one dropping minute, and the frames that ten minutes have. */
const DROPPED = 2;
const DROP_TEN_MINUTES = 17_982;
const DROP_MINUTE = 1798;

/**
 * The timecode of a frame: `HH:MM:SS:FF`, or `HH:MM:SS;FF` where numbers are dropped.
 *
 * @param frames frames since 00:00:00:00, 0 to a day less one frame
 * @param rate the frame rate
 * @throws RangeError where the count is negative, not whole or a day or more, or the rate is none of TIMECODE_RATES;
 * TypeError where a value is of the wrong kind
 *
 * Source: the rule of dropped numbers of SMPTE timecode (SMPTE ST 12-1; from memory).
 *
 * @example
 * import { framesToTimecode } from 'lenition/regions';
 * framesToTimecode(1799, '29.97 drop'); // => '00:00:59;29'
 * framesToTimecode(1800, '29.97 drop'); // => '00:01:00;02'
 * framesToTimecode(1800, '29.97'); // => '00:01:00:00'
 */
export function framesToTimecode(frames: number, rate: TimecodeRate): string {
  const { countedFrames, dropFrame } = checkedRate('framesToTimecode', rate);
  checkInteger('framesToTimecode', 'frames', frames, 0, framesADay(rate) - 1);
  const number = dropFrame ? frames + droppedBefore(frames) : frames;
  const seconds = Math.floor(number / countedFrames);
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const clock = parts.map(twoDigits).join(':');
  return `${clock}${dropFrame ? ';' : ':'}${twoDigits(number % countedFrames)}`;
}

/**
 * The frame that a timecode names, counted from 00:00:00:00.
 *
 * @param text `HH:MM:SS:FF`, with `;` before the frames where numbers are dropped
 * @param rate the frame rate
 * @throws RangeError where the text is no timecode of this rate: a wrong form, a part out of range, a `;` at a rate that
 * drops nothing (or none at one that does), a number that is dropped; TypeError where it is no text
 *
 * Source: the rule of dropped numbers of SMPTE timecode (SMPTE ST 12-1; from memory).
 *
 * @example
 * import { timecodeToFrames } from 'lenition/regions';
 * timecodeToFrames('00:10:00;00', '29.97 drop'); // => 17982
 * timecodeToFrames('00:10:00:00', '29.97'); // => 18000
 */
export function timecodeToFrames(text: string, rate: TimecodeRate): number {
  return parseTimecode('timecodeToFrames', text, rate);
}

/** The same for another function, whose name its errors then carry. */
export function parseTimecode(functionName: string, text: string, rate: TimecodeRate): number {
  const { countedFrames, dropFrame } = checkedRate(functionName, rate);
  if (typeof text !== 'string') throw typeError(functionName, 'text', 'must be a string', text);
  const mark = dropFrame ? ';' : ':';
  const match = /^(\d\d):(\d\d):(\d\d)([:;])(\d\d)$/.exec(text);
  if (match === null || match[4] !== mark)
    throw rangeError(functionName, 'text', `must be HH:MM:SS${mark}FF at ${rate}`, text);
  const [hours, minutes, seconds, frames] = [1, 2, 3, 5].map((part) => Number(match[part])) as Parts;
  if (hours > 23 || minutes > 59 || seconds > 59)
    throw rangeError(functionName, 'text', 'must be a time of one day', text);
  if (frames >= countedFrames)
    throw rangeError(functionName, 'text', `must have a frame below ${countedFrames} at ${rate}`, text);
  const number = countedFrames * (3600 * hours + 60 * minutes + seconds) + frames;
  if (!dropFrame) return number;
  if (frames < DROPPED && seconds === 0 && minutes % 10 !== 0)
    throw rangeError(functionName, 'text', 'must not be one of the numbers that are dropped', text);
  const pastMinutes = 60 * hours + minutes;
  return number - DROPPED * (pastMinutes - Math.floor(pastMinutes / 10));
}

type Parts = [hours: number, minutes: number, seconds: number, frames: number];

/** How many numbers were left out before this frame. */
function droppedBefore(frames: number): number {
  const tens = Math.floor(frames / DROP_TEN_MINUTES);
  const rest = frames - tens * DROP_TEN_MINUTES;
  // The first of ten minutes has all of its numbers.
  const minutes =
    rest < DROP_MINUTE + DROPPED ? 0 : 1 + Math.floor((rest - DROP_MINUTE - DROPPED) / DROP_MINUTE);
  return DROPPED * (9 * tens + minutes);
}

/** Frames from one 00:00:00:00 to the next. */
export function framesADay(rate: TimecodeRate): number {
  const { countedFrames, dropFrame } = TIMECODE_RATES[rate];
  return dropFrame ? 144 * DROP_TEN_MINUTES : 86_400 * countedFrames;
}

function twoDigits(value: number): string {
  return String(value).padStart(2, '0');
}
