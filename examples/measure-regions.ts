/** What each found consonant measures: how loud it is beside the voice around it, and where its hiss lies. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { measureLevels } from '../src/levels/measure-levels.js';
import { sibilanceSpread } from '../src/levels/sibilance-spread.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
const list = detectConsonants(lead, { sampleRateHz });
const levels = measureLevels(lead, list);

const columns = (...cells: readonly string[]): string =>
  `${cells[0]!.padStart(7)}  ${cells[1]!.padEnd(9)} ${cells[2]!.padEnd(8)} ${cells
    .slice(3)
    .map((cell) => cell.padStart(12))
    .join('')}`;

console.log(columns('time', 'kind', 'sound', 'sibilance', 'percentile', 'peak'));
for (const { id, startSample } of list.regions) {
  // The beginning of the song; the percentiles are those of the whole.
  if (startSample > 8.5 * sampleRateHz) break;
  const { kind, sound, sibilanceDb, percentile, peakFrequencyHz } = levels.byId.get(id)!;
  console.log(
    columns(
      `${(startSample / sampleRateHz).toFixed(2)} s`,
      kind,
      sound ?? '',
      `${sibilanceDb!.toFixed(1)} dB`,
      percentile!.toFixed(0),
      `${(peakFrequencyHz! / 1000).toFixed(1)} kHz`,
    ),
  );
}

const { count, p10Db, p50Db, p90Db } = sibilanceSpread(levels, list)!;
console.log(`\nvoice: ${levels.voiceDbfs!.toFixed(1)} dBFS`);
console.log(
  `${count} sibilants: from ${p10Db.toFixed(1)} (P10) over ${p50Db.toFixed(1)} to ${p90Db.toFixed(1)} dB (P90)`,
);
