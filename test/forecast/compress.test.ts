import { describe, expect, test } from 'vitest';
import { compress, compressionGain, createCompressor } from '../../src/forecast/compress.js';
import { compressionGainAt } from '../../src/forecast/compression-curve.js';
import { highPass } from '../../src/signal/biquad-design.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 48000;
const base = { thresholdDb: -20, ratio: 4, attackSeconds: 0.01, releaseSeconds: 0.1, sampleRateHz: RATE };

function steps(...parts: readonly (readonly [value: number, length: number])[]): Samples {
  return Float32Array.from(parts.flatMap(([value, length]) => Array<number>(length).fill(value)));
}

function sine(frequencyHz: number, amplitude: number, length: number): Samples {
  return Float32Array.from(
    { length },
    (_, i) => amplitude * Math.sin((2 * Math.PI * frequencyHz * i) / RATE),
  );
}

/** Mean of the last second: the settled gain. */
function settled(gainDb: Float64Array): number {
  const tail = gainDb.subarray(gainDb.length - RATE);
  return tail.reduce((sum, x) => sum + x, 0) / tail.length;
}

// Giannoulis, Massberg and Reiss 2012 (from memory): y1 = max(c, αR·y1 + (1−αR)·c), y = αA·y + (1−αA)·y1, α = exp(−1/(τ·rate)).
// The closed forms below follow from them by hand (computed from published figures). 1e-9 dB: tens of thousands of roundings of doubles near 15.
describe('smoothing of the gain', () => {
  const alphaA = Math.exp(-1 / (0.01 * RATE));
  const alphaR = Math.exp(-1 / (0.1 * RATE));

  test('answers a step to 0 dBFS with −15·(1 − αA^n) dB: 63.2 % after the attack time', () => {
    const gain = compressionGain(steps([1, 4800]), base);
    for (const n of [1, 10, 480, 1000, 4800])
      expect(Math.abs(gain[n - 1]! + 15 * (1 - alphaA ** n))).toBeLessThan(1e-9);
    expect(gain[479]! / -15).toBeCloseTo(1 - 1 / Math.E, 9);
  });

  test('comes back as the two smoothers in a row do', () => {
    const gain = compressionGain(steps([1, RATE], [0.01, RATE]), base);
    for (const k of [1, 100, 4800, 20000]) {
      const tail = ((1 - alphaA) * alphaR * (alphaR ** k - alphaA ** k)) / (alphaR - alphaA);
      expect(Math.abs(gain[RATE + k - 1]! + 15 * (alphaA ** k + tail))).toBeLessThan(1e-9);
    }
  });

  test('with attack 0 has the whole reduction at once', () => {
    const gain = compressionGain(steps([1, 3]), { ...base, attackSeconds: 0 });
    for (const g of gain) expect(Math.abs(g + 15)).toBeLessThan(1e-12);
  });
});

describe('smoothing of the level', () => {
  test('puts the curve over an amplitude that rises as 1 − αA^n and falls as αR^n', () => {
    const options = { ...base, smoothing: 'level' as const, kneeDb: 6 };
    const gain = compressionGain(steps([1, RATE], [0, RATE]), options);
    const at = (amplitude: number) => compressionGainAt(20 * Math.log10(amplitude), options);
    for (const n of [1, 100, 480, 4800])
      expect(Math.abs(gain[n - 1]! - at(1 - Math.exp(-n / (0.01 * RATE))))).toBeLessThan(1e-9);
    for (const n of [1, 1000, 9000])
      expect(Math.abs(gain[RATE + n - 1]! - at(Math.exp(-n / (0.1 * RATE))))).toBeLessThan(1e-9);
  });
});

