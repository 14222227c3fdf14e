import { confusionTable } from '../../src/evaluation/confusion-table.js';
import { type Reliability, reliability } from '../../src/evaluation/reliability.js';
import { beyondLabels } from './beyond-labels.js';
import { goalTable } from './goals.js';
import type { FolderScore } from './score-folder.js';
import { COLUMNS, EDGE_COLUMNS, figureTable, markdownTable, PHONE_COLUMNS } from './table.js';

/** Headed blocks of Markdown, in order. */
export type Report = readonly { readonly heading: string; readonly text: string }[];

/** Everything that is said of one detector, folder by folder; `baseline` rows stand below for comparison. */
export function accuracyReport(scores: readonly FolderScore[], baseline: readonly FolderScore[]): Report {
  const both = [...scores, ...baseline.map((score) => ({ ...score, folder: `${score.folder} (rule)` }))];
  return [
    { heading: 'Goals', text: goalTable(scores) },
    { heading: 'Figures', text: figureTable(both, COLUMNS) },
    { heading: 'Edges of matched sibilants', text: figureTable(both, EDGE_COLUMNS) },
    { heading: 'What labels cannot say', text: beyondLabels(scores) },
    { heading: 'Mistakes by phone', text: figureTable(both, PHONE_COLUMNS) },
    { heading: 'What each class of phone was taken for', text: classConfusion(scores) },
    { heading: 'Calibration: is there anything harsh here', text: placeCalibration(scores) },
    { heading: 'Calibration: sibilants, is it one', text: kindCalibration(scores, 'sibilant') },
  ];
}

/** The report as one Markdown text. */
export function reportText(report: Report, level: string = '##'): string {
  return report.map(({ heading, text }) => `${level} ${heading}\n\n${text}\n`).join('\n');
}

function classConfusion(scores: readonly FolderScore[]): string {
  const { rows, columns, counts } = confusionTable(
    scores.flatMap(({ tallies }) =>
      tallies.map(({ clip, regions }) => ({
        reference: clip.labels
          .filter((label) => label.phoneClass !== 'silence' && label.phoneClass !== 'sonorant')
          .map((label) => ({ ...label, label: label.phoneClass })),
        estimate: regions,
      })),
    ),
  );
  return markdownTable(
    ['labelled', ...columns],
    rows.map((row, r) => [row, ...(counts[r] ?? []).map(String)]),
  );
}

/** Confidence of a harsh region against the share of them that lie on an obstruent. */
function placeCalibration(scores: readonly FolderScore[]): string {
  const decisions = scores.flatMap(({ tallies }) =>
    tallies.flatMap(({ tally }) =>
      tally.harshPlaces.map(({ region, misplaced }) => ({
        confidence: region.confidence,
        right: misplaced === null,
      })),
    ),
  );
  return reliabilityTable(reliability(decisions));
}

/** The same confidence against the share whose kind is right. */
function kindCalibration(scores: readonly FolderScore[], wanted: string): string {
  const decisions = scores
    .flatMap(({ tallies }) => tallies.flatMap(({ tally }) => tally.decisions))
    .filter(({ kind }) => kind === wanted);
  return reliabilityTable(reliability(decisions));
}

/** Confidence against the share that was right, bin by bin. */
export function reliabilityTable({ bins, expectedError }: Reliability): string {
  const share = (value: number | null): string => value?.toFixed(3) ?? '–';
  const table = markdownTable(
    ['confidence', 'regions', 'mean confidence', 'share right'],
    bins.map((bin) => [
      `${bin.least.toFixed(1)}–${bin.most.toFixed(1)}`,
      String(bin.count),
      share(bin.meanConfidence),
      share(bin.shareRight),
    ]),
  );
  return `${table}\n\nExpected calibration error: ${share(expectedError)}.`;
}
