/** Features of a recording, frame by frame: what tells an s from the breath before it and the vowel after it. */
import { analyse } from '../src/features/analyse.js';
import { decibelsFromPower } from '../src/signal/decibels.js';
import { frameTimeSeconds } from '../src/signal/frame-grid.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const table = analyse(takes[0]!.samples, {
  sampleRateHz,
  hopSeconds: 0.02,
  features: ['levelDb', 'zeroCrossingsPerSecond', 'centroidHz', 'flatness', 'periodicity', 'bandEnergies'],
  bands: [{ lowHz: 5000, highHz: 9000 }],
});
const { levelDb, zeroCrossingsPerSecond, centroidHz, flatness, periodicity, bandEnergies } = table.columns;

console.log('   time   level  crossings  centroid  flatness  periodicity  5 to 9 kHz');
for (let frame = 0; frame < table.grid.frameCount; frame++) {
  const seconds = frameTimeSeconds(table.grid, frame);
  // From the end of a breath over the first s into its vowel.
  if (seconds < 0.999 || seconds > 1.401) continue;
  const cells = [
    `${seconds.toFixed(2)} s`.padStart(7),
    levelDb[frame]!.toFixed(1).padStart(8),
    `${Math.round(zeroCrossingsPerSecond[frame]!)} /s`.padStart(11),
    `${(centroidHz[frame]! / 1000).toFixed(1)} kHz`.padStart(10),
    flatness[frame]!.toFixed(2).padStart(10),
    periodicity[frame]!.toFixed(2).padStart(13),
    `${decibelsFromPower(bandEnergies[0]![frame]!).toFixed(1)} dB`.padStart(12),
  ];
  console.log(cells.join(''));
}
