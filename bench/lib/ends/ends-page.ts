import type { LabelledClip } from '../corpus.js';
import { markdownTable } from '../table.js';
import { conditionText } from './condition-text.js';
import type { EndCondition } from './end-condition.js';
import type { LocalityRow } from './locality.js';
import { localityTable, localityText } from './locality-text.js';
import { COST_AIM, COST_REACH, costTable, type MeasuredCost } from './measured-costs.js';
import type { ConditionScore } from './score-condition.js';

const share = (value: number | null | undefined): string => value?.toFixed(3) ?? '–';

/** All folders together, one row a condition. */
export function scoreTable(scores: readonly ConditionScore[]): string {
  return markdownTable(
    [
      'condition',
      'strict F1',
      'precision',
      'recall',
      'unvoiced recall',
      'wrong place %',
      'voiced cut ms/min',
      't/k found',
      'regions a minute',
      'harsh ones',
    ],
    scores.map(({ name, figures: f, regionsPerMinute, harshPerMinute }) => [
      name,
      share(f.strictF1),
      share(f.strictPrecision),
      share(f.strictRecall),
      share(f.unvoicedRecall),
      f.wrongPlace === null ? '–' : (100 * f.wrongPlace).toFixed(1),
      f.voicedCutMsPerMinute?.toFixed(0) ?? '–',
      share(f.tongueStopsFound),
      regionsPerMinute.toFixed(1),
      harshPerMinute.toFixed(1),
    ]),
  );
}

/** Strict F1, one row a condition, one column a folder. */
export function folderTable(scores: readonly ConditionScore[]): string {
  const folders = [...(scores[0]?.folderF1.keys() ?? [])];
  return markdownTable(
    ['condition', ...folders],
    scores.map(({ name, folderF1 }) => [name, ...folders.map((folder) => share(folderF1.get(folder)))]),
  );
}

/** What the page is made of. */
export interface EndsResults {
  readonly clips: readonly LabelledClip[];
  readonly conditions: readonly EndCondition[];
  readonly scores: readonly ConditionScore[];
  readonly locality: readonly LocalityRow[];
  readonly costs: readonly MeasuredCost[];
}

/** docs/robust-ends.md. */
export function endsPage({ clips, conditions, scores, locality, costs }: EndsResults): string {
  const minutes = clips.reduce((sum, { durationSeconds }) => sum + durationSeconds, 0) / 60;
  const folders = [...new Set(clips.map(({ folder }) => folder))].join(', ');
  return `# At the ends of what it can do

<!-- Written by npm run bench:ends -- --write docs/robust-ends.md; the words are in bench/lib/ends. -->

The detector learned from clean voices that sing and speak in the usual way, and from copies of them. This page says what it makes of others: the same ${minutes.toFixed(1)} minutes of
labelled clips (${clips.length} of ${folders}), changed in one way at a time, by sums of our own.
The clips are ones that the model has heard, so look at the differences to the first row, not at the heights; [Model card](model-card.md) has voices that it never heard.
It has heard some of them changed as well: whispered and bright, faster, an octave up and of a smaller mouth (the rows whispered, bright; rap; falsetto; child);
the model card says what that brings voices that were held out. What was made by computation is a likeness: nobody here
whispered or rapped. Settings are the defaults.

\`\`\`sh
npm run bench:ends -- --corpus ../shared/corpus --write docs/robust-ends.md
\`\`\`

## Figures

[Accuracy](accuracy.md) says how each figure is made. A region of a harsh kind is a sibilant, a fricative or a burst.

${scoreTable(scores)}

Strict F1 by folder:

${folderTable(scores)}

## What happens, and what to do

${conditions.map((condition) => conditionText(condition, scores)).join('\n\n')}

## What locality costs

So that a stream and a whole file give the same regions, and a player can follow, everything is judged against the voice from some 6 s before
to 1.9 s after it. The table has strict F1 for other reaches of these references, all else the same: each clip by itself / the clips of a
folder as one recording. Clips that are shorter than a reach are heard whole by it.

${localityTable(locality)}

${localityText(locality)} The network learned from references as they are, so a network that learned from
whole recordings might gain more; it could not follow a stream.

## What the classifier costs

Processor time in one run, in turns, in percent of the features alone (band powers of each frame and the envelope per millisecond). References are what
the network is given: levels relative to the voice around. Events are what comes after it: smoothing, judging whole events, edges. Goal for network and events: ${COST_REACH} % at most,
${COST_AIM} % aimed at. Checks of the samples and the making of a list are no part of it. What the table leaves out is the first second of a program, in which the engine compiles.
That it compiles some of it again later is in the table, a tenth of the features; two runs may differ by half of what they say of events.

\`\`\`sh
npm run bench:cost
\`\`\`

${costTable(costs)}
`;
}
