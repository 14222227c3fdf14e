import { describe, expect, it } from 'vitest';
import { analyse } from '../../src/features/analyse.js';
import { bandEnergies } from '../../src/features/band-energies.js';
import { level } from '../../src/features/level.js';
import { periodicity } from '../../src/features/periodicity.js';
import { spectralFlux } from '../../src/features/spectral-flux.js';
import { spectralPeak } from '../../src/features/spectral-peak.js';
import { spectralRollOff } from '../../src/features/spectral-roll-off.js';
import { zeroCrossingRate } from '../../src/features/zero-crossing-rate.js';
import { whiteNoise } from '../lib/random.js';

/** A sine of amplitude 0.5 that starts at 0.3 rad, so that no sample is exactly 0. */
const sine = (frequencyHz: number, sampleRateHz: number, length: number, amplitude = 0.5) =>
  Float32Array.from(
    { length },
    (_, n) => amplitude * Math.sin((2 * Math.PI * frequencyHz * n) / sampleRateHz + 0.3),
  );

describe('a sine on bin 100 of a 1024-point Hann frame', () => {
  const binHz = 48000 / 1024;
  // Enough for frames that lie wholly inside, far from both ends.
  const analysed = () =>
    analyse(sine(100 * binHz, 48000, 12000), { sampleRateHz: 48000, frameSeconds: 1024 / 48000 });
  const row = 20;
  // 32-bit samples carry rounding of about 2^-25 of the amplitude in every bin: 1e-15 of the power, 500 bins of it
  // up to 250 bins away: 1e-8 bins² of variance, and less for the centroid.
  const rounding = 1e-6;

  // The transform of a Hann window is 1/2, 1, 1/2 on three bins (closed form), in power 1/4, 1, 1/4.
  it('has its centroid and its peak at its frequency', () => {
    const { columns } = analysed();
    expect(Math.abs((columns.centroidHz[row] as number) / binHz - 100)).toBeLessThan(rounding);
    expect(Math.abs((columns.peakHz[row] as number) / binHz - 100)).toBeLessThan(rounding);
  });

  it('has the spread √(1/3) bins', () => {
    const { columns } = analysed();
    expect(Math.abs((columns.spreadHz[row] as number) / binHz - Math.sqrt(1 / 3))).toBeLessThan(rounding);
  });

  it('has skewness 0 and excess kurtosis 0', () => {
    const { columns } = analysed();
    // m4 = 1/3 and m2² = 1/9, so m4/m2² − 3 = 0. The powers of 250 bins lift the rounding by 250² more.
    expect(Math.abs(columns.skewness[row] as number)).toBeLessThan(1e-4);
    expect(Math.abs(columns.excessKurtosis[row] as number)).toBeLessThan(1e-3);
  });

  it('has its 85 % roll-off one bin above', () => {
    const { columns } = analysed();
    // Up to bin 100 lie 1.25/1.5 = 83.3 % of the power.
    expect(columns.rollOffHz[row]).toBe(101 * binHz);
  });

  it('has the level 20·log10(0.5) − 3.01 dB and the mean square 1/8 in its band', () => {
    const { columns, settings } = analysed();
    expect(columns.levelDb[row]).toBeCloseTo(10 * Math.log10(0.125), 6);
    const band = settings.bands.findIndex((b) => b.lowHz <= 100 * binHz && 100 * binHz < b.highHz);
    expect(columns.bandEnergies[band]?.[row]).toBeCloseTo(0.125, 7);
    const total = columns.bandEnergies.reduce((sum, column) => sum + (column[row] as number), 0);
    expect(total).toBeCloseTo(0.125, 7);
  });

  it('has no flatness', () => {
    const { columns } = analysed();
    // Nothing but rounding stands in the flatness band beside three bins.
    expect(columns.flatness[row]).toBeLessThan(1e-10);
  });

  it('has no flux while it lasts', () => {
    const { columns } = analysed();
    // Its magnitudes are the same in every frame; those of the rounding are 1e-7 of them, in 340 bins.
    expect(columns.flux[row]).toBeLessThan(1e-4);
  });
});

