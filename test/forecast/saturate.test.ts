import { describe, expect, test } from 'vitest';
import type { SaturationCurve } from '../../src/forecast/chain.js';
import { HALF_BAND_REJECTION_DB, halfBandTaps, passEdge } from '../../src/forecast/half-band.js';
import { createSaturation, saturate } from '../../src/forecast/saturate.js';
import { saturateValue } from '../../src/forecast/saturation-curve.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { whiteNoise } from '../lib/random.js';
import { binAmplitudes, binHz, decibels, tones, WINDOW } from './tones.js';

const RATE = 48000;
const SETTLED = WINDOW / 2;

/** Greatest amplitude under 20 kHz on any bin that is not expected, in dB. */
function worstElseDb(amplitudes: Float64Array, expected: readonly number[], rate = RATE): number {
  let worst = 0;
  for (let k = 0; binHz(k, rate) < 20000; k++)
    if (!expected.includes(k)) worst = Math.max(worst, amplitudes[k]!);
  return decibels(worst);
}

// Tolerance of a harmonic's amplitude: two filters of 100 dB rejection ripple by 1e-5 each, on the way up and down
// through two doublings 4e-5 of the fundamental.
const RIPPLE = 4e-5;

describe('harmonics', () => {
  // (a·sin)³ = a³·(3·sin θ − sin 3θ)/4, so u − u³/3 gives a − a³/4 and a³/12 (computed from its figures, Chebyshev).
  test('of the cubic curve are a − d²a³/4 and d²a³/12', () => {
    for (const [amplitude, driveDb] of [
      [0.5, 0],
      [0.9, 0],
      [0.2, 12],
    ] as const) {
      const d = 10 ** (driveDb / 20);
      for (const oversampling of [2, 4, 8]) {
        const out = saturate(tones([683], amplitude), {
          curve: 'cubic',
          driveDb,
          oversampling,
          sampleRateHz: RATE,
        });
        const found = binAmplitudes(out, SETTLED);
        expect(Math.abs(found[683]! - (amplitude - (d * d * amplitude ** 3) / 4))).toBeLessThan(
          RIPPLE * amplitude,
        );
        expect(Math.abs(found[3 * 683]! - (d * d * amplitude ** 3) / 12)).toBeLessThan(RIPPLE * amplitude);
        expect(worstElseDb(found, [683, 3 * 683])).toBeLessThan(-100);
      }
    }
  });

  // With bias b: (u + b) − (u + b)³/3 has the second harmonic b·a²/2, the offset −b·a²/2, the fundamental
  // a·(1 − b²) − a³/4, all over the slope 1 − b² (computed from published figures).
  test('of the cubic curve with a bias are even too', () => {
    const a = 0.6;
    const b = 0.3;
    const out = saturate(tones([500], a), { curve: 'cubic', driveDb: 0, bias: b, sampleRateHz: RATE });
    const found = binAmplitudes(out, SETTLED);
    const slope = 1 - b * b;
    expect(Math.abs(found[0]! - (b * a * a) / 2 / slope)).toBeLessThan(RIPPLE);
    expect(Math.abs(found[500]! - (a - a ** 3 / 4 / slope))).toBeLessThan(RIPPLE);
    expect(Math.abs(found[1000]! - (b * a * a) / 2 / slope)).toBeLessThan(RIPPLE);
    expect(Math.abs(found[1500]! - a ** 3 / 12 / slope)).toBeLessThan(RIPPLE);
  });

  // Two tones of amplitude a: fundamentals a − 3a³/4, products at 2f₁ − f₂ and 2f₂ − f₁ of a³/4 (computed from published figures). The tones lie so
  // high that every other product is above 20 kHz: without oversampling they would fold to below it.
  test('of two high tones fall where they belong, and nothing folds below 20 kHz', () => {
    const a = 0.45;
    const first = 10243;
    const second = 11269;
    const expected = [first, second, 2 * first - second, 2 * second - first];
    for (const oversampling of [2, 4, 8]) {
      const out = saturate(tones([first, second], a), {
        curve: 'cubic',
        driveDb: 0,
        oversampling,
        sampleRateHz: RATE,
      });
      const found = binAmplitudes(out, SETTLED);
      for (const bin of [first, second])
        expect(Math.abs(found[bin]! - (a - (3 * a ** 3) / 4))).toBeLessThan(RIPPLE);
      for (const bin of expected.slice(2)) expect(Math.abs(found[bin]! - a ** 3 / 4)).toBeLessThan(RIPPLE);
      expect(worstElseDb(found, expected)).toBeLessThan(-100);
    }
    const plain = saturate(tones([first, second], a), {
      curve: 'cubic',
      driveDb: 0,
      oversampling: 1,
      sampleRateHz: RATE,
    });
    expect(worstElseDb(binAmplitudes(plain, SETTLED), expected)).toBeGreaterThan(-40);
  });

  // atan(k·sin θ) = 2·Σ (pⁿ/n)·sin nθ over odd n, p = (√(1 + k²) − 1)/k: the imaginary part of 2·artanh(p·e^iθ) (computed from published figures).
  test('of the arctangent are those of its series', () => {
    const a = 0.5;
    const driveDb = 9;
    const k = (Math.PI / 2) * a * 10 ** (driveDb / 20);
    const p = (Math.sqrt(1 + k * k) - 1) / k;
    const out = saturate(tones([683], a), {
      curve: 'arctangent',
      driveDb,
      oversampling: 8,
      sampleRateHz: RATE,
    });
    const found = binAmplitudes(out, SETTLED);
    const harmonics: number[] = [];
    for (let n = 1; binHz(n * 683, RATE) < 20000; n += 2) {
      harmonics.push(n * 683);
      const expected = ((2 / Math.PI) * 2 * p ** n) / n / 10 ** (driveDb / 20);
      expect(Math.abs(found[n * 683]! - expected)).toBeLessThan(RIPPLE);
    }
    expect(worstElseDb(found, harmonics)).toBeLessThan(-100);
  });

  // Fourier integral of the curve's formula over one period, by 4,096 points (exact for periodic analytic functions).
  test('of tanh and of a biased tanh are those of its Fourier integral', () => {
    for (const bias of [0, 0.4]) {
      const a = 0.5;
      const driveDb = 12;
      const d = 10 ** (driveDb / 20);
      const value = (x: number) =>
        (Math.tanh(d * x + bias) - Math.tanh(bias)) / (d * (1 - Math.tanh(bias) ** 2));
      const out = saturate(tones([683], a), { curve: 'tanh', driveDb, bias, sampleRateHz: RATE });
      const found = binAmplitudes(out, SETTLED);
      for (let n = 1; binHz(n * 683, RATE) < 20000; n++) {
        let re = 0;
        let im = 0;
        for (let i = 0; i < 4096; i++) {
          const y = value(a * Math.sin((2 * Math.PI * i) / 4096));
          re += y * Math.cos((2 * Math.PI * ((n * i) % 4096)) / 4096);
          im += y * Math.sin((2 * Math.PI * ((n * i) % 4096)) / 4096);
        }
        expect(Math.abs(found[n * 683]! - Math.hypot(re, im) / 2048)).toBeLessThan(RIPPLE);
      }
    }
  });
});

