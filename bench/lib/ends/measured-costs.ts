import { demonstrationVoices, folderVoices } from '../speed/voices.js';
import { markdownTable } from '../table.js';
import { type CostShares, costShares, stageCosts } from './stage-costs.js';

/** What the parts of the detector cost on one kind of voice. */
export interface MeasuredCost extends CostShares {
  readonly name: string;
  readonly seconds: number;
}

/** Goals for classifier, smoothing and events, in percent of the features. */
export const COST_REACH = 30;
export const COST_AIM = 10;

/** Measured on two folders, or on the demonstration where they are not there. */
export function measuredCosts(corpus: string, seconds: number, rounds: number): readonly MeasuredCost[] {
  const there = ['pjs_singing', 'kathleen_en48k'].flatMap(
    (folder) => folderVoices(corpus, folder, seconds) ?? [],
  );
  const voices = there.length > 0 ? there : [demonstrationVoices()];
  return voices.map((own) => ({
    name: own.name,
    seconds: own.seconds,
    ...costShares(stageCosts(own.clips, own.sampleRateHz, rounds)),
  }));
}

/** The costs as a table. */
export function costTable(costs: readonly MeasuredCost[]): string {
  const percent = (x: number): string => x.toFixed(0);
  return markdownTable(
    [
      'voices',
      'seconds',
      'references %',
      'network %',
      'events %',
      'checks and list %',
      'network and events %',
      'the same, of features and references %',
    ],
    costs.map((c) => [
      c.name,
      percent(c.seconds),
      ...[c.references, c.network, c.events, c.calls, c.classifier, c.classifierOfInputs].map(percent),
    ]),
  );
}