describe('a sine between bins', () => {
  it('has its peak within 0.02 bins', () => {
    // Closed form of the log parabola through a Hann window's transform: at most 0.0160 bins; the rest is for the
    // mirror image at −f, 200 bins away.
    const binHz = 48000 / 1024;
    for (let offset = -0.5; offset <= 0.5; offset += 0.05) {
      const { columns } = analyse(sine((100 + offset) * binHz, 48000, 9600), {
        sampleRateHz: 48000,
        frameSeconds: 1024 / 48000,
        features: ['peakHz'],
      });
      expect(Math.abs((columns.peakHz[20] as number) / binHz - 100 - offset)).toBeLessThan(0.02);
    }
  });

  it.each([200, 1000, 3137.7, 7919])('of %d Hz crosses zero 2f times a second', (frequencyHz) => {
    const rate = zeroCrossingRate(sine(frequencyHz, 48000, 48001), 48000);
    // One second of samples: the count is off by one at most.
    expect(Math.abs(rate - 2 * frequencyHz)).toBeLessThanOrEqual(1);
  });
});

describe('periodicity', () => {
  it('of a sine whose period is a whole number of samples at 8 kHz is 1', () => {
    // At 8 kHz nothing is averaged, and y[n] = y[n + L] makes numerator and denominator equal; 32-bit rounding.
    for (const period of [10, 20, 40, 80])
      expect(periodicity(sine(8000 / period, 8000, 320), 8000)).toBeGreaterThan(1 - 1e-6);
  });

  it('of a sine at 48 kHz is 1 less the loss of averaging six samples', () => {
    // The average of D samples passes sin(πfD/fs)/(D·sin(πf/fs)) of the amplitude: closed form. Blocks of six see the
    // lag 40 of 200 Hz exactly. What is lost besides: the phase of the blocks at the ends of the sums, below 1e-3.
    const gain = Math.sin((Math.PI * 200 * 6) / 48000) / (6 * Math.sin((Math.PI * 200) / 48000));
    expect(Math.abs(periodicity(sine(200, 48000, 1440), 48000) - gain ** 2)).toBeLessThan(1e-3);
  });

  it('finds a vowel-like pulse train at every sample rate, and noise below it', () => {
    for (const sampleRateHz of [8000, 22050, 44100, 96000, 192000]) {
      const length = Math.round(0.03 * sampleRateHz);
      const voiced = Float32Array.from({ length }, (_, n) => {
        const t = n / sampleRateHz;
        let sum = 0;
        // Partials of 150 Hz that fall by 12 dB an octave, as a voice's source does (common practice, no source).
        for (let h = 1; h <= 20; h++) sum += Math.sin(2 * Math.PI * 150 * h * t + h) / h ** 2;
        return 0.2 * sum;
      });
      expect(periodicity(voiced, sampleRateHz)).toBeGreaterThan(0.9);
      // r of noise has a standard deviation of at most 1/√120 (half of the frame's 240 blocks); the greatest of about
      // 100 lags stays under five of those.
      expect(periodicity(whiteNoise(5, length), sampleRateHz)).toBeLessThan(5 / Math.sqrt(120));
    }
  });

  it('of noise over a faint hum stays low, for the energy of the whole band counts', () => {
    // High-passed noise by a second difference, and a 100 Hz hum 20 dB below it.
    const white = whiteNoise(6, 1442);
    const noise = Float32Array.from({ length: 1440 }, (_, n) => {
      const second = (white[n] as number) - 2 * (white[n + 1] as number) + (white[n + 2] as number);
      return second + 0.024 * Math.SQRT2 * Math.sin((2 * Math.PI * 100 * n) / 48000);
    });
    // The second difference of noise of RMS 0.1 has RMS 0.245, so the hum holds 1 % of the energy.
    expect(periodicity(noise, 48000)).toBeLessThan(0.05);
  });

  it('is 0 for silence, DC, a slow drift and frames too short for a lag', () => {
    expect(periodicity(new Float32Array(1440), 48000)).toBe(0);
    expect(periodicity(new Float32Array(1440).fill(0.1), 48000)).toBe(0);
    expect(periodicity(sine(5, 48000, 1440), 48000)).toBe(0);
    expect(periodicity(sine(200, 48000, 20), 48000)).toBe(0);
    expect(periodicity(new Float32Array(0), 48000)).toBe(0);
  });

  it('looks neither beyond the longest period that is asked for nor beyond half of the frame', () => {
    // A cosine falls from 1 to −1 over half of its period, 40 of 80 lags here, and then rises up to the period itself: no peak before that.
    const cosine = (length: number) =>
      Float32Array.from({ length }, (_, n) => 0.5 * Math.cos((2 * Math.PI * n) / 80));
    expect(periodicity(cosine(320), 8000, { lowestHz: 80, highestHz: 1000 })).toBeGreaterThan(0.99);
    expect(periodicity(cosine(320), 8000, { lowestHz: 200, highestHz: 1000 })).toBe(0);
    expect(periodicity(cosine(120), 8000, { lowestHz: 80, highestHz: 1000 })).toBe(0);
  });

  it('of two channels in opposite polarity is that of one', () => {
    const one = sine(220, 48000, 1440);
    const both = periodicity([one, one.map((x) => -x)], 48000);
    // Products of equal numbers, summed twice: rounding only.
    expect(Math.abs(both - periodicity(one, 48000))).toBeLessThan(1e-12);
  });
});

