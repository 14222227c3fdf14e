/** How many faults of a report were noticed. */
export interface Mutant {
  readonly id: string;
  readonly mutatorName: string;
  readonly replacement: string;
  readonly status: string;
  readonly statusReason?: string;
  readonly location: { readonly start: Place; readonly end: Place };
}

interface Place {
  readonly line: number;
  readonly column: number;
}

export interface Report {
  readonly files: Readonly<Record<string, { readonly source: string; readonly mutants: readonly Mutant[] }>>;
}

/** Why the runner ended early: in-process-runner.mjs. */
const NO_TIME = 'no time left';
const TOO_LONG = 'no test noticed it in time';

/** Stryker says so where a fault was run through a hundred times as often as the code without it. */
const isEndless = ({ status, statusReason }: Mutant): boolean =>
  status === 'Timeout' && (statusReason ?? '').startsWith('Hit limit');
/** On a machine that does much else this may be a slow test, or an endless loop that Stryker does not see. */
const isCutOff = ({ status, statusReason }: Mutant): boolean =>
  status === 'Timeout' && statusReason === undefined;
const isUntried = ({ statusReason }: Mutant): boolean => statusReason === NO_TIME;
const isGivenUp = ({ statusReason }: Mutant): boolean => statusReason === TOO_LONG;
const isUnrun = ({ status }: Mutant): boolean => status === 'NoCoverage';

export const isNoticed = (mutant: Mutant): boolean => mutant.status === 'Killed' || isEndless(mutant);
export const isMissed = (mutant: Mutant): boolean =>
  mutant.status === 'Survived' || isUnrun(mutant) || isGivenUp(mutant);

export interface Score {
  readonly text: string;
  readonly noticed: number;
  /** Those noticed and those missed: what had no time, or was cut off by the clock, is neither. */
  readonly tried: number;
}

/** One line: so many noticed of so many. */
export function score(name: string, mutants: readonly Mutant[]): Score {
  const count = (test: (mutant: Mutant) => boolean): number => mutants.filter(test).length;
  const noticed = count(isNoticed);
  const missed = count(isMissed);
  const tried = noticed + missed;
  const percent = tried === 0 ? 100 : (100 * noticed) / tried;
  const apart = [
    [count(isCutOff), 'cut off by the clock'],
    [count(isUntried), 'had no time'],
  ] as const;
  const text =
    `${name.padEnd(10)} ${percent.toFixed(1).padStart(5)} %  ${noticed} of ${tried} noticed` +
    ` (${count(isEndless)} by endless loops), ${missed} missed` +
    ` (${count(isUnrun)} in lines that no test runs, ${count(isGivenUp)} given up)` +
    apart.map(([number, what]) => (number === 0 ? '' : `; ${number} ${what}`)).join('');
  return { text, noticed, tried };
}
