import { type GainBreakpoint, gainBreakpoints } from '../gain/gain-breakpoints.js';
import { assertRegionList } from '../regions/check-region-list.js';
import type { RegionList } from '../regions/region.js';
import { samplesToSeconds } from '../regions/time.js';
import { checkChoice, checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { GAIN_CSV_COLUMNS, MOST_LINES_IN_GAIN_CSV } from './gain-csv-format.js';
import { type StraightLaw, straightPoints } from './straight-points.js';

/** Settings of gainToCsv. */
export interface GainCsvOptions {
  /** How gain goes from each line to the next: `decibel`, straight in dB, or `linear`, straight in amplitude. */
  readonly law?: StraightLaw;
  /** How far a straight line may depart from a fade of another shape, in dB, 0 or more; 0 gives a line for each sample of it. */
  readonly errorDb?: number;
}

/** Defaults of gainToCsv: straight in decibels, as automation lanes are drawn, to a tenth of a decibel. */
export const DEFAULT_GAIN_CSV_OPTIONS: Readonly<Required<GainCsvOptions>> = Object.freeze({
  law: 'decibel',
  errorDb: 0.1,
});

/**
 * The gain of a clip as a table of breakpoints in CSV: a header, then a line for each point.
 *
 * `seconds` from the start of the clip, for people and spreadsheets; `sample`, the same exactly; `gainDb`; `law`, how the gain goes from this line to the next:
 * `decibel`, straight in dB, or `linear`, straight in amplitude. The first line is sample 0, the last the clip's length. Two lines at
 * one sample are a step: the later one holds from there on. A mute is the finite −120 dB. Numbers are in the shortest form that reads back as the same
 * double, with a decimal point, lines end in CR LF.
 *
 * The table is exact for fades whose shape is the law's and for gain that stands still or steps. Fades of another shape get lines in between, on the curve,
 * so that at every sample the table is within errorDb of gainAt; the bound is derived from the curvature of the fade, and holds down to the mute.
 * A 5 ms raised cosine to −6 dB takes 5 lines more at 0.1 dB.
 *
 * Lost: regions with a band (their gain is not that of the whole spectrum), kinds, labels and whatever else a region knows; fade shapes, when
 * read back, are many straight pieces.
 *
 * @param list - The regions of a clip; it is checked. For a send of another depth pass gainAtDepth's list. No regions: two lines at 0 dB. An empty clip: one line.
 * @param options - Law and error.
 * @returns The text, plain ASCII.
 * @throws RangeError or TypeError where the list breaks a rule of checkRegionList or an option is outside its range; RangeError where
 *   there would be more than MOST_LINES_IN_GAIN_CSV lines.
 *
 * Source of the form: Y. Shafranovich, "Common Format and MIME Type for Comma-Separated Values (CSV) Files", RFC 4180, 2005, section 2.
 *
 * @example
 * import { gainToCsv } from 'lenition/exchange';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 });
 * const list = insertRegion(clip, {
 *   startSample: 24000, endSample: 28800, gainDb: -6, fadeInSamples: 240, fadeOutSamples: 240, fadeShape: 'decibel',
 * });
 * gainToCsv(list).split('\r\n').slice(0, 4);
 * // => ['seconds,sample,gainDb,law', '0,0,0,decibel', '0.5,24000,0,decibel', '0.505,24240,-6,decibel']
 */
export function gainToCsv(list: RegionList, options: GainCsvOptions = {}): string {
  assertRegionList('gainToCsv', list);
  const { law, errorDb } = checkedOptions('gainToCsv', DEFAULT_GAIN_CSV_OPTIONS, options);
  checkChoice('gainToCsv', 'law', law, ['decibel', 'linear']);
  checkNumber('gainToCsv', 'errorDb', errorDb, 0);
  const written: GainBreakpoint[] = [];
  const add = (point: GainBreakpoint): void => {
    // One line is the header's.
    if (written.length + 1 >= MOST_LINES_IN_GAIN_CSV)
      throw rangeError('gainToCsv', 'errorDb', `must need at most ${MOST_LINES_IN_GAIN_CSV} lines`, errorDb);
    written.push(point);
  };
  const points = gainBreakpoints(list);
  points.forEach((point, index) => {
    add(point);
    const next = points[index + 1];
    if (next !== undefined) for (const between of straightPoints(point, next, law, errorDb)) add(between);
  });
  const lines = written.map(
    ({ sample, gainDb }) => `${samplesToSeconds(sample, list.sampleRateHz)},${sample},${gainDb},${law}`,
  );
  lines.unshift(GAIN_CSV_COLUMNS.join(','));
  return `${lines.join('\r\n')}\r\n`;
}
