import { bestTradeOffs } from '../../src/evaluation/best-trade-offs.js';
import type { LabelledClip } from './corpus.js';
import type { NamedDetector } from './detectors.js';
import { LEAST_LABELS, meanStrictF1, withLabels } from './goals.js';
import { scoreClips } from './score-folder.js';
import { markdownTable } from './table.js';

/** What one choice of settings gives: means over the folders that have sibilant labels, each weighing the same. */
export interface SweepPoint {
  readonly settings: Readonly<Record<string, unknown>>;
  readonly precision: number;
  readonly recall: number;
  readonly strictF1: number;
  /** Of the folders with enough labels to count; null where there is none. */
  readonly worstF1: number | null;
  readonly unvoicedRecall: number;
  readonly voicedCutMsPerMinute: number;
}

/** Scores a detector under each choice of settings, folder by folder, every folder weighing the same. */
export function sweep(
  folders: ReadonlyMap<string, readonly LabelledClip[]>,
  detector: NamedDetector,
  choices: readonly Readonly<Record<string, unknown>>[],
  note: (done: number) => void = () => {},
): readonly SweepPoint[] {
  return choices.map((settings, done) => {
    note(done);
    const detect = detector.withSettings(settings);
    const scores = withLabels([...folders].map(([folder, clips]) => scoreClips(folder, clips, detect)));
    const enough = scores.filter(({ figures }) => figures.sibilantLabels >= LEAST_LABELS);
    // Without a region there is no wrong one: precision 1, as at the end of any precision/recall curve.
    const mean = (pick: (score: (typeof scores)[number]) => number): number =>
      scores.reduce((sum, score) => sum + pick(score), 0) / scores.length;
    return {
      settings,
      precision: mean(({ figures }) => figures.strictPrecision ?? 1),
      recall: mean(({ figures }) => figures.strictRecall ?? 0),
      strictF1: meanStrictF1(scores) ?? 0,
      worstF1: enough.length === 0 ? null : Math.min(...enough.map(({ figures }) => figures.strictF1 ?? 0)),
      unvoicedRecall: mean(({ figures }) => figures.unvoicedRecall ?? 0),
      voicedCutMsPerMinute: Math.max(...scores.map(({ figures }) => figures.voicedCutMsPerMinute ?? 0)),
    };
  });
}

/** One row a choice; a star marks those that no other beats in both precision and recall. */
export function sweepTable(points: readonly SweepPoint[]): string {
  const names = [...new Set(points.flatMap(({ settings }) => Object.keys(settings)))];
  const best = new Set(bestTradeOffs(points));
  return markdownTable(
    [
      'choice',
      ...names,
      'precision',
      'recall',
      'strict F1',
      'worst F1',
      'unvoiced recall',
      'most voiced cut ms/min',
      'unbeaten',
    ],
    points.map((point, i) => [
      String(i + 1),
      ...names.map((name) => JSON.stringify(point.settings[name]) ?? '–'),
      point.precision.toFixed(3),
      point.recall.toFixed(3),
      point.strictF1.toFixed(3),
      point.worstF1?.toFixed(3) ?? '–',
      point.unvoicedRecall.toFixed(3),
      point.voicedCutMsPerMinute.toFixed(0),
      best.has(point) ? '*' : '',
    ]),
  );
}