describe('the detector', () => {
  // Between peaks the held reduction decays by 1 − e^(−1/(2·f·τR)) = 0.5 %, of at most 15 dB: 0.08 dB.
  test('as a peak detector gives a steady tone the gain of the curve at its amplitude', () => {
    for (const amplitudeDb of [-12, -6, 0]) {
      const gain = compressionGain(sine(1000, 10 ** (amplitudeDb / 20), 2 * RATE), { ...base, kneeDb: 10 });
      const expected = compressionGainAt(amplitudeDb, { ...base, kneeDb: 10 });
      expect(Math.abs(settled(gain) - expected)).toBeLessThan(0.08);
    }
  });

  // The averaged square of a 1 kHz sine ripples by 1/(2·ω·τ) = 0.08 %: 0.004 dB; the held maximum adds no more than that.
  test('as an RMS detector gives it the gain at 3.01 dB less', () => {
    const options = { ...base, detector: 'rms' as const, averageSeconds: 0.1 };
    const gain = compressionGain(sine(1000, 0.5, 4 * RATE), options);
    const expected = compressionGainAt(20 * Math.log10(0.5 / Math.SQRT2), base);
    expect(Math.abs(settled(gain) - expected)).toBeLessThan(0.008);
  });

  test('averages the square with its own time constant', () => {
    const options = { ...base, attackSeconds: 0, detector: 'rms' as const, averageSeconds: 0.05 };
    const gain = compressionGain(steps([1, 4800]), options);
    for (const n of [100, 2400, 4800]) {
      const levelDb = 10 * Math.log10(1 - Math.exp(-n / (0.05 * RATE)));
      expect(Math.abs(gain[n - 1]! - compressionGainAt(levelDb, base))).toBeLessThan(1e-9);
    }
  });

  // Cookbook high-pass (references.md C6); |H| by frequencyResponse, which has its own tests. Frequencies
  // that share no factor with the rate, so that samples fall on the peaks. 0.05 dB: as the peak test, of at most 10 dB.
  test('hears through its filters, and the sound does not pass them', () => {
    const sidechain = [{ kind: 'highPass', frequencyHz: 5000 }] as const;
    const options = { ...base, thresholdDb: -40, sidechain };
    for (const frequencyHz of [1607, 2903, 5701]) {
      const heard = magnitudeResponseDb(highPass({ sampleRateHz: RATE, frequencyHz: 5000 }), [frequencyHz], {
        sampleRateHz: RATE,
      })[0]!;
      const input = sine(frequencyHz, 0.05, 2 * RATE);
      const expected = compressionGainAt(20 * Math.log10(0.05) + heard, { ...base, thresholdDb: -40 });
      expect(Math.abs(settled(compressionGain(input, options)) - expected)).toBeLessThan(0.05);
      // The output is the input times the gain: nothing was filtered out of it.
      const gain = compressionGain(input, options);
      const output = compress(input, options);
      for (let i = RATE; i < RATE + 100; i++)
        expect(Math.abs(output[i]! - input[i]! * 10 ** (gain[i]! / 20))).toBeLessThan(4e-9);
    }
  });

  test('goes by the greatest of the channels, and turns all of them down alike', () => {
    const loud = whiteNoise(1, 9600, 0.3);
    const soft = Float32Array.from(loud, (x) => x / 1024);
    const [first, second] = compress([loud, soft], base);
    expect(first).toEqual(compress(loud, base));
    // 1/1024 is a power of two: the same gain gives exactly the same digits.
    expect(second).toEqual(Float32Array.from(first!, (x) => x / 1024));
    expect(compress([soft, loud], base)).toEqual([second, first]);
  });
});