describe('flux', () => {
  it('of a step up from gain g to h is 1 − g/h, of a step down 0', () => {
    // A square wave whose period divides the hop: every frame holds the same, up to gain. Frames touch, so the step
    // at a frame's first sample leaves none of them mixed.
    const frame = 960;
    const step = 10 * frame + frame / 2;
    for (const [g, h] of [
      [0.25, 1],
      [0.5, 0.75],
      [0, 0.5],
    ] as const) {
      const wave = (n: number) => (n % 48 < 24 ? 1 : -1) * (n % 48 < 7 ? 0.5 : 1);
      const up = Float32Array.from({ length: 20 * frame }, (_, n) => wave(n) * (n < step ? g : h));
      const down = Float32Array.from({ length: 20 * frame }, (_, n) => wave(n) * (n < step ? h : g));
      const flux = (samples: Float32Array<ArrayBuffer>) =>
        analyse(samples, { sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.02, features: ['flux'] })
          .columns.flux;
      // Rounding of the transform only, 1e-16 of the peak in each of 320 bins.
      expect(Math.abs((flux(up)[11] as number) - (1 - g / h))).toBeLessThan(1e-9);
      expect(Math.abs(flux(up)[10] as number)).toBeLessThan(1e-9);
      expect(Math.abs(flux(down)[11] as number)).toBeLessThan(1e-9);
      expect(flux(up)[0]).toBe(0);
    }
  });

  it('is 0 for a first frame and for silence', () => {
    expect(spectralFlux(Float64Array.of(1, 2), null, 100)).toBe(0);
    expect(spectralFlux(new Float64Array(2), Float64Array.of(1, 2), 100)).toBe(0);
  });
});

