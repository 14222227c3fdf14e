import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bandTransitionHz } from '../../src/gain/band-kernel.js';
import { renderGain } from '../../src/gain/render-gain.js';
import type { RegionBand, RegionList } from '../../src/regions/region.js';
import { referenceKernel } from '../gain/band-reference.js';
import { noise } from '../gain/lists.js';
import { evenly, fadedLists } from '../lib/faded-lists.js';
import { region } from '../lib/region.js';

/**
 * How far a cut within a band can raise a peak, computed from its figures: the output is x − a·(h * x) with a = 1 − gain, so no sample can exceed
 * |1 − a·h[0]| + a·Σ|h[n]| (n ≠ 0) times the greatest of the input. In a fade a is smaller and the sum convex in it, so
 * the greater of this and 1 holds throughout; beyond the clip's ends the filter sees the clip mirrored, which holds no
 * greater samples.
 */
function mostRise(kernel: readonly number[], gainDb: number): number {
  const a = 1 - 10 ** (gainDb / 20);
  const middle = (kernel.length - 1) / 2;
  const sides = kernel.reduce((sum, h, n) => sum + (n === middle ? 0 : Math.abs(h)), 0);
  return Math.max(1, Math.abs(1 - a * (kernel[middle] as number)) + a * sides);
}

const kernelOf = (band: RegionBand, rate: number): number[] =>
  referenceKernel(band, bandTransitionHz(band, rate), rate);
const peakOf = (samples: Float32Array): number => samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
const inDb = (factor: number): number => 20 * Math.log10(factor);

/** One region with a band. */
function bandList(
  lengthSamples: number,
  sampleRateHz: number,
  band: RegionBand,
  part: Parameters<typeof region>[0],
): RegionList {
  return { sampleRateHz, lengthSamples, nextId: 2, regions: [{ ...region(part), id: 1, band }] };
}

describe('a cut of the whole spectrum', () => {
  it('raises no sample of any sound, whatever the regions and their fades', () => {
    fc.assert(
      fc.property(fadedLists(300, 0), fc.integer({ min: 1, max: 1e6 }), (list, seed) => {
        const samples = noise(list.lengthSamples, seed);
        renderGain(samples, list).forEach((y, i) => {
          if (!(Math.abs(y) <= Math.abs(samples[i]!))) expect.fail(`sample ${i}: ${samples[i]} became ${y}`);
        });
      }),
    );
  });
});

describe('a cut within a band', () => {
  const bands = fc
    .tuple(fc.constantFrom(8000, 16000, 48000), evenly(0, 0.9), evenly(0.02, 1))
    .map(([rate, low, width]) => {
      const lowHz = (low * rate) / 2;
      return { rate, band: { lowHz, highHz: Math.min(rate / 2, lowHz + Math.max(200, (width * rate) / 2)) } };
    });

  it('raises no peak of any sound by more than the bound of its filter', () => {
    fc.assert(
      fc.property(
        bands,
        evenly(-30, 0),
        fc.integer({ min: 1, max: 1e6 }),
        fc.nat(40),
        ({ rate, band }, gainDb, seed, fade) => {
          const length = 600;
          const part = {
            startSample: 100,
            endSample: 500,
            gainDb,
            fadeInSamples: fade,
            fadeOutSamples: fade,
          };
          // Full scale with signs alone: nothing raises a peak more than what is as loud as can be everywhere.
          const samples = noise(length, seed).map(Math.sign) as Float32Array<ArrayBuffer>;
          const most = bandTransitionHz(band, rate) === 0 ? 1 : mostRise(kernelOf(band, rate), gainDb);
          // 1e-6: the rounding to 32 bits, and a gain that is a hair off by it.
          expect(peakOf(renderGain(samples, bandList(length, rate, band, part)))).toBeLessThan(most + 1e-6);
        },
      ),
      { numRuns: 60 },
    );
  });

  // The figures of docs/promises.md, at 48 kHz and 6 dB.
  it.each([
    [{ lowHz: 4000, highHz: 24000 }, 3.6],
    [{ lowHz: 4000, highHz: 11000 }, 6],
    [{ lowHz: 6000, highHz: 9000 }, 5.6],
    [{ lowHz: 0, highHz: 150 }, 5.9],
  ])(
    'at %o raises the worst of all sounds by the figure of the page, and no other by more',
    (band, statedDb) => {
      const kernel = kernelOf(band, 48000);
      const boundDb = inDb(mostRise(kernel, -6));
      // The page gives one decimal, rounded upwards.
      expect(boundDb).toBeLessThanOrEqual(statedDb);
      expect(boundDb).toBeGreaterThan(statedDb - 0.1);
      // The filter is symmetric: a sound with the opposite signs of its taps, and in the middle that of the direct part, meets the bound.
      const middle = (kernel.length - 1) / 2;
      const worst = Float32Array.from(kernel, (h, n) => (n === middle ? 1 : -Math.sign(h)));
      const list = bandList(worst.length, 48000, band, {
        startSample: 0,
        endSample: worst.length,
        gainDb: -6,
      });
      expect(Math.abs(inDb(peakOf(renderGain(worst, list))) - boundDb)).toBeLessThan(0.01);
    },
  );

  it('raises no peak by more than 10.5 dB at 6 dB, nor by more than 15.1 dB at a mute, also at the band that was found worst', () => {
    // Found by a search over edges and rates: the longest filter (a lower edge up to 30 Hz at 192 kHz) and a wide band.
    let [mostDb, mutedDb] = [0, 0];
    for (const rate of [8000, 192000])
      for (const lowHz of [0, 30, 4000])
        for (const width of [150, 3000, 20145, 64000]) {
          const band = { lowHz, highHz: Math.min(rate / 2, lowHz + width) };
          if (band.highHz <= lowHz || bandTransitionHz(band, rate) === 0) continue;
          const kernel = kernelOf(band, rate);
          mostDb = Math.max(mostDb, inDb(mostRise(kernel, -6)));
          mutedDb = Math.max(mutedDb, inDb(mostRise(kernel, -120)));
        }
    expect(mostDb).toBeLessThan(10.5);
    expect(mutedDb).toBeLessThan(15.1);
    // And not far less, or the page would say too much.
    expect(mostDb).toBeGreaterThan(10.3);
    expect(mutedDb).toBeGreaterThan(14.9);
  });
});
