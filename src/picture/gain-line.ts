import { fadeGain } from '../gain/fade-gain.js';
import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import { amplitudeFromDecibels, decibelsFromAmplitude } from '../signal/decibels.js';
import type { Doubles } from '../signal/samples.js';

/** A corner of the drawn gain line. */
export interface GainLinePoint {
  readonly sample: number;
  readonly gainDb: number;
}

// A fade is bent in decibels; eight chords lie within a tenth of a decibel of a 6 dB fade.
const CHORDS = 8;

/**
 * The gain envelope between two samples as corners of straight lines in decibels.
 *
 * Fades that are straight in decibels need no corner of their own; the other shapes get chords, whose ends lie on the curve.
 *
 * @param breakpoints of the whole clip, from `gainBreakpoints`.
 * @param startSample and `endSample`: the range in samples; the line begins and ends exactly there.
 * @returns corners in time order; gain in dB. Two corners at one sample are a step.
 */
export function gainLine(
  breakpoints: readonly GainBreakpoint[],
  startSample: number,
  endSample: number,
): readonly GainLinePoint[] {
  const corners: GainLinePoint[] = [];
  const add = (sample: number, gainDb: number): void => {
    const last = corners[corners.length - 1];
    if (last === undefined || last.sample !== sample || last.gainDb !== gainDb)
      corners.push({ sample, gainDb });
  };
  for (let i = firstSegment(breakpoints, startSample); i + 1 < breakpoints.length; i++) {
    const p = breakpoints[i] as GainBreakpoint;
    const q = breakpoints[i + 1] as GainBreakpoint;
    if (p.sample > endSample || (p.sample === endSample && corners.length > 0)) break;
    const from = Math.max(p.sample, startSample);
    const to = Math.min(q.sample, endSample);
    if (p.sample === q.sample) {
      if (corners.length > 0) add(q.sample, q.gainDb);
      continue;
    }
    const chords = p.gainDb === q.gainDb || p.shape === 'decibel' ? 1 : CHORDS;
    for (let c = 0; c <= chords; c++) {
      const sample = from + ((to - from) * c) / chords;
      add(sample, segmentGainDb(p, q, sample));
    }
  }
  return corners;
}

/**
 * Least and greatest gain per column, for a range with more regions than pixels.
 *
 * @param breakpoints as in `gainLine`; each segment is monotone, so its ends within a column are its extremes.
 * @returns two tables of `columns` values in dB.
 */
export function gainColumns(
  breakpoints: readonly GainBreakpoint[],
  startSample: number,
  endSample: number,
  columns: number,
): { readonly leastDb: Doubles; readonly mostDb: Doubles } {
  const leastDb = new Float64Array(columns).fill(Number.POSITIVE_INFINITY);
  const mostDb = new Float64Array(columns).fill(Number.NEGATIVE_INFINITY);
  const perColumn = (endSample - startSample) / columns;
  const column = (sample: number): number =>
    Math.min(columns - 1, Math.max(0, Math.floor((sample - startSample) / perColumn)));
  for (let i = firstSegment(breakpoints, startSample); i + 1 < breakpoints.length; i++) {
    const p = breakpoints[i] as GainBreakpoint;
    const q = breakpoints[i + 1] as GainBreakpoint;
    if (p.sample >= endSample) break;
    if (p.sample === q.sample) continue;
    const from = Math.max(p.sample, startSample);
    const to = Math.min(q.sample, endSample);
    const last = column(to);
    for (let c = column(from); c <= last; c++) {
      const a = Math.max(from, startSample + c * perColumn);
      const b = Math.min(to, startSample + (c + 1) * perColumn);
      if (b <= a) continue;
      for (const gainDb of [segmentGainDb(p, q, a), segmentGainDb(p, q, b)]) {
        leastDb[c] = Math.min(leastDb[c] as number, gainDb);
        mostDb[c] = Math.max(mostDb[c] as number, gainDb);
      }
    }
  }
  return { leastDb, mostDb };
}

/** Index of the last breakpoint at or before `sample`. */
function firstSegment(breakpoints: readonly GainBreakpoint[], sample: number): number {
  let low = 0;
  let high = breakpoints.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((breakpoints[middle] as GainBreakpoint).sample <= sample) low = middle + 1;
    else high = middle;
  }
  return Math.max(0, low - 1);
}

function segmentGainDb(p: GainBreakpoint, q: GainBreakpoint, sample: number): number {
  if (p.gainDb === q.gainDb || sample <= p.sample) return p.gainDb;
  if (sample >= q.sample) return q.gainDb;
  const length = q.sample - p.sample;
  const from = amplitudeFromDecibels(p.gainDb);
  const to = amplitudeFromDecibels(q.gainDb);
  return decibelsFromAmplitude(fadeGain(sample - p.sample, length, from, to, p.shape));
}
