import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadCorpus } from '../../bench/lib/corpus.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { noisePower } from '../../src/levels/noise-level.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionKind } from '../../src/regions/region.js';
import { quantileOf, rising } from '../../src/signal/quantile-of.js';
import { hiss, sine, take, vowel } from './sounds.js';

const decibels = (power: number): number => 10 * Math.log10(power);

describe('the level of a noise', () => {
  const rate = 48_000;
  const f = hiss(rate, 0.12, 0.01, { m1Hz: 5108, m2Hz2: 6.37e6 });
  const scene = take(rate, [
    { samples: vowel(rate, 0.3, 0.1) },
    { samples: f },
    { samples: vowel(rate, 0.3, 0.1) },
  ]);
  /** Level of the f, whose edges lie this many seconds inside the vowels. */
  const level = (kind: RegionKind, reachSeconds: number) => {
    const start = Math.round((0.3 - reachSeconds) * rate);
    const end = Math.round((0.42 + reachSeconds) * rate);
    return decibels(noisePower([scene.samples], rate, { start, end }, kind));
  };

  it('is hardly raised where its edges reach 8 ms into vowels that are 20 dB louder', () => {
    // 10 ms more are noise of other blocks: its power over 110 ms of 9 kHz of noise is uncertain by 3 %, 0.14 dB, twice.
    expect(Math.abs(level('fricative', 0) + 40)).toBeLessThan(0.3);
    // 6 of 24 blocks held to four times the median, the others as they are: at most 10·log10(18/24 + 4·6/24).
    expect(level('fricative', 0.008) + 40).toBeLessThan(decibels(1.75) + 0.3);
    // A plain RMS would read: 16 ms of the vowel's power in 136 ms of noise.
    expect(level('breath', 0.008) + 40).toBeGreaterThan(10);
  });

  it('is the plain mean square for a steady noise, whatever its kind', () => {
    const tone = sine(rate, 0.1, 4000, 0.3);
    for (const kind of ['sibilant', 'burst'] as const)
      expect(decibels(noisePower([tone], rate, { start: 0, end: 4800 }, kind))).toBeCloseTo(
        decibels(0.045),
        5,
      );
  });

  it('keeps the first milliseconds of a burst', () => {
    const burst = hiss(rate, 0.03, 0.1, { m1Hz: 3660, m2Hz2: 3e6 }).map((x, n) => x * Math.exp(-n / 240));
    const plain = burst.reduce((sum, x) => sum + x * x, 0) / burst.length;
    const span = { start: 0, end: burst.length };
    expect(decibels(noisePower([burst], rate, span, 'burst') / plain)).toBeCloseTo(0, 1);
  });

  it('is that of the least stretches too', () => {
    for (const length of [1, 2, 3, 10, 239, 240, 241]) {
      const square = Float32Array.from({ length }, (_, n) => (n % 2 === 0 ? 0.5 : -0.5));
      const power = noisePower([square], rate, { start: 0, end: length }, 'sibilant');
      expect(power).toBeGreaterThanOrEqual(0);
      // About its mean: all of 0.25 for an even number of samples, and no more for an odd one.
      expect(power).toBeLessThanOrEqual(0.25 + 1e-12);
    }
  });
});

const CORPUS = fileURLToPath(new URL('../../../shared/corpus', import.meta.url));
const KINDS: Readonly<Record<string, RegionKind>> = { s: 'sibilant', sh: 'sibilant', f: 'fricative' };

// truth.csv of the composites states at which level relative to the vowel beside it each noise was put in. Events whose fades
// overlap with the vowel are left out: what lies in their span is both.
describe.skipIf(!existsSync(CORPUS)).each(['splice', 'splice16k'])('the noises of %s', (folder) => {
  // Read inside the tests: the body of a skipped block runs all the same.
  const readTruth = () =>
    readFileSync(join(CORPUS, folder, 'truth.csv'), 'utf8')
      .trim()
      .split('\n')
      .map((line) => line.split(','))
      .map(([clip, start, end, label, level, join]) => ({
        clip,
        startSample: Number(start),
        endSample: Number(end),
        kind: KINDS[label as string],
        dB: Number(level),
        join,
      }))
      .filter((event) => event.kind !== undefined && event.join !== 'overlap');
  const readClips = () => loadCorpus(join(CORPUS, folder));

  it('have the sibilance at which they were put in', () => {
    const truth = readTruth();
    const errors = readClips().flatMap(({ name, channels, sampleRateHz }) => {
      const events = truth.filter(({ clip }) => clip === name);
      const list = insertRegions(
        createRegionList({ sampleRateHz, lengthSamples: channels[0]!.length }),
        events.map(({ startSample, endSample, kind }) => ({
          startSample,
          endSample,
          kind: kind as RegionKind,
        })),
      );
      const { byId } = measureLevels(channels, list);
      return events.map(({ dB }, i) => byId.get(i + 1)!.sibilanceDb! - dB);
    });
    expect(errors.length).toBeGreaterThan(40);
    const sorted = rising(errors);
    // Between the edges lie the fades of the splice, and the vowel breathes by some tenths of a dB: so no more than that in
    // the middle, and 1.5 dB (a tenth of the spread of their levels) anywhere.
    expect(Math.abs(quantileOf(sorted, 0.5))).toBeLessThan(0.3);
    expect(sorted[0]).toBeGreaterThan(-1.5);
    expect(sorted.at(-1)).toBeLessThan(1.5);
  });

  it('have nearly the same between edges that were found', () => {
    const truth = readTruth();
    const errors = readClips().flatMap(({ name, channels, sampleRateHz }) => {
      const list = detectConsonants(channels, { sampleRateHz });
      const { byId } = measureLevels(channels, list);
      return truth
        .filter(({ clip }) => clip === name)
        .flatMap(({ startSample, endSample, kind, dB }) => {
          const found = list.regions.find(
            (region) =>
              region.kind === kind &&
              Math.min(region.endSample, endSample) - Math.max(region.startSample, startSample) >
                0.6 * (endSample - startSample),
          );
          return found === undefined ? [] : [byId.get(found.id)!.sibilanceDb! - dB];
        });
    });
    expect(errors.length).toBeGreaterThan(25);
    const sorted = rising(errors);
    expect(Math.abs(quantileOf(sorted, 0.5))).toBeLessThan(0.3);
    // 1 dB is the least that matters to a decision in single decibels; a tenth of the edges may reach far into a vowel.
    expect(quantileOf(sorted, 0.05)).toBeGreaterThan(-1);
    expect(quantileOf(sorted, 0.9)).toBeLessThan(1);
  });
});
