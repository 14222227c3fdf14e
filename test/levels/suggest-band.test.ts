import { describe, expect, test } from 'vitest';
import { suggestBand } from '../../src/levels/suggest-band.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionBand, RegionList } from '../../src/regions/region.js';
import { setBand } from '../../src/regions/set-band.js';
import { setGain } from '../../src/regions/set-gain.js';
import type { Samples } from '../../src/signal/samples.js';
import { demoLead } from '../lib/demo-lead.js';
import { whiteNoise } from '../lib/random.js';
import { shapedNoise } from '../lib/shaped-noise.js';

const START = 24000;
const END = 31200;

function listWith(draft: Partial<RegionDraft> = {}, sampleRateHz = 48000, lengthSamples = 65536): RegionList {
  return insertRegions(createRegionList({ sampleRateHz, lengthSamples }), [
    { startSample: START, endSample: END, kind: 'sibilant', ...draft },
  ]);
}

/** A voice-like sound all through: harmonics of 110 Hz that fall by 12 dB an octave (a glottal source: common practice). */
function vowel(length: number, rate = 48000): Float64Array {
  const samples = new Float64Array(length);
  for (let k = 1; k * 110 < Math.min(rate / 2, 5000); k++)
    for (let i = 0; i < length; i++)
      samples[i] = (samples[i] as number) + (0.2 / k ** 2) * Math.sin((2 * Math.PI * 110 * k * i) / rate + k);
  return samples;
}

function withNoise(base: ArrayLike<number>, noise: ArrayLike<number>, start = START, end = END): Samples {
  return Float32Array.from(base, (x, i) => x + (i >= start && i < end ? (noise[i] as number) : 0));
}

const bandOf = (samples: Samples | readonly Samples[], list: RegionList, share?: number): RegionBand => {
  const band = suggestBand(samples, list, 1, share === undefined ? {} : { share });
  expect(band).not.toBeNull();
  return band as RegionBand;
};

