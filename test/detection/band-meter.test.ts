import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createBandMeter } from '../../src/detection/band-meter.js';
import { bandWeights, usableBandCount } from '../../src/detection/band-weights.js';
import { BAND_EDGES_HZ, ROW_BANDS, TOP_BAND } from '../../src/detection/detection-scale.js';
import { createRowStore } from '../../src/detection/row-store.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { mulberry32, whiteNoise } from '../lib/random.js';
import { shapedNoise } from '../lib/shaped-noise.js';

const RATES = [8000, 11025, 16_000, 22_050, 44_100, 48_000, 96_000, 192_000];

/** Rows of a stream that comes in the given blocks. */
function measure(blocks: readonly (readonly Samples[])[], sampleRateHz: number): number[][] {
  const rows = createRowStore(ROW_BANDS);
  const meter = createBandMeter(sampleRateHz, blocks[0]!.length);
  for (const block of blocks) meter.push(block, rows);
  meter.flush(rows);
  return Array.from({ length: rows.end }, (_, row) => [
    ...rows.data.subarray(rows.at(row), rows.at(row) + ROW_BANDS),
  ]);
}

const total = (row: readonly number[]): number => row.reduce((a, b) => a + b, 0);

function tone(frequencyHz: number, sampleRateHz: number, seconds: number, amplitude = 0.5): Samples {
  return Float32Array.from(
    { length: Math.round(seconds * sampleRateHz) },
    (_, i) => amplitude * Math.sin((2 * Math.PI * frequencyHz * i) / sampleRateHz + 0.4),
  );
}

/** Rows whose frames lie wholly inside the clip. */
function inner(rows: readonly number[][]): readonly number[][] {
  return rows.slice(2, -2);
}

/** The top band, to 10 kHz, is there as a whole or not at all: 10 kHz within 0.485 of the rate, by hand from 20,619 Hz on. */
const reachesTop = (rate: number): boolean => rate > 20_619;

describe('band weights', () => {
  it('share out every bin between the outermost edges exactly once, at every rate', () => {
    for (const rate of RATES) {
      const size = 2 ** Math.ceil(Math.log2((rate * 512) / 48_000));
      const binHz = rate / size;
      const shares = new Float64Array(size / 2 + 1);
      for (const { firstBin, shares: own } of bandWeights(rate, size))
        own.forEach((share, i) => {
          shares[firstBin + i] = shares[firstBin + i]! + share;
        });
      for (let k = 0; k <= size / 2; k++) {
        // Bin k stands for half a bin to each side; nothing lies above half the rate.
        const low = Math.max(80, (k - 0.5) * binHz);
        const high = Math.min(reachesTop(rate) ? 10_000 : 7600, (k + 0.5) * binHz, rate / 2);
        expect(shares[k], `bin ${k} at ${rate} Hz`).toBeCloseTo(Math.max(0, high - low) / binHz, 12);
      }
    }
  });

  it('leave bands above half the rate without power', () => {
    const size = 128;
    const weights = bandWeights(8000, size);
    for (let band = 0; band < ROW_BANDS; band++)
      if (BAND_EDGES_HZ[band]! >= 4000) expect(total([...weights[band]!.shares]), `band ${band}`).toBe(0);
  });

  it('fill the top band where the rate reaches 10 kHz with a margin, and leave it empty below', () => {
    for (const rate of [16_000, 19_000, 20_600, 20_700, 22_050, 24_000]) {
      const shares = [...bandWeights(rate, 512)[TOP_BAND]!.shares];
      // Its width in bins.
      expect(total(shares), `${rate} Hz`).toBeCloseTo(reachesTop(rate) ? 2400 / (rate / 512) : 0, 9);
    }
  });

  it('count as usable what lies wholly under 0.485 of the rate', () => {
    // By hand from the edges: 3880 → up to 3500; 5347 → 5200; 7760 → 7600.
    expect(usableBandCount(8000)).toBe(10);
    expect(usableBandCount(11_025)).toBe(13);
    expect(usableBandCount(16_000)).toBe(16);
    expect(usableBandCount(192_000)).toBe(16);
  });
});

