import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import { LEAST_GAIN_DB, MOST_GAIN_DB } from '../regions/region.js';
import { checkObject, checkSampleRate, describe } from '../signal/check.js';
import { csvRecords } from './csv-records.js';
import { GAIN_CSV_COLUMNS, MOST_LINES_IN_GAIN_CSV } from './gain-csv-format.js';
import { numberOrNaN } from './number-from-text.js';
import { collectProblems, type NoteProblem, readText } from './parse-json.js';
import { MOST_CHARACTERS_IN_FILE } from './region-format.js';
import type { Result } from './result.js';

/** Settings of gainFromCsv. */
export interface GainFromCsvOptions {
  /** Samples a second of the clip, 8,000 to 192,000; the table's two times must agree at this rate. */
  readonly sampleRateHz: number;
}

/**
 * The breakpoints of a gain table, as gainToCsv writes it. Never throws for what is in the text; reports every problem, up to 100, by
 * its line: a header with other names, a line without its four fields, a broken number, a gain outside LEAST_GAIN_DB to MOST_GAIN_DB, a law that is not
 * `decibel` or `linear`, samples that run backwards or do not begin at 0, a third line at one sample, and `seconds` that are more than half a sample
 * away from `sample`: who edits one of the two must edit both, and a table of another rate is not taken for this one.
 *
 * `sample` is what counts. Laws may differ from line to line. Line ends may be LF alone, empty lines are passed over, one byte-order mark
 * at the start too. Play the points with breakpointGainAt.
 *
 * @param text - The text of the table; anything but a string is a problem, not an error. At most 2^27 characters and MOST_LINES_IN_GAIN_CSV lines.
 * @param options - The clip's rate.
 * @returns Frozen points as gainBreakpoints gives them, or the problems.
 * @throws RangeError or TypeError for a rate outside its range.
 *
 * Source: see gainToCsv.
 *
 * @example
 * import { gainFromCsv } from 'lenition/exchange';
 * const text = 'seconds,sample,gainDb,law\r\n0,0,0,decibel\r\n0.5,24000,-6,decibel\r\n1,44100,0,decibel\r\n';
 * const result = gainFromCsv(text, { sampleRateHz: 48000 });
 * result.ok ? [] : result.problems.map(({ path, received }) => `${path}: ${received}`); // => ['line 4, seconds: "1"']
 */
export function gainFromCsv(text: unknown, options: GainFromCsvOptions): Result<readonly GainBreakpoint[]> {
  checkObject('gainFromCsv', 'options', options);
  const { sampleRateHz } = options;
  checkSampleRate('gainFromCsv', sampleRateHz);
  const sound = readText(text, MOST_CHARACTERS_IN_FILE);
  return sound.ok ? collectProblems((note) => readTable(sound.value, sampleRateHz, note)) : sound;
}

function readTable(
  text: string,
  sampleRateHz: number,
  note: NoteProblem,
): readonly GainBreakpoint[] | undefined {
  const points: GainBreakpoint[] = [];
  let header = false;
  for (const { line, fields, broken } of csvRecords(text, GAIN_CSV_COLUMNS.length)) {
    const at = `line ${line}`;
    if (!header) {
      header = true;
      if (fields.join() === GAIN_CSV_COLUMNS.join() && broken === undefined) continue;
      // Columns of other names mean other things.
      note(at, `must be ${GAIN_CSV_COLUMNS.join(',')}`, fields.join());
      return undefined;
    }
    if (line > MOST_LINES_IN_GAIN_CSV) {
      note(at, `must be at most ${MOST_LINES_IN_GAIN_CSV} lines`, 'more');
      return undefined;
    }
    if (broken !== undefined || fields.length < GAIN_CSV_COLUMNS.length) {
      note(at, broken ?? `must have ${GAIN_CSV_COLUMNS.length} fields`, fields.join());
      continue;
    }
    const point = readPoint(fields, at, sampleRateHz, note);
    if (point === undefined) continue;
    checkOrder(points, point, `${at}, sample`, note);
    points.push(point);
  }
  if (points.length === 0) note('$', 'must hold at least one point', `${text.length} characters`);
  return Object.freeze(points);
}

function readPoint(
  fields: readonly string[],
  at: string,
  sampleRateHz: number,
  note: NoteProblem,
): GainBreakpoint | undefined {
  const [seconds = '', sample = '', gain = '', law = ''] = fields;
  const position = /^\d{1,16}$/.test(sample) ? Number(sample) : Number.NaN;
  const gainDb = numberOrNaN(gain);
  let sound = true;
  const breach = (column: string, rule: string, received: string): void => {
    sound = false;
    note(`${at}, ${column}`, rule, describe(received));
  };
  if (!Number.isSafeInteger(position)) breach('sample', 'must be a whole number of at least 0', sample);
  // NaN fails every comparison, so the rules are asked for and not their breach. Far out a double cannot tell half samples apart.
  else if (!(Math.abs(numberOrNaN(seconds) * sampleRateHz - position) <= 0.5 + position * 1e-15))
    breach('seconds', `must be sample ${position} at ${sampleRateHz} Hz`, seconds);
  if (!(gainDb >= LEAST_GAIN_DB && gainDb <= MOST_GAIN_DB))
    breach('gainDb', `must be a number within [${LEAST_GAIN_DB}, ${MOST_GAIN_DB}]`, gain);
  if (law !== 'decibel' && law !== 'linear') breach('law', 'must be decibel or linear', law);
  else if (sound) return Object.freeze({ sample: position, gainDb, shape: law });
  return undefined;
}

function checkOrder(
  points: readonly GainBreakpoint[],
  { sample }: GainBreakpoint,
  path: string,
  note: NoteProblem,
): void {
  const last = points.at(-1)?.sample;
  if (last === undefined) {
    if (sample !== 0) note(path, 'must be 0 in the first point', String(sample));
  } else if (sample < last) note(path, `must not lie before ${last}, the one above`, String(sample));
  else if (sample === points.at(-2)?.sample) note(path, 'must not stand in a third line', String(sample));
}
