import type { PhoneFigures } from '../../src/evaluation/phone-figures.js';
import type { FolderScore } from './score-folder.js';
import { markdownTable } from './table.js';

/** A worst folder counts only from this many sibilant labels: below, one mistake is too much of a figure. */
export const LEAST_LABELS = 100;

/** What is aimed at. `measure` gives null where the folders at hand cannot say. */
interface Goal {
  readonly name: string;
  readonly reach: number;
  readonly aim: number;
  readonly higherIsBetter: boolean;
  readonly measure: (scores: readonly FolderScore[]) => number | null;
}

const STOP_FOLDERS = ['kathleen_en48k', 'an4', 'pjs_singing'];
const BREATH_FOLDERS = ['milk_breaths'];
const EDGE_FOLDERS = ['splice', 'splice16k'];

type Pick = (figures: PhoneFigures) => number | null;

function values(scores: readonly FolderScore[], pick: Pick, folders?: readonly string[]): number[] {
  return scores
    .filter(({ folder }) => folders === undefined || folders.includes(folder))
    .flatMap(({ figures }) => pick(figures) ?? []);
}

const enough = (scores: readonly FolderScore[]): readonly FolderScore[] =>
  scores.filter(({ figures }) => figures.sibilantLabels >= LEAST_LABELS);

const mean = (list: readonly number[]): number | null =>
  list.length === 0 ? null : list.reduce((sum, value) => sum + value, 0) / list.length;
const least = (list: readonly number[]): number | null => (list.length === 0 ? null : Math.min(...list));
const most = (list: readonly number[]): number | null => (list.length === 0 ? null : Math.max(...list));

/** Mean of strict F1 over the folders that have sibilant labels. */
export function meanStrictF1(scores: readonly FolderScore[]): number | null {
  return mean(values(withLabels(scores), (f) => f.strictF1));
}

/** Folders in which there is a sibilant to find. */
export function withLabels(scores: readonly FolderScore[]): readonly FolderScore[] {
  return scores.filter(({ figures }) => figures.sibilantLabels > 0);
}

const edge = (pick: (edges: NonNullable<PhoneFigures['edges']>) => number): Goal['measure'] => {
  return (scores) => most(values(scores, (f) => (f.edges ? 1000 * pick(f.edges) : null), EDGE_FOLDERS));
};

const GOALS: readonly Goal[] = [
  {
    name: 'strict F1, mean over folders',
    reach: 0.92,
    aim: 0.97,
    higherIsBetter: true,
    measure: meanStrictF1,
  },
  {
    name: `strict F1, worst folder of ${LEAST_LABELS} labels or more`,
    reach: 0.86,
    aim: 0.93,
    higherIsBetter: true,
    measure: (scores) => least(values(enough(scores), (f) => f.strictF1)),
  },
  {
    name: `unvoiced recall, worst folder of ${LEAST_LABELS} labels or more`,
    reach: 0.975,
    aim: 0.995,
    higherIsBetter: true,
    measure: (scores) => least(values(enough(scores), (f) => f.unvoicedRecall)),
  },
  {
    name: `wrong place, worst folder of ${LEAST_LABELS} labels or more, %`,
    reach: 4,
    aim: 1,
    higherIsBetter: false,
    measure: (scores) =>
      most(values(enough(scores), (f) => (f.wrongPlace === null ? null : 100 * f.wrongPlace))),
  },
  {
    name: 'voiced sound cut, worst folder, ms/min',
    reach: 250,
    aim: 60,
    higherIsBetter: false,
    measure: (scores) => most(values(scores, (f) => f.voicedCutMsPerMinute)),
  },
  {
    name: `t and k found, worst of ${STOP_FOLDERS.join(', ')}`,
    reach: 0.7,
    aim: 0.85,
    higherIsBetter: true,
    measure: (scores) => least(values(scores, (f) => f.tongueStopsFound, STOP_FOLDERS)),
  },
  {
    name: 'of those, told as burst, worst of the same',
    reach: 0.85,
    aim: 0.95,
    higherIsBetter: true,
    measure: (scores) => least(values(scores, (f) => f.tongueStopsTold, STOP_FOLDERS)),
  },
  {
    name: `breaths told as breath, ${BREATH_FOLDERS.join(', ')}`,
    reach: 0.9,
    aim: 0.97,
    higherIsBetter: true,
    measure: (scores) => least(values(scores, (f) => f.breathsTold, BREATH_FOLDERS)),
  },
  {
    name: 'edges on spliced truth, median of start and end, ms',
    reach: 4,
    aim: 2,
    higherIsBetter: false,
    measure: edge((e) => Math.max(e.start.medianSeconds, e.end.medianSeconds)),
  },
  {
    name: 'edges on spliced truth, 90th percentile, ms',
    reach: 12,
    aim: 6,
    higherIsBetter: false,
    measure: edge((e) => Math.max(e.start.p90Seconds, e.end.p90Seconds)),
  },
];

/** What was aimed at, what was measured, and whether that is enough. */
export function goalTable(scores: readonly FolderScore[]): string {
  const rows = GOALS.map((goal) => {
    const value = goal.measure(scores);
    const better = (bound: number): boolean =>
      value !== null && (goal.higherIsBetter ? value >= bound : value <= bound);
    const verdict =
      value === null ? 'not measured' : better(goal.aim) ? 'aim' : better(goal.reach) ? 'reach' : 'no';
    const digits = goal.reach < 1 ? 3 : 1;
    return [goal.name, value?.toFixed(digits) ?? '–', String(goal.reach), String(goal.aim), verdict];
  });
  return markdownTable(['goal', 'measured', 'reach', 'aim', 'met'], rows);
}