describe('the band meter', () => {
  it('gives a sine its power, half the square of its amplitude, at 8 to 192 kHz', () => {
    // 0.1 %: Hann side lobes beyond four bins hold under 1e-4 of the power, and so does the beat of w² with twice the
    // frequency; float samples err by 1e-7.
    for (const rate of RATES)
      for (const frequencyHz of [700, 1480, 2750, 5100])
        if (frequencyHz < 0.42 * rate)
          for (const row of inner(measure([[tone(frequencyHz, rate, 0.1)]], rate)))
            expect(Math.abs(total(row) / 0.125 - 1), `${frequencyHz} Hz at ${rate} Hz`).toBeLessThan(1e-3);
  });

  it('puts a sine in the middle of a wide band into that band', () => {
    // Band 15 is 6700 to 7600 Hz: its middle is 450 Hz, over four bins, from either edge. Band 0 to 3 lie far below.
    for (const rate of RATES.filter((r) => r >= 16_000)) {
      const row = inner(measure([[tone(7150, rate, 0.1)]], rate))[3]!;
      expect(row[15]! / total(row)).toBeGreaterThan(0.999);
      expect(total(row.slice(0, 4)) / total(row)).toBeLessThan(1e-5);
    }
  });

  it('puts a sine between 7.6 and 10 kHz into the top band alone', () => {
    // 8800 Hz lies 1200 Hz from either edge, over twelve bins; leakage as above.
    for (const rate of RATES.filter(reachesTop)) {
      const row = inner(measure([[tone(8800, rate, 0.1)]], rate))[3]!;
      expect(row[TOP_BAND]! / total(row)).toBeGreaterThan(0.999);
      expect(Math.abs(total(row) / 0.125 - 1)).toBeLessThan(1e-3);
    }
  });

  it('gives white noise in proportion to the width of each band, at every rate', () => {
    const seconds = 12;
    for (const rate of [8000, 11_025, 16_000, 48_000, 192_000]) {
      const rms = 0.1;
      const rows = inner(measure([[whiteNoise(rate, seconds * rate, rms)]], rate));
      for (let band = 0; band < ROW_BANDS; band++) {
        const mean = rows.reduce((sum, row) => sum + row[band]!, 0) / rows.length;
        const upToHz =
          band === TOP_BAND && !reachesTop(rate) ? 0 : Math.min(BAND_EDGES_HZ[band + 1]!, rate / 2);
        const widthHz = Math.max(0, upToHz - BAND_EDGES_HZ[band]!);
        if (widthHz === 0) {
          expect(mean, `band ${band} at ${rate} Hz`).toBe(0);
          continue;
        }
        const expected = rms ** 2 * (widthHz / (rate / 2));
        // A mean power over bandwidth B and time T scatters by 1/√(BT) (Rice 1944, from memory), Hann frames at half
        // overlap lose under a tenth of it; five of these.
        const tolerance = 5 / Math.sqrt(0.9 * widthHz * seconds);
        expect(Math.abs(mean / expected - 1), `band ${band} at ${rate} Hz`).toBeLessThan(tolerance);
      }
    }
  });

  it('keeps Parseval: bands of a band-limited sound sum to its windowed mean square about sample k·hop', () => {
    for (const rate of [16_000, 44_100, 48_000]) {
      const samples = shapedNoise(5, 16_384, rate, (f) => (f > 800 && f < 6300 ? 1 : 0));
      const frame = Math.round((rate * 512) / 48_000);
      const hop = Math.round((rate * 256) / 48_000);
      const rows = measure([[samples]], rate);
      expect(rows.length).toBe(Math.floor((samples.length - 1) / hop) + 1);
      for (const [k, row] of rows.entries()) {
        let power = 0;
        let weight = 0;
        for (let i = 0; i < frame; i++) {
          const w = Math.sin((Math.PI * (i + 0.5)) / frame) ** 2;
          power += (w * (samples[k * hop - Math.floor(frame / 2) + i] ?? 0)) ** 2;
          weight += w ** 2;
        }
        const start = k * hop - Math.floor(frame / 2);
        // Frames that reach over an end are the nearest that do not.
        if (start < 0) expect(row).toEqual(rows[1]);
        else if (start + frame > samples.length) expect(row).toEqual(rows[k - 1]);
        // Power leaks over the outer edges (80 and 7600 Hz), four bins and more away: under 1e-4.
        else expect(Math.abs(total(row) / (power / weight) - 1)).toBeLessThan(1e-3);
      }
    }
  });

  it('counts the frames from sample 0: an impulse shows alike as far before as after', () => {
    const rate = 48_000;
    const at = 20 * 256;
    const samples = new Float32Array(at * 2);
    samples[at] = 1;
    const levels = measure([[samples]], rate).map(total);
    expect(levels.indexOf(Math.max(...levels))).toBe(20);
    // The window lies between samples: one sample of 512 off its middle, at its steepest 2·π/512 of the peak.
    expect(Math.abs(levels[19]! - levels[21]!)).toBeLessThan(((2 * Math.PI) / 512) * levels[20]!);
    expect(levels[18]).toBeLessThan(1e-9 * levels[20]!);
    expect(levels[22]).toBeLessThan(1e-9 * levels[20]!);
  });

  it('averages the powers of channels, not their signals', () => {
    const a = tone(2750, 48_000, 0.1, 0.4);
    const opposite = a.map((x) => -x);
    for (const row of inner(measure([[a, opposite]], 48_000)))
      expect(Math.abs(total(row) / 0.08 - 1)).toBeLessThan(1e-3);
    for (const row of inner(measure([[a, new Float32Array(a.length)]], 48_000)))
      expect(Math.abs(total(row) / 0.04 - 1)).toBeLessThan(1e-3);
  });

  it('gives the same rows however the stream is cut, bit for bit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(8000, 11_025, 44_100, 48_000),
        fc.integer({ min: 1, max: 2 }),
        fc.integer({ min: 0, max: 6000 }),
        fc.array(fc.oneof(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 2000 })), {
          minLength: 1,
          maxLength: 12,
        }),
        (rate, channelCount, length, cuts) => {
          const uniform = mulberry32(length + 1);
          const channels = Array.from({ length: channelCount }, () =>
            Float32Array.from({ length }, () => uniform() - 0.5),
          );
          const whole = measure([channels], rate);
          const blocks = blocksOf(channels, cuts);
          expect(measure(blocks.length > 0 ? blocks : [channels], rate)).toEqual(whole);
          expect(whole.length).toBe(
            length === 0 ? 0 : Math.floor((length - 1) / Math.round((rate * 256) / 48_000)) + 1,
          );
        },
      ),
      { numRuns: 60 },
    );
  });
});
