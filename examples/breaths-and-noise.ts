/** What lies between the words of a careless take: found, lowered, and what was done to each. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { findBreathsAndNoise } from '../src/detection/find-breaths-and-noise.js';
import { lowerNoise } from '../src/gain/lower-noise.js';
import { renderGain } from '../src/gain/render-gain.js';
import { softenBreaths } from '../src/gain/soften-breaths.js';
import { makeRoughTake } from './lib/demo/make-rough-take.js';

const { samples, sampleRateHz, strays, truth } = makeRoughTake();
const consonants = detectConsonants(samples, { sampleRateHz });
const found = findBreathsAndNoise(consonants, samples);
const lowered = lowerNoise(softenBreaths(found, samples));
const output = renderGain(samples, lowered);

/** Level of a stretch in dBFS, as RMS. */
function levelDb(signal: typeof samples, from: number, to: number): string {
  let sum = 0;
  for (let i = from; i < to; i++) sum += (signal[i] ?? 0) ** 2;
  return (10 * Math.log10(sum / (to - from))).toFixed(0).padStart(4);
}

const made = strays.length + truth.filter(({ kind }) => kind === 'breath').length;
console.log(`${made} sounds were laid into the take; at a release, a blow of air is called a thump.`);
console.log('start s  length ms  what    cut dB  level dBFS before, after');
for (const region of lowered.regions) {
  if (region.gainDb === 0) continue;
  const { startSample, endSample, kind, label, gainDb, band } = region;
  console.log(
    [
      (startSample / sampleRateHz).toFixed(1).padStart(7),
      ((1000 * (endSample - startSample)) / sampleRateHz).toFixed(0).padStart(9),
      ` ${(label || kind).padEnd(6)}`,
      gainDb.toFixed(0).padStart(6),
      `${levelDb(samples, startSample, endSample)},`,
      `${levelDb(output, startSample, endSample)}`,
      band === undefined ? '' : band.lowHz === 0 ? `below ${band.highHz} Hz` : `above ${band.lowHz} Hz`,
    ]
      .join('  ')
      .trimEnd(),
  );
}