describe('the curves', () => {
  // Formulas of the documentation; the table behind tanh is within 7e-10 (Hermite error bound), stated there.
  const formulas: Readonly<Record<SaturationCurve, (u: number) => number>> = {
    tanh: Math.tanh,
    arctangent: (u) => (2 / Math.PI) * Math.atan((Math.PI * u) / 2),
    cubic: (u) => (Math.abs(u) <= 1 ? u - u ** 3 / 3 : (Math.sign(u) * 2) / 3),
    clip: (u) => (Math.abs(u) <= 1 ? u : Math.sign(u)),
  };

  test('are the stated formulas, with slope 1 at 0 whatever drive and bias', () => {
    for (const [curve, f] of Object.entries(formulas) as [SaturationCurve, (u: number) => number][])
      for (const driveDb of [-20, 0, 15, 40])
        for (const bias of [0, -0.5, 0.9]) {
          const d = 10 ** (driveDb / 20);
          const slope = (f(bias + 1e-6) - f(bias - 1e-6)) / 2e-6;
          for (const x of [-3, -0.3, 0, 1e-3, 0.7, 20]) {
            const expected = (f(d * x + bias) - f(bias)) / (d * slope);
            // 1e-9 relative for the slope by differences, 7e-10·2 for the table, both over the drive.
            expect(Math.abs(saturateValue(x, { curve, driveDb, bias }) - expected)).toBeLessThan(
              (3e-9 / d / slope) * (1 + Math.abs(d * expected)),
            );
          }
          expect(saturateValue(0, { curve, driveDb, bias })).toBe(0);
          const small = 1e-7 / d;
          expect(saturateValue(small, { curve, driveDb, bias }) / small).toBeCloseTo(1, 2);
        }
  });
});

