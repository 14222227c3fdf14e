import { markdownTable } from '../table.js';

/** One goal and what came out; `measured` null where it could not be measured, with the reason in `note`. */
export interface GoalRow {
  readonly goal: string;
  readonly measured: number | null;
  readonly reach: number;
  readonly higherIsBetter: boolean;
  /** Decimals to print. */
  readonly digits: number;
  /** Why it was skipped, or over how much it was measured. */
  readonly note: string;
}

/** True where the goal is reached, false where it falls short, null where it was not measured. NaN falls short. */
export function isMet({ measured, reach, higherIsBetter }: GoalRow): boolean | null {
  if (measured === null) return null;
  return higherIsBetter ? measured >= reach : measured <= reach;
}

/** The table that the bench prints. */
export function goalRowTable(rows: readonly GoalRow[]): string {
  return markdownTable(
    ['goal', 'measured', 'reach', 'met'],
    rows.map((row) => {
      const met = isMet(row);
      const reach = `${row.higherIsBetter ? '>=' : '<='} ${row.reach}`;
      if (row.measured === null || met === null) return [row.goal, '-', reach, row.note];
      return [row.goal, row.measured.toFixed(row.digits), reach, `${met ? 'yes' : 'no'}, ${row.note}`];
    }),
  );
}

/** 1 where a goal falls short, else 0: what could not be measured does not fail. */
export function exitCodeOf(rows: readonly GoalRow[]): 0 | 1 {
  return rows.some((row) => isMet(row) === false) ? 1 : 0;
}
