/** What a mix chain will do to each s, and what to do about it now. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { forecastRise } from '../src/forecast/forecast-rise.js';
import { keyedSpread } from '../src/forecast/keyed-spread.js';
import { preemptiveCut } from '../src/forecast/preemptive-cut.js';
import { CHAIN_PRESETS } from '../src/forecast/presets.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
const found = placeEdges(detectConsonants(lead, { sampleRateHz }), lead);
const chain = CHAIN_PRESETS.find(({ name }) => name === 'forward and bright')!;
const db = (value: number | null | undefined): string =>
  value === null || value === undefined ? '-' : (Math.round(value * 10) / 10 + 0).toFixed(1);

const forecast = forecastRise(lead, found, chain, { kinds: ['sibilant'] });
console.log(
  `Chain "${chain.name}", ${forecast.byId.size} sibilants, median rise ${db(forecast.medianRiseDb)} dB`,
);
for (const { statement } of forecast.stages) console.log(statement);

const { list, unreached, passes } = preemptiveCut(lead, found, chain, { targetDb: -3 });
const treated = forecastRise(lead, list, chain, { kinds: ['sibilant'] });
console.log(`\nA cut now for -3 dB behind the chain (${passes} runs of the chain)`);
const row = (cells: readonly string[]): string => cells.map((cell) => cell.padStart(8)).join('');
console.log(row(['region', 'at', 'before', 'rise', 'behind', 'cut', 'behind']));
for (const { id, beforeDb, riseDb, afterDb } of [...forecast.byId.values()].slice(0, 8)) {
  const region = list.regions.find((one) => one.id === id)!;
  const at = `${(region.startSample / sampleRateHz).toFixed(1)} s`;
  const figures = [beforeDb, riseDb, afterDb, region.gainDb, treated.byId.get(id)!.afterDb];
  console.log(row([String(id), at, ...figures.map(db)]));
}
for (const { id, cause, afterDb } of unreached)
  console.log(`region ${id} stays at ${db(afterDb)} dB (${cause})`);

const { before, after } = keyedSpread(lead, list);
console.log('\nGain reduction of a compressor keyed to the sibilant band, 10th to 90th percentile');
console.log(`as recorded ${db(before!.p10Db)} to ${db(before!.p90Db)} dB, spread ${db(before!.spreadDb)} dB`);
console.log(`after the cut ${db(after!.p10Db)} to ${db(after!.p90Db)} dB, spread ${db(after!.spreadDb)} dB`);
