import { markdownTable } from '../table.js';
import type { Spread } from './spread.js';

/** Ratios that the short form measures; less is better for each. */
export type ShortName =
  | 'analysis over raw transforms'
  | 'analysis with the engine over raw transforms'
  | 'analysis over meyda'
  | 'detection over raw transforms'
  | 'detection with the engine over raw transforms'
  | 'render over a plain copy'
  | 'gain of one of 50,000 over a map of the list'
  | 'streaming state over a minute of audio, %';

/**
 * What the short form measured when these were last written: medians of three runs on a machine of two cores with other work on
 * it. Whoever makes something faster writes the new figure here, so that it stays.
 */
export const WRITTEN: Readonly<Record<ShortName, number>> = {
  'analysis over raw transforms': 1.35,
  'analysis with the engine over raw transforms': 0.88,
  'analysis over meyda': 0.13,
  'detection over raw transforms': 1.35,
  'detection with the engine over raw transforms': 0.78,
  'render over a plain copy': 1.27,
  'gain of one of 50,000 over a map of the list': 2.8,
  'streaming state over a minute of audio, %': 4.5,
};

/**
 * How much more than written still passes. Medians of ratios in one process moved by up to a fifth between runs on a loaded machine,
 * and other processors weigh memory and arithmetic otherwise; a loop that lost its compiled form costs twice as much and more.
 */
export const MARGIN = 0.35;

/** The most that a ratio may come to. */
export function ceilingOf(written: number): number {
  return written * (1 + MARGIN);
}

/** Whether a ratio has grown beyond its ceiling. A ratio that is no number has. */
export function isRegression(measured: number, written: number): boolean {
  return !(measured <= ceilingOf(written));
}

/** What was measured beside what was written. */
export function ceilingTable(measured: Readonly<Record<ShortName, Spread>>): string {
  return markdownTable(
    ['ratio', 'measured', 'written', 'ceiling', 'held'],
    Object.entries(measured).map(([name, { median }]) => {
      const written = WRITTEN[name as ShortName];
      return [
        name,
        median.toPrecision(3),
        String(written),
        ceilingOf(written).toPrecision(3),
        isRegression(median, written) ? 'NO' : 'yes',
      ];
    }),
  );
}
