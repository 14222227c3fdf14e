import type { EndCondition } from './end-condition.js';
import type { ConditionScore } from './score-condition.js';

/** Differences below these are of chance: some ten labels of this choice of clips. */
const SAME_SHARE = 0.02;
const SAME_CUT_MS = 150;
const SAME_PLACE = 0.02;

/** A condition as a paragraph: how it was made, what happened by the figures, what to do. */
export function conditionText(condition: EndCondition, scores: readonly ConditionScore[]): string {
  const own = scores.find(({ name }) => name === condition.name);
  const base = scores.find(({ name }) => name === (condition.joined ? 'joined, unchanged' : 'unchanged'));
  const happened = own === undefined || base === undefined ? '' : ` ${happening(own, base)}`;
  return `**${capital(condition.name)}.** ${condition.made}${happened} ${condition.advice}`;
}

/** What the figures say, next to those of the clips as they were. */
export function happening(own: ConditionScore, base: ConditionScore): string {
  if (own.figures.sibilantLabels === 0)
    return own.regionsPerMinute === 0
      ? 'Nothing is found.'
      : `${own.regionsPerMinute.toFixed(1)} regions a minute are found, ${own.harshPerMinute.toFixed(1)} of them harsh.`;
  const parts = [
    moved('strict F1', own.figures.strictF1, base.figures.strictF1, SAME_SHARE, (x) => x.toFixed(2)),
    moved('recall', own.figures.strictRecall, base.figures.strictRecall, SAME_SHARE, (x) => x.toFixed(2)),
    moved('precision', own.figures.strictPrecision, base.figures.strictPrecision, SAME_SHARE, (x) =>
      x.toFixed(2),
    ),
    moved(
      'the share of harsh regions in a wrong place',
      own.figures.wrongPlace,
      base.figures.wrongPlace,
      SAME_PLACE,
      (x) => `${(100 * x).toFixed(0)} %`,
    ),
    moved(
      'voiced sound in harsh regions',
      own.figures.voicedCutMsPerMinute,
      base.figures.voicedCutMsPerMinute,
      SAME_CUT_MS,
      (x) => `${(x / 1000).toFixed(1)} s a minute`,
    ),
  ].filter((part) => part !== '');
  if (parts.length === 0) return 'It makes no difference beyond chance.';
  return `${capital(joinedByAnd(parts))}.`;
}

function moved(
  what: string,
  own: number | null,
  base: number | null,
  same: number,
  text: (value: number) => string,
): string {
  if (own === null || base === null || Math.abs(own - base) < same || text(own) === text(base)) return '';
  return `${what} ${own < base ? 'falls' : 'rises'} from ${text(base)} to ${text(own)}`;
}

function joinedByAnd(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
