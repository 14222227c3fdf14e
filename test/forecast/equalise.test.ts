import { describe, expect, test } from 'vitest';
import { createEqualiser, equalise } from '../../src/forecast/equalise.js';
import { filterSections } from '../../src/forecast/filter-sections.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { frequencyResponse } from '../../src/signal/frequency-response.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 48000;
const bright = [
  { kind: 'highPass', frequencyHz: 300, q: 0.9 },
  { kind: 'peaking', frequencyHz: 3000, q: 1.5, gainDb: 4 },
  { kind: 'highShelf', frequencyHz: 8000, gainDb: -5, slope: 0.7 },
] as const;

function impulse(length: number): Samples {
  const samples = new Float32Array(length);
  samples[0] = 1;
  return samples;
}

// Audio EQ Cookbook; coefficients of references.md C6 (computed from published figures), put through the difference equation by hand:
// h0 = b0, h1 = b1 − a1·h0, h2 = b2 − a1·h1 − a2·h0. 6e-8: the 32-bit output.
test('the impulse response begins as the published coefficients say', () => {
  const b = [0.6018441187366628, -0.47043675142665836, 0.16955558101713294] as const;
  const a = [-1.0884132620339568, 0.38937621036109443] as const;
  const h0 = b[0];
  const h1 = b[1] - a[0] * h0;
  const h2 = b[2] - a[0] * h1 - a[1] * h0;
  const out = equalise(impulse(3), {
    filters: [{ kind: 'highShelf', frequencyHz: 6000, gainDb: -6 }],
    sampleRateHz: RATE,
  });
  [h0, h1, h2].forEach((h, i) => {
    expect(Math.abs(out[i]! - h)).toBeLessThan(6e-8);
  });
});

// The dry path is not delayed, so the mix has the response 1 − w + w·H (computed from published figures). The impulse response has died away by
// 16,384 samples; 2e-5 of amplitude: 16,384 roundings to 32 bits that add up at random, 128 · 3e-8, and a margin of 5.
test('the filters work in a row, and dry and wet mix as 1 − w + w·H', () => {
  const size = 16384;
  for (const wet of [1, 0.4]) {
    const spectrum = new Float64Array(size + 2);
    const out = equalise(impulse(size), { filters: bright, wet, sampleRateHz: RATE });
    createFftPlan(size).forwardReal(Float64Array.from(out), spectrum);
    const bins = [10, 100, 500, 1024, 3000, 6000, 8000];
    const response = frequencyResponse(
      filterSections(bright, { sampleRateHz: RATE }),
      bins.map((k) => (k * RATE) / size),
      { sampleRateHz: RATE },
    );
    bins.forEach((k, i) => {
      expect(Math.abs(spectrum[2 * k]! - (1 - wet + wet * response.real[i]!))).toBeLessThan(2e-5);
      expect(Math.abs(spectrum[2 * k + 1]! - wet * response.imaginary[i]!)).toBeLessThan(2e-5);
    });
  }
});

// Closed forms of the cookbook's prototypes: gain at the centre of a bell, half the dB at the midpoint of a shelf,
// −3.0103 dB at the corner of a Butterworth pass.
test('every kind of filter has its gain where the cookbook puts it', () => {
  const gain = (filter: Parameters<typeof filterSections>[0][number]) => {
    const { real, imaginary } = frequencyResponse(
      filterSections([filter], { sampleRateHz: RATE }),
      [filter.frequencyHz],
      {
        sampleRateHz: RATE,
      },
    );
    return 20 * Math.log10(Math.hypot(real[0]!, imaginary[0]!));
  };
  const frequencyHz = 2500;
  expect(gain({ kind: 'lowPass', frequencyHz })).toBeCloseTo(-3.0103, 4);
  expect(gain({ kind: 'highPass', frequencyHz })).toBeCloseTo(-3.0103, 4);
  expect(gain({ kind: 'bandPass', frequencyHz, q: 3 })).toBeCloseTo(0, 9);
  expect(gain({ kind: 'peaking', frequencyHz, q: 3, gainDb: -7 })).toBeCloseTo(-7, 9);
  expect(gain({ kind: 'lowShelf', frequencyHz, gainDb: 8 })).toBeCloseTo(4, 9);
  expect(gain({ kind: 'highShelf', frequencyHz, gainDb: 8 })).toBeCloseTo(4, 9);
});

test('blocks of any lengths give the bits of the whole clip, in place too', () => {
  const channels = [whiteNoise(1, 3000), whiteNoise(2, 3000)];
  for (const options of [
    { filters: bright, sampleRateHz: RATE },
    { filters: bright, wet: 0.3, sampleRateHz: RATE },
    { filters: [], wet: 0.3, sampleRateHz: RATE },
  ]) {
    const whole = equalise(channels, options);
    for (const lengths of [[1], [0, 7, 64, 1], [1500]]) {
      const equaliser = createEqualiser({ ...options, channelCount: 2 });
      const heard: number[][] = [[], []];
      for (const block of blocksOf(channels, lengths)) {
        const out = block.map((x) => x.slice());
        equaliser.pushInto(out, out);
        out.forEach((x, c) => {
          heard[c]!.push(...x);
        });
      }
      expect(heard.map((x) => Float32Array.from(x))).toEqual(whole);
    }
  }
});

describe('refuses', () => {
  test('filters that cannot be, by name', () => {
    const run = (filter: object) => () =>
      equalise(new Float32Array(1), { filters: [filter as never], sampleRateHz: RATE });
    expect(run({ kind: 'highShelf', frequencyHz: 30000, gainDb: 1 })).toThrow(
      'equalise: filters[0].frequencyHz must lie above 0 and under half the sample rate (24000); received 30000',
    );
    expect(run({ kind: 'comb', frequencyHz: 300 })).toThrow(
      'equalise: filters[0].kind must be one of lowPass',
    );
    expect(run({ kind: 'bandPass', frequencyHz: 300 })).toThrow('filters[0].q must be a number');
    expect(run({ kind: 'lowPass', frequencyHz: 300, gain: 3 })).toThrow(
      'filters[0] must have only the fields',
    );
    expect(() => equalise(new Float32Array(1), { filters: {} as never, sampleRateHz: RATE })).toThrow(
      'filters must be an array',
    );
    expect(() => filterSections([{ kind: 'x' as never, frequencyHz: 1 }], { sampleRateHz: RATE })).toThrow(
      RangeError,
    );
  });
});