describe('the paths', () => {
  const input = whiteNoise(2, 20000, 0.2);

  test('are mixed as stated: dry share plus wet share with make-up', () => {
    const gain = compressionGain(input, base);
    const output = compress(input, { ...base, wet: 0.3, makeUpDb: 5 });
    for (let i = 0; i < input.length; i += 37) {
      const expected = input[i]! * (0.7 + 0.3 * 10 ** ((gain[i]! + 5) / 20));
      // Half a unit in the last place of a 32-bit float, and a little for the doubles.
      expect(Math.abs(output[i]! - expected)).toBeLessThanOrEqual(Math.abs(expected) * 6.1e-8);
    }
  });

  test('leave sound under the knee, ratio 1 and wet 0 as they are, to the bit', () => {
    const quiet = Float32Array.from(input, (x) => x / 64);
    expect(compress(quiet, { ...base, kneeDb: 6 })).toEqual(quiet);
    expect(compress(input, { ...base, ratio: 1 })).toEqual(input);
    expect(compress(input, { ...base, wet: 0 })).toEqual(input);
    expect(Object.is(compressionGain(quiet, base)[5], 0)).toBe(true);
  });

  test('give silence for silence, empty for empty, and do not change the input', () => {
    const before = input.slice();
    compress(input, base);
    expect(input).toEqual(before);
    expect(compress(new Float32Array(100), { ...base, makeUpDb: 20 })).toEqual(new Float32Array(100));
    expect(compress(new Float32Array(0), base).length).toBe(0);
    expect(compress([input], base)).toEqual([compress(input, base)]);
  });
});

test('blocks of any lengths give the bits of the whole clip, in place too', () => {
  const channels = [whiteNoise(3, 5000, 0.2), whiteNoise(4, 5000, 0.1)];
  const variants = [
    base,
    { ...base, smoothing: 'level' as const, detector: 'rms' as const },
    {
      ...base,
      sidechain: [{ kind: 'highPass' as const, frequencyHz: 4000 }],
      wet: 0.5,
      detector: 'rms' as const,
    },
  ];
  for (const options of variants) {
    const whole = compress(channels, options);
    for (const lengths of [[1], [0, 7, 64, 1], [1500, 2000], [1024], [1025]]) {
      const compressor = createCompressor({ ...options, channelCount: 2 });
      const heard: number[][] = [[], []];
      for (const block of blocksOf(channels, lengths)) {
        const out = block.map((x) => x.slice());
        compressor.pushInto(out, out);
        out.forEach((x, c) => {
          heard[c]!.push(...x);
        });
      }
      expect(heard.map((x) => Float32Array.from(x))).toEqual(whole);
      expect(compressor.latencySamples).toBe(0);
    }
  }
});

describe('refuses', () => {
  const input = new Float32Array(4);
  test('settings that cannot be, by name', () => {
    expect(() => compress(input, { ...base, ratio: 0.5 })).toThrow(
      new RangeError('compress: ratio must lie within [1, 1000]; received 0.5'),
    );
    expect(() => compress(input, { ...base, attackSeconds: -0.01 })).toThrow(
      'compress: attackSeconds must lie within [0, 10]; received -0.01',
    );
    expect(() => compress(input, { ...base, releaseSeconds: 0 })).toThrow('releaseSeconds must lie within');
    expect(() => compress(input, { ...base, averageSeconds: 0 })).toThrow('averageSeconds must lie within');
    expect(() => compress(input, { ...base, detector: 'ear' as never })).toThrow(
      'detector must be one of peak, rms; received "ear"',
    );
    expect(() => compress(input, { ...base, sidechain: [{ kind: 'highPass', frequencyHz: 24000 }] })).toThrow(
      'compress: sidechain[0].frequencyHz must lie above 0 and under half the sample rate (24000); received 24000',
    );
    expect(() => compress(input, { ...base, thresholdDb: Number.NaN })).toThrow(RangeError);
    expect(() => compress(input, { ...base, sampleRateHz: 0 })).toThrow('sampleRateHz');
    expect(() => compress(input, undefined as never)).toThrow(TypeError);
  });

  test('samples that are not finite, with their index, before anything changes', () => {
    expect(() => compress(Float32Array.of(0, Number.NaN), base)).toThrow('samples[1] must be finite');
    const compressor = createCompressor(base);
    const out = new Float32Array(2);
    expect(() => compressor.pushInto(out, Float32Array.of(0.5, Number.POSITIVE_INFINITY))).toThrow(
      RangeError,
    );
    expect(Array.from(out)).toEqual([0, 0]);
    expect(() => compressor.pushInto([out, out], [out, out])).toThrow('must have 1 channels');
    expect(() => compressor.pushInto(new Float32Array(3), out)).toThrow('must be as long as the block');
  });
});
