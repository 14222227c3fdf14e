import { describe, expect, it } from 'vitest';
import { createSibilanceMeter, sibilanceOf } from '../../src/forecast/sibilance-meter.js';
import { dB, ess, gap, takeOf, vowel } from './material.js';

const { samples, list } = takeOf([gap(0.4), vowel(0.2), gap(0.05), ess(0.1), gap(0.4)]);
const meter = createSibilanceMeter([samples], list, list.regions, 0.15);

describe('the sibilance meter', () => {
  it('measures tones by their mean squares, and the difference of both', () => {
    const [heard] = meter.measure([samples]);
    // The vowel is read from blocks that lie wholly in it and have whole periods; the s through the filters of its band, which a tone in its
    // middle passes: 0.1 dB.
    expect(Math.abs(heard!.voiceDb! - dB(0.2 / Math.SQRT2))).toBeLessThan(0.1);
    expect(Math.abs(sibilanceOf(heard!)! - dB(0.1 / 0.2))).toBeLessThan(0.1);
  });

  it('does not hear an offset in the voice', () => {
    const [plain] = meter.measure([samples]);
    const [raised] = meter.measure([samples.map((x) => x + 0.3)]);
    // Samples are rounded to 2^−25 of 0.5 with the offset: 1e-7 of the amplitude, 1e-5 dB is ten times that.
    expect(Math.abs(raised!.voiceDb! - plain!.voiceDb!)).toBeLessThan(1e-5);
  });

  it('follows the gain of what it hears, and averages the powers of channels', () => {
    const [plain] = meter.measure([samples]);
    const [half] = meter.measure([samples.map((x) => x / 2)]);
    expect(half!.voiceDb! - plain!.voiceDb!).toBeCloseTo(dB(0.5), 9);
    expect(half!.noiseDb! - plain!.noiseDb!).toBeCloseTo(dB(0.5), 9);
    const [beside] = meter.measure([samples, new Float32Array(samples.length)]);
    expect(beside!.voiceDb! - plain!.voiceDb!).toBeCloseTo(10 * Math.log10(0.5), 9);
  });

  it('has no noise in silence, but still a voice where one was', () => {
    const [silent] = meter.measure([new Float32Array(samples.length)]);
    expect(silent!.noiseDb).toBe(null);
    // As good as no power: below the least of a 32-bit sample squared.
    expect(silent!.voiceDb).toBeLessThan(-900);
    expect(sibilanceOf(silent!)).toBe(null);
    expect(sibilanceOf({ noiseDb: -3, voiceDb: null })).toBe(null);
    expect(sibilanceOf({ noiseDb: -3, voiceDb: -20 })).toBe(17);
  });
});