describe('suggestBand', () => {
  const flat = shapedNoise(1, 65536, 48000, (hz) => (hz >= 4000 && hz < 11000 ? 1 : 0), 0.1);

  test('finds the band of a noise that is flat within it: of even power, a share of the width', () => {
    const band = bandOf(withNoise(vowel(65536), flat), listWith());
    expect(band.lowHz).toBeGreaterThanOrEqual(3900);
    expect(band.highHz).toBeLessThanOrEqual(11100);
    // 95 % of 7 kHz, rounding outwards adds up to 200 Hz. Chance: seven frames of about 14 independent Hann averages over
    // 280 bins of 25 Hz leave 1/√(280·4) = 3 % of the power, 210 Hz.
    expect(band.highHz - band.lowHz).toBeGreaterThan(0.95 * 7000 - 210);
    expect(band.highHz - band.lowHz).toBeLessThanOrEqual(7200);
  });

  test('narrows with the share asked for', () => {
    const samples = withNoise(vowel(65536), flat);
    const widths = [0.5, 0.7, 0.9, 0.99]
      .map((share) => bandOf(samples, listWith(), share))
      .map((band) => band.highHz - band.lowHz);
    expect(widths).toEqual([...widths].sort((a, b) => a - b));
    // Half of the power of an even band is half of its width, with the margins of above.
    expect(Math.abs((widths[0] as number) - 3500)).toBeLessThan(410);
  });

  test('gives a thump everything below a corner of 100 to 250 Hz, beside a voice of 110 Hz', () => {
    // A burst of air on the membrane: power flat to 60 Hz, then falling by 24 dB an octave (made up for this test).
    const thump = shapedNoise(2, 65536, 48000, (hz) => 1 / (1 + (hz / 60) ** 8), 0.3);
    const band = bandOf(withNoise(vowel(65536), thump), listWith({ kind: 'noise' }));
    expect(band.lowHz).toBe(0);
    expect(band.highHz).toBeGreaterThanOrEqual(100);
    expect(band.highHz).toBeLessThanOrEqual(250);
  });

  test('leaves out what the sound beside the region has as well', () => {
    // A hum of 3 kHz, 20 dB above the hiss, goes through everything and is no business of the region's.
    const hum = vowel(65536).map((x, i) => x + 0.3 * Math.sin((2 * Math.PI * 3000 * i) / 48000));
    const quiet = flat.map((x) => 0.3 * x);
    expect(bandOf(withNoise(hum, quiet), listWith()).lowHz).toBeGreaterThan(3300);
    // The same hum in the region alone is.
    const local = quiet.map((x, i) => x + 0.3 * Math.sin((2 * Math.PI * 3000 * i) / 48000));
    expect(bandOf(withNoise(vowel(65536), local), listWith()).lowHz).toBeLessThan(3000);
  });

  test('does not listen to other regions beside it, unless they are ranges marked by hand', () => {
    const loud = whiteNoise(4, 65536, 0.3);
    const samples = withNoise(withNoise(vowel(65536), flat), loud, END, 60000);
    const beside = (kind: 'breath' | 'custom'): RegionList =>
      insertRegions(listWith(), [{ startSample: END, endSample: 60000, kind }]);
    const alone = bandOf(withNoise(vowel(65536), flat), listWith());
    expect(bandOf(samples, beside('breath'))).toEqual(
      bandOf(withNoise(vowel(65536), flat), beside('breath')),
    );
    expect(bandOf(samples, beside('breath')).lowHz).toBeGreaterThan(3800);
    expect(alone.lowHz).toBeGreaterThan(3800);
    // Noise stronger than the hiss at every frequency leaves no excess, so the region's own spectrum counts.
    expect(bandOf(samples, beside('custom'))).toEqual(
      bandOf(withNoise(new Float64Array(65536), withNoise(vowel(65536), flat)), listWith()),
    );
  });

  test('gives a sibilant nothing below 1 kHz, whatever its edges caught of a vowel, and other kinds what they have', () => {
    const samples = withNoise(
      vowel(65536).map((x, i) => (i >= START && i < START + 2400 ? 4 * x : 0)),
      flat.map((x) => 0.1 * x),
    );
    expect(bandOf(samples, listWith()).lowHz).toBeGreaterThanOrEqual(1000);
    expect(bandOf(samples, listWith({ kind: 'breath' })).lowHz).toBeLessThan(1000);
  });

  test('opens to half the rate where the noise goes on past nine tenths of it, and beyond 20 kHz', () => {
    for (const rate of [8000, 16000, 44100, 48000, 96000, 192000]) {
      const noise = shapedNoise(5, 65536, rate, (hz) => (hz > 2500 && hz < 24000 ? 1 : 0), 0.1);
      const { lowHz, highHz } = bandOf(withNoise(new Float64Array(65536), noise), listWith({}, rate));
      expect(lowHz).toBeGreaterThan(2000);
      expect(highHz).toBe(rate / 2);
    }
  });

  test('of a tone alone, gives a third of an octave about it', () => {
    const tone = Float64Array.from(
      { length: 65536 },
      (_, i) => 0.1 * Math.sin((2 * Math.PI * 7000 * i) / 48000),
    );
    const { lowHz, highHz } = bandOf(withNoise(new Float64Array(65536), tone), listWith());
    // 2^(1/6) − 2^(−1/6) = 0.2315 of 7 kHz is 1621 Hz; the ends are rounded outwards to 100 Hz each.
    expect(lowHz).toBe(6100);
    expect(highHz).toBe(7900);
  });

  test('is the same for any level, polarity and order of channels, and whatever is decided about the region', () => {
    const samples = withNoise(vowel(65536), flat);
    const other = withNoise(
      vowel(65536),
      shapedNoise(6, 65536, 48000, (hz) => (hz > 5000 ? 1 : 0), 0.05),
    );
    const band = bandOf(samples, listWith());
    for (const scale of [0.25, -1, 2])
      expect(
        bandOf(
          samples.map((x) => scale * x),
          listWith(),
        ),
      ).toEqual(band);
    expect(bandOf([other, samples], listWith())).toEqual(bandOf([samples, other], listWith()));
    expect(bandOf([samples, samples], listWith())).toEqual(band);
    const decided = setGain(setBand(listWith(), 1, { lowHz: 0, highHz: 90 }), 1, -40);
    expect(bandOf(samples, decided)).toEqual(band);
  });

  test('gives a sound band for any region: one sample, the ends of the clip, all of it', () => {
    for (const rate of [8000, 48000, 192000])
      for (const [startSample, endSample] of [
        [0, 1],
        [0, 2],
        [0, 700],
        [64000, 65536],
        [65535, 65536],
        [0, 65536],
      ] as const)
        for (const kind of ['sibilant', 'noise'] as const) {
          const list = listWith({ startSample, endSample, kind }, rate);
          const band = bandOf(whiteNoise(7, 65536), list);
          expect(Object.isFrozen(band)).toBe(true);
          expect(checkRegionList(setBand(list, 1, band))).toBeUndefined();
        }
  });

  test('has no band for digital silence', () => {
    expect(suggestBand(new Float32Array(65536), listWith(), 1)).toBeNull();
    const around = withNoise(
      vowel(65536).map((x, i) => (i >= START && i < END ? 0 : x)),
      new Float64Array(65536),
    );
    expect(suggestBand(around, listWith(), 1)).toBeNull();
  });

  test('refuses another clip, an unknown id, a share out of range and samples that are not finite', () => {
    const samples = withNoise(vowel(65536), flat);
    expect(() => suggestBand(samples.subarray(1) as Samples, listWith(), 1)).toThrow(
      /channels\.length must equal/,
    );
    expect(() => suggestBand(samples, listWith(), 2)).toThrow(/suggestBand: id/);
    for (const share of [0.4, 1, Number.NaN])
      expect(() => suggestBand(samples, listWith(), 1, { share })).toThrow(RangeError);
    expect(() => suggestBand([1] as never, listWith(), 1)).toThrow(TypeError);
    samples[START - 5] = Number.NaN;
    expect(() => suggestBand(samples, listWith(), 1)).toThrow(
      new RegExp(`channels\\[${START - 5}\\] must be finite`),
    );
  });
});

test('on the demonstration’s lead, the bands of s lie within 2.5 to 20 kHz and above those of sh', () => {
  const { samples, sampleRateHz, phones } = demoLead();
  const drafts = phones
    .filter(({ label }) => label === 's' || label === 'sh' || label === 'ʃ')
    .map(({ startSeconds, endSeconds, label }) => ({
      startSample: Math.round(startSeconds * sampleRateHz),
      endSample: Math.round(endSeconds * sampleRateHz),
      kind: 'sibilant' as const,
      label,
    }));
  const list = insertRegions(createRegionList({ sampleRateHz, lengthSamples: samples.length }), drafts);
  const lows = (isS: boolean): number[] =>
    list.regions
      .filter(({ label }) => (label === 's') === isS)
      .map(({ id }) => suggestBand(samples, list, id)?.lowHz ?? Number.NaN)
      .sort((a, b) => a - b);
  const middle = (values: number[]): number => values[values.length >> 1] as number;
  // s has its energy above 3.5 to 4 kHz, sh from 2.5 kHz (Jongman, Wayland and Wong 2000, from notes on it: peaks of 6.8 and 3.8 kHz).
  for (const low of lows(true)) expect(low).toBeGreaterThanOrEqual(2500);
  expect(middle(lows(true))).toBeGreaterThan(middle(lows(false)) + 500);
});