describe('oversampling', () => {
  // A half-band filter: H(f) = ½ + Σ g[i]·cos(2π(2i + 1)f), with f a share of the higher rate (computed from published figures). The share of the
  // lower rate that passes moves between 44.1 and 50 kHz and stands still beyond.
  test('filters hold the stop band down by the stated rejection at every sample rate', () => {
    let worst = 0;
    for (let rate = 44100; rate <= 50100; rate += 250)
      for (const doubled of [1, 2, 4]) {
        const edge = passEdge(rate);
        const taps = halfBandTaps((doubled - 2 * edge) / (2 * doubled));
        for (let f = (doubled - edge) / (2 * doubled); f <= 0.5; f += 0.001) {
          let h = 0.5;
          taps.forEach((g, i) => {
            h += g * Math.cos(2 * Math.PI * (2 * i + 1) * f);
          });
          worst = Math.max(worst, Math.abs(h));
        }
      }
    expect(decibels(worst)).toBeLessThan(-HALF_BAND_REJECTION_DB);
    expect(passEdge(48000) * 48000).toBeCloseTo(20000, 9);
    expect(passEdge(44100) * 44100).toBeCloseTo(20000, 9);
  });

  // A product n·f above 4 · 48 kHz − 20 kHz folds to |n·f − m · 192 kHz|; its level is the Fourier integral of the curve, which
  // for a clipped sine falls with 1/n². 0.5 dB: of two products that fold to neighbouring places the filters pass each alike.
  test('lets fold back only what the curve itself makes beyond the reach of the higher rate', () => {
    const bin = 5461;
    const driveDb = 12;
    const drive = 10 ** (driveDb / 20);
    const out = saturate(tones([bin], 0.5), { curve: 'clip', driveDb, sampleRateHz: RATE });
    const found = binAmplitudes(out, SETTLED);
    let predicted = 0;
    for (let n = 3; n < 400; n += 2) {
      const folded = Math.abs(n * bin - 4 * WINDOW * Math.round((n * bin) / (4 * WINDOW)));
      if (n * bin < 2 * WINDOW || binHz(folded, RATE) > 20000) continue;
      let sum = 0;
      for (let i = 0; i < 65536; i++) {
        const angle = (2 * Math.PI * (i + 0.5)) / 65536;
        sum += Math.max(-1, Math.min(1, drive * 0.5 * Math.sin(angle))) * Math.sin(n * angle);
      }
      predicted = Math.max(predicted, Math.abs(sum / 32768 / drive));
    }
    const worst = worstElseDb(found, [bin, 3 * bin]);
    expect(Math.abs(worst - decibels(predicted))).toBeLessThan(0.5);
  });

  // A clip that is never reached is a wire: what comes out is the input through the filters, ripple 1e-5 for each of up to six.
  test('alone leaves sound up to 20 kHz as it is and where it is', () => {
    for (const rate of [44100, 48000, 96000])
      for (const oversampling of [2, 4, 8]) {
        const bins = [100, 3000, 9001, 13600].filter((k) => binHz(k, rate) <= 20000);
        const input = tones(bins, 0.1);
        const out = saturate(input, { curve: 'clip', driveDb: 0, oversampling, sampleRateHz: rate });
        let worst = 0;
        for (let i = SETTLED; i < SETTLED + WINDOW; i++)
          worst = Math.max(worst, Math.abs(out[i]! - input[i]!));
        expect(worst).toBeLessThan(6e-5 * 0.1 * bins.length);
      }
  });

  test('lets dry and wet line up: their mix is the input', () => {
    const input = tones([100, 5000, 12000], 0.1);
    const out = saturate(input, { curve: 'clip', driveDb: 0, wet: 0.5, sampleRateHz: RATE });
    for (let i = SETTLED; i < SETTLED + 1000; i++) expect(Math.abs(out[i]! - input[i]!)).toBeLessThan(2e-5);
  });
});

