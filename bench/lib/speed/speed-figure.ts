import { markdownTable } from '../table.js';
import type { Spread } from './spread.js';

/** A figure with what is to be reached and what is aimed at. */
export interface SpeedFigure {
  readonly name: string;
  /** Null where it could not be measured; `note` says why. */
  readonly measured: Spread | null;
  readonly reach: number;
  readonly aim: number;
  readonly higherIsBetter: boolean;
  /** Decimals to print. */
  readonly digits: number;
  /** Over what it was measured. */
  readonly note: string;
}

/** How far a figure got. A median that is no number got nowhere. */
export function verdictOf({
  measured,
  reach,
  aim,
  higherIsBetter,
}: SpeedFigure): 'aim' | 'reach' | 'no' | 'not measured' {
  if (measured === null) return 'not measured';
  const meets = (bound: number): boolean =>
    higherIsBetter ? measured.median >= bound : measured.median <= bound;
  return meets(aim) ? 'aim' : meets(reach) ? 'reach' : 'no';
}

/** The table of goals, and below it over what each figure was measured. */
export function speedFigureTable(figures: readonly SpeedFigure[]): string {
  const table = markdownTable(
    ['figure', 'measured', 'middle half', 'reach', 'aim', 'met'],
    figures.map((figure) => {
      const { name, measured, reach, aim, digits } = figure;
      return [
        name,
        measured?.median.toFixed(digits) ?? '–',
        measured === null || measured.rounds === 1 ? '–' : middleHalf(measured, digits),
        String(reach),
        String(aim),
        verdictOf(figure),
      ];
    }),
  );
  return `${table}\n\n${figures.map(({ name, note }) => `- ${name}: ${note}`).join('\n')}`;
}

/** The two values between which half of the rounds lie. */
export function middleHalf({ low, high }: Spread, digits: number): string {
  return `${low.toFixed(digits)}–${high.toFixed(digits)}`;
}

/** The median with those two in brackets. */
export function spreadText(spread: Spread, digits: number): string {
  return `${spread.median.toFixed(digits)} (${middleHalf(spread, digits)})`;
}

/** 1 where a reach falls short, else 0: what could not be measured does not fail. */
export function exitCodeOf(figures: readonly SpeedFigure[]): 0 | 1 {
  return figures.some((figure) => verdictOf(figure) === 'no') ? 1 : 0;
}