describe('conventions', () => {
  it('counts a bin on a lower edge in and one on an upper edge out', () => {
    const power = Float64Array.of(1, 10, 100, 1000, 10000);
    const edges = [
      { lowHz: 0, highHz: 0.3 },
      { lowHz: 0.3, highHz: 0.4 },
      { lowHz: 0.4, highHz: Number.POSITIVE_INFINITY },
      { lowHz: 5, highHz: 6 },
    ];
    // 3·0.1 is 0.30000000000000004 in doubles, so bin 3 lies above the edge 0.3 and still belongs to its band.
    expect(Array.from(bandEnergies(power, 0.1, edges))).toEqual([111, 1000, 10000, 0]);
  });

  it('covers the spectrum without gap: bands that touch sum to Parseval’s mean square', () => {
    const noise = whiteNoise(9, 48000);
    const { columns, grid } = analyse(noise, {
      sampleRateHz: 48000,
      bands: [0, 100, 1234.5, 6000, 15000].map((lowHz, i, all) => ({
        lowHz,
        highHz: all[i + 1] ?? Number.POSITIVE_INFINITY,
      })),
    });
    // Parseval: the one-sided bins sum to Σ(w·x)²/Σw², for Hann w of 960 points Σw² = 3/8·960 (references.md C1).
    for (const row of [10, 77, 151]) {
      let expected = 0;
      for (let n = 0; n < 960; n++) {
        const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / 960);
        expected += (w * (noise[row * grid.hopSamples - 480 + n] as number)) ** 2;
      }
      expected /= 0.375 * 960;
      const sum = columns.bandEnergies.reduce((total, column) => total + (column[row] as number), 0);
      // Rounding of 513 sums.
      expect(Math.abs(sum / expected - 1)).toBeLessThan(1e-12);
    }
  });

  it('keeps the sign before a zero', () => {
    const crossings = (...x: number[]) =>
      (zeroCrossingRate(Float32Array.of(...x), 8000) * (x.length - 1)) / 8000;
    expect(crossings(1, 0, -1)).toBe(1);
    expect(crossings(1, 0, 0, 1)).toBe(0);
    expect(crossings(0, 0, 1, 1)).toBe(0);
    expect(crossings(-1, -0, 1, 0)).toBe(1);
    expect(zeroCrossingRate(Float32Array.of(1), 8000)).toBe(0);
  });

  it('weights the zero crossings of channels by their power', () => {
    const alternating = Float32Array.of(3, -3, 3, -3, 3);
    expect(zeroCrossingRate([alternating, new Float32Array(5)], 8000)).toBe(8000);
    expect(zeroCrossingRate([alternating, Float32Array.of(1, 1, 1, 1, 1)], 8000)).toBe(7200);
  });

  it('reads 0 dBFS from a full-scale square wave and −3.01 dBFS from a full-scale sine', () => {
    // The sine's mean square of 1/2 is the reference of ITU-R BS.1770 (references.md C4: from memory there).
    expect(level(Float32Array.of(1, -1, -1, 1))).toBe(0);
    expect(level(sine(1000, 48000, 48000, 1))).toBeCloseTo(-3.0103, 4);
    expect(level([Float32Array.of(1, 1), Float32Array.of(0, 0)])).toBeCloseTo(-3.0103, 4);
    expect(level(new Float32Array(0))).toBe(Number.NEGATIVE_INFINITY);
  });

  it('puts the roll-off on the bin that reaches the share', () => {
    const power = Float64Array.of(0, 1, 1, 1, 1, 0);
    expect(spectralRollOff(power, 10, { share: 0.5 })).toBe(20);
    expect(spectralRollOff(power, 10, { share: 0.51 })).toBe(30);
    expect(spectralRollOff(power, 10, { share: 1 })).toBe(40);
    expect(spectralRollOff(new Float64Array(4), 10)).toBe(0);
  });

  it('refines a peak only where both neighbours are weaker and hold power', () => {
    // ln of 1, e², e: a = −2, c = −1 about the peak, so 1 + (−2 + 1)/(2·(−3)) = 1 + 1/6.
    expect(spectralPeak(Float64Array.of(1, Math.E ** 2, Math.E), 6)).toBeCloseTo(7, 12);
    expect(spectralPeak(Float64Array.of(0, 4, 1), 6)).toBe(6);
    expect(spectralPeak(Float64Array.of(8, 4, 1), 6, { lowHz: 6, highHz: 100 })).toBe(6);
    expect(spectralPeak(Float64Array.of(4, 1, 1), 6)).toBe(0);
    expect(spectralPeak(new Float64Array(3), 6)).toBe(0);
  });
});
