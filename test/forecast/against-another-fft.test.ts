import { type Complex, complex, fft, freqz, ifft } from 'mathjs';
import { expect, test } from 'vitest';
import { createDoubler, createHalver, halfBandTaps } from '../../src/forecast/half-band.js';

/** Pass edge at a quarter less 0.04 of the higher rate. */
const TRANSITION = 0.08;
const taps = halfBandTaps(TRANSITION);
// HALF_BAND_REJECTION_DB is 100 dB, a factor of 1e-5; by symmetry the pass band is as true.
const RIPPLE = 1e-5;

/** Both sides and the middle of the filter, h[−(2m − 1)] to h[2m − 1] with m taps a side. */
const filter = (() => {
  const h = new Array<number>(4 * taps.length - 1).fill(0);
  const middle = 2 * taps.length - 1;
  h[middle] = 0.5;
  taps.forEach((g, i) => {
    h[middle + 2 * i + 1] = g / 2;
    h[middle - 2 * i - 1] = g / 2;
  });
  return h;
})();

test('the half-band filter passes and stops as it says, by the response that mathjs computes', () => {
  const shares = Array.from({ length: 200 }, (_, i) => (i / 199) * (0.25 - TRANSITION / 2));
  const response = (share: number[]): number[] =>
    (
      freqz(
        filter,
        [1],
        share.map((f) => 2 * Math.PI * f),
      ).h as unknown as Complex[]
    ).map(({ re, im }) => Math.hypot(re, im));
  for (const passed of response(shares)) expect(Math.abs(passed - 1)).toBeLessThan(RIPPLE);
  for (const stopped of response(shares.map((f) => 0.5 - f))) expect(stopped).toBeLessThan(RIPPLE);
});

const PERIOD = 128;
/** Tones of the pass band that repeat after PERIOD samples of the lower rate; sum of amplitudes 1.9. */
const TONES = [
  [3, 1],
  [17, 0.5],
  [53, 0.4],
] as const;
/** At twice as many samples a period, times `rate`. */
const tones = (count: number, rate: number): Float64Array<ArrayBuffer> =>
  Float64Array.from({ length: count }, (_, n) =>
    TONES.reduce(
      (sum, [cycles, a]) => sum + a * Math.cos((2 * Math.PI * cycles * n) / (rate * PERIOD) + cycles),
      0,
    ),
  );

test('a doubled rate has the samples that mathjs finds between by filling up the spectrum', () => {
  // Exact for what repeats: the spectrum, with zeros above.
  const bins = fft([...tones(PERIOD, 1)].map((x) => complex(x, 0))) as Complex[];
  const filled = Array.from({ length: 2 * PERIOD }, (_, k) => {
    const from = k < PERIOD / 2 ? k : k - PERIOD;
    return from >= 0 && (k < PERIOD / 2 || k > 1.5 * PERIOD) ? bins[from]! : complex(0, 0);
  });
  const exact = (ifft(filled) as Complex[]).map(({ re }) => 2 * re);

  const periods = 8;
  const input = tones(periods * PERIOD, 1);
  const out = new Float64Array(2 * input.length);
  createDoubler(taps, input.length)(out, input, input.length);
  const late = 2 * taps.length;
  // After the filter has filled; each tone is off by RIPPLE of its amplitude at most.
  for (let n = 4 * PERIOD; n < out.length; n++)
    expect(Math.abs(out[n]! - exact[(n - late + 8 * PERIOD) % (2 * PERIOD)]!)).toBeLessThan(1.9 * RIPPLE);
});

test('a halved rate keeps the tones of the pass band and lets none of the others fold back', () => {
  const input = tones(16 * PERIOD, 2);
  // Beyond the stop edge, where all of it would fold onto the pass band.
  const folded = input.map((x, n) => x + Math.cos(2 * Math.PI * 0.4 * n));
  const out = new Float64Array(input.length / 2);
  createHalver(taps, out.length)(out, folded, out.length);
  const exact = tones(PERIOD, 1);
  for (let n = 4 * PERIOD; n < out.length; n++)
    expect(Math.abs(out[n]! - exact[(n - taps.length + 4 * PERIOD) % PERIOD]!)).toBeLessThan(2.9 * RIPPLE);
});
