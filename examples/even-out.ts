/** The same esses, cut alike and cut by how loud each is beside its vowels. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { evenedCut } from '../src/gain/evened-cut.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { levelledCut } from '../src/gain/levelled-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { shortenedFlags } from '../src/gain/shortened-flags.js';
import { stepGain } from '../src/gain/step-gain.js';
import { measureLevels } from '../src/levels/measure-levels.js';
import { overCutFlags } from '../src/levels/over-cut-flags.js';
import { sibilanceSpread } from '../src/levels/sibilance-spread.js';
import { regionsOfKind } from '../src/regions/regions-of-kind.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
const found = placeEdges(detectConsonants(lead, { sampleRateHz }), lead);
const levels = measureLevels(lead, found);

const decisions = [
  ['as recorded', found],
  ['fixed -6 dB', fixedCut(found)],
  ['two presses', stepGain(fixedCut(found))],
  ['levelled', levelledCut(found, levels)],
  ['evened by half', evenedCut(found, levels, { share: 0.5 })],
] as const;

const line = (name: string, cells: readonly (string | number)[]): string =>
  name.padEnd(14) + cells.map((cell) => String(cell).padStart(9)).join('');
const db = (value: number): string => (Math.round(value * 10) / 10 + 0).toFixed(1);

console.log(
  `Sibilance of ${sibilanceSpread(levels, found)!.count} sibilants, dB relative to the voice beside them`,
);
console.log(line('', ['P10', 'median', 'P90', 'spread', 'mean cut', 'largest', 'flags']));
for (const [name, list] of decisions) {
  const { p10Db, p50Db, p90Db, spreadDb } = sibilanceSpread(levels, list)!;
  const cuts = regionsOfKind(list, 'sibilant').map(({ gainDb }) => -gainDb);
  const mean = cuts.reduce((sum, cut) => sum + cut, 0) / cuts.length;
  const flags = overCutFlags(list, levels).length + shortenedFlags(list, levels).length;
  console.log(line(name, [...[p10Db, p50Db, p90Db, spreadDb, mean, Math.max(...cuts)].map(db), flags]));
}

const [flag] = overCutFlags(fixedCut(found), levels);
console.log(`\nFixed -6 dB, first flag: region ${flag!.id} ${flag!.message}`);
const sibilance = ({ id }: { readonly id: number }): number => levels.byId.get(id)?.sibilanceDb ?? -100;
const loudest = regionsOfKind(levelledCut(found, levels), 'sibilant').reduce((a, b) =>
  sibilance(a) >= sibilance(b) ? a : b,
);
const { sibilanceDb, targetDb, wantedCutDb } = loudest.reason.numbers;
console.log(
  `Levelled, loudest: region ${loudest.id} by ${db(-loudest.gainDb)} dB, ` +
    `since it lies at ${db(sibilanceDb!)} dB, the target at ${db(targetDb!)} dB (wanted ${db(wantedCutDb!)} dB)`,
);