describe('the paths', () => {
  const input = whiteNoise(5, 4000, 0.3);

  test('mix as stated', () => {
    const options = { curve: 'tanh', driveDb: 10, sampleRateHz: RATE } as const;
    const wet = saturate(input, options);
    const out = saturate(input, { ...options, wet: 0.25, makeUpDb: -3 });
    for (let i = 0; i < input.length; i += 13) {
      const expected = 0.75 * input[i]! + 0.25 * 10 ** (-3 / 20) * wet[i]!;
      // The wet path has been rounded to 32 bits once more here.
      expect(Math.abs(out[i]! - expected)).toBeLessThan(1e-7);
    }
    expect(saturate(input, { ...options, wet: 0 })).toEqual(input);
  });

  test('give silence for silence and empty for empty, and do not change the input', () => {
    const before = input.slice();
    for (const bias of [0, 0.5]) {
      const options = { curve: 'tanh', driveDb: 20, bias, sampleRateHz: RATE } as const;
      saturate(input, options);
      expect(Math.max(...saturate(new Float32Array(600), options).map(Math.abs))).toBe(0);
      expect(saturate(new Float32Array(0), options).length).toBe(0);
    }
    expect(input).toEqual(before);
  });
});

test('blocks of any lengths give the bits of the whole clip, later by the stated latency', () => {
  const channels = [whiteNoise(6, 3000, 0.5), whiteNoise(7, 3000, 0.2)];
  for (const sampleRateHz of [44100, 48000])
    for (const oversampling of [1, 2, 4, 8])
      for (const lengths of [[1], [0, 7, 64, 1], [511, 513], [3000]]) {
        const options = {
          curve: 'tanh',
          driveDb: 15,
          bias: 0.2,
          wet: 0.7,
          oversampling,
          sampleRateHz,
        } as const;
        const whole = saturate(channels, options);
        const saturation = createSaturation({ ...options, channelCount: 2 });
        const { latencySamples } = saturation;
        expect(Number.isInteger(latencySamples)).toBe(true);
        expect(latencySamples === 0).toBe(oversampling === 1);
        const heard: number[][] = [[], []];
        const padded = channels.map((x) => Float32Array.of(...x, ...new Float32Array(latencySamples)));
        for (const block of blocksOf(padded as Samples[], lengths)) {
          const out = block.map((x) => x.slice());
          saturation.pushInto(out, out);
          out.forEach((x, c) => {
            heard[c]!.push(...x);
          });
        }
        expect(heard.map((x) => Float32Array.from(x.slice(latencySamples)))).toEqual(whole);
        expect(heard[0]!.slice(0, Math.max(0, latencySamples / 2)).every((x) => Math.abs(x) < 0.05)).toBe(
          true,
        );
      }
});

test('settings that cannot be are refused by name', () => {
  const input = new Float32Array(1);
  const good = { curve: 'tanh', driveDb: 0, sampleRateHz: RATE } as const;
  expect(() => saturate(input, { ...good, curve: 'tube' as never })).toThrow(
    'saturate: curve must be one of tanh, arctangent, cubic, clip; received "tube"',
  );
  expect(() => saturate(input, { ...good, oversampling: 3 })).toThrow(
    'saturate: oversampling must be one of 1, 2, 4, 8; received 3',
  );
  expect(() => saturate(input, { ...good, bias: 1 })).toThrow('bias must lie within [-0.9, 0.9]');
  expect(() => saturate(input, { ...good, wet: 1.5 })).toThrow('wet must lie within [0, 1]');
  expect(() => saturateValue(Number.NaN, { curve: 'tanh', driveDb: 0 })).toThrow(RangeError);
  expect(() => createSaturation({ ...good, channelCount: 0 })).toThrow('channelCount');
});
