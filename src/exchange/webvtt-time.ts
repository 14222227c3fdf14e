/**
 * A time as a WebVTT timestamp, `hh:mm:ss.ttt` with as many digits of hours as it takes, always with hours (W3C, WebVTT,
 * section 4.1).
 */
export function webVttTimestamp(milliseconds: number): string {
  const seconds = Math.floor(milliseconds / 1000);
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const clock = parts.map((part) => String(part).padStart(2, '0')).join(':');
  return `${clock}.${String(milliseconds - 1000 * seconds).padStart(3, '0')}`;
}

/** The times of a cue, in seconds. */
export interface CueTimes {
  readonly startSeconds: number;
  readonly endSeconds: number;
}

/** Longest line of times that is read: settings of a cue may follow the times, and do not count. */
const MOST_CHARACTERS_IN_TIMES = 1000;

/**
 * The times that a line with an arrow states, read as leniently as W3C, WebVTT, section 6.3, reads them: hours of any number of digits or
 * none, white space or none around the arrow, settings after them passed over. Undefined where the section reads no cue.
 */
export function readCueTimes(line: string): CueTimes | undefined {
  const match = CUE_TIMES.exec(line.slice(0, MOST_CHARACTERS_IN_TIMES));
  if (match === null) return undefined;
  return { startSeconds: secondsOf(match.slice(1, 5)), endSeconds: secondsOf(match.slice(5, 9)) };
}

const TIMESTAMP = '(?:(\\d+):)?([0-5]\\d):([0-5]\\d)\\.(\\d{3})(?!\\d)';
const CUE_TIMES = new RegExp(`^[ \\t\\f]*${TIMESTAMP}[ \\t\\f]*-->[ \\t\\f]*${TIMESTAMP}`);

function secondsOf([hours, minutes, seconds, thousandths]: readonly (string | undefined)[]): number {
  const whole = 3600 * Number(hours ?? 0) + 60 * Number(minutes) + Number(seconds);
  // One division of whole milliseconds: 0.1 + 0.002 would not be the double nearest to 0.102.
  return (1000 * whole + Number(thousandths)) / 1000;
}
