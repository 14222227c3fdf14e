/** Choosing settings on labels of your own: every combination is scored on some takes, and the choice checked on others. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { bestTradeOffs } from '../src/evaluation/best-trade-offs.js';
import { type ErrorRates, errorRates, sumErrorCounts } from '../src/evaluation/error-counts.js';
import { eventScores } from '../src/evaluation/event-scores.js';
import { regionEvents } from '../src/evaluation/region-events.js';
import { settingsGrid } from '../src/evaluation/settings-grid.js';
import { type DemonstrationTake, makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const KINDS: readonly string[] = ['sibilant', 'fricative', 'burst', 'breath'];

/** What is to be found in a take; from your own labels, make the same list. */
const labelsOf = ({ truth }: DemonstrationTake) =>
  truth
    .filter(({ kind }) => KINDS.includes(kind))
    .map(({ kind, startSample, endSample }) => ({
      startSeconds: startSample / sampleRateHz,
      endSeconds: endSample / sampleRateHz,
      label: kind,
    }));

function score(some: readonly DemonstrationTake[], settings: Readonly<Record<string, number>>): ErrorRates {
  const counts = some.map((take) => {
    const { regions } = detectConsonants(take.samples, { sampleRateHz, ...settings });
    // The usual 200 ms would pair neighbours: consonants are short.
    return eventScores(labelsOf(take), regionEvents(regions, sampleRateHz), { collarSeconds: 0.02 });
  });
  return errorRates(sumErrorCounts(counts));
}

const toChoose = [takes[0]!, takes[2]!];
const toCheck = [takes[1]!, takes[3]!];
const grid = settingsGrid({ minConfidence: [0.1, 0.3, 0.5, 0.7, 0.9], enterProbability: [0.3, 0.7] });
const points = grid.map((settings) => {
  const { precision, recall, fMeasure } = score(toChoose, settings);
  // Without a region there is no wrong one.
  return { settings, precision: precision ?? 1, recall: recall ?? 0, fMeasure: fMeasure ?? 0 };
});
const best = bestTradeOffs(points);

console.log('minConfidence  enterProbability  precision  recall  F      unbeaten');
for (const point of points) {
  const { minConfidence, enterProbability } = point.settings;
  const { precision, recall, fMeasure } = point;
  const cells = [
    String(minConfidence).padStart(13),
    String(enterProbability).padStart(18),
    precision.toFixed(3).padStart(11),
    recall.toFixed(3).padStart(8),
    `  ${fMeasure.toFixed(3)}`,
    best.includes(point) ? '  *' : '',
  ];
  console.log(cells.join(''));
}

const chosen = best.reduce((most, point) => (point.fMeasure > most.fMeasure ? point : most));
const checked = score(toCheck, chosen.settings);
console.log(`\nhighest F: ${JSON.stringify(chosen.settings)}`);
console.log(
  `on two other takes: precision ${checked.precision?.toFixed(3)}, recall ${checked.recall?.toFixed(3)}, F ${checked.fMeasure?.toFixed(3)}`,
);
console.log(`the defaults there: F ${score(toCheck, {}).fMeasure?.toFixed(3)}`);
