import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { REGION_KINDS, type RegionList } from '../../src/regions/region.js';
import { setGain } from '../../src/regions/set-gain.js';
import type { Samples } from '../../src/signal/samples.js';
import { whiteNoise } from '../lib/random.js';
import { hiss, silence, sine, take, vowel } from './sounds.js';

const S = { m1Hz: 6133, m2Hz2: 2.92e6 };
const RATES = [8000, 11_025, 16_000, 44_100, 48_000, 96_000, 192_000];

/** A list with one sibilant over the whole clip. */
function whole(sampleRateHz: number, lengthSamples: number): RegionList {
  return insertRegions(createRegionList({ sampleRateHz, lengthSamples }), [
    { kind: 'sibilant', startSample: 0, endSample: lengthSamples },
  ]);
}

function measureWhole(channels: Samples | readonly Samples[], sampleRateHz: number) {
  const length = channels instanceof Float32Array ? channels.length : channels[0]!.length;
  return measureLevels(channels, whole(sampleRateHz, length)).byId.get(1)!;
}

describe('levels of known signals', () => {
  it('a sine of amplitude A has RMS 20·log10(A/√2) and peak 20·log10(A)', () => {
    const level = measureWhole(sine(48_000, 0.5, 3000, 0.25), 48_000);
    // 1500 whole periods of 16 samples, one of which is the crest; 1e-5 dB is the rounding to 32 bits.
    expect(level.rmsDbfs).toBeCloseTo(20 * Math.log10(0.25 / Math.SQRT2), 5);
    expect(level.peakDbfs).toBeCloseTo(20 * Math.log10(0.25), 5);
    expect(level.durationSeconds).toBe(0.5);
  });

  it('a full-scale square wave reads 0 dBFS, RMS and peak', () => {
    const square = Float32Array.from({ length: 4800 }, (_, n) => (n % 8 < 4 ? 1 : -1));
    const level = measureWhole(square, 48_000);
    expect(level.rmsDbfs).toBe(0);
    expect(level.peakDbfs).toBe(0);
  });

  it('averages the powers of channels and takes the peak of the loudest', () => {
    const level = measureWhole([sine(48_000, 0.1, 3000, 0.5), silence(48_000, 0.1)], 48_000);
    // Half the power of one: A²/4.
    expect(level.rmsDbfs).toBeCloseTo(10 * Math.log10(0.5 ** 2 / 4), 5);
    expect(level.peakDbfs).toBeCloseTo(20 * Math.log10(0.5), 5);
  });

  it('does not let two channels of opposite polarity cancel', () => {
    const tone = sine(48_000, 0.1, 5000, 0.5);
    const level = measureWhole([tone, tone.map((x) => -x)], 48_000);
    expect(level.rmsDbfs).toBeCloseTo(measureWhole(tone, 48_000).rmsDbfs, 10);
    // A fifth of a bin of 94 Hz, as below.
    expect(Math.abs(level.peakFrequencyHz! - 5000)).toBeLessThan(19);
  });

  // ITU-R BS.468-4 table: Hz, dB, tolerance up and down (READ-CODE avtools-io/itu-r-468-weighting tests/constants.py),
  // from 200 Hz on. At 6.3 kHz the standard allows nothing: its printed value is rounded to 0.05 dB, and a Hann frame of
  // 10 ms spreads a tone by 58 Hz about its frequency, where the curve's top is flat to 0.01 dB.
  it.each([
    [200, -13.8, 0.85, 0.85],
    [400, -7.8, 0.7, 0.7],
    [800, -1.9, 0.55, 0.55],
    [1000, 0, 0.5, 0.5],
    [2000, 5.6, 0.5, 0.5],
    [3150, 9, 0.5, 0.5],
    [4000, 10.5, 0.5, 0.5],
    [5000, 11.7, 0.5, 0.5],
    [6300, 12.2, 0.06, 0.06],
    [7100, 12, 0.2, 0.2],
    [8000, 11.4, 0.4, 0.4],
    [9000, 10.1, 0.6, 0.6],
    [10000, 8.1, 0.8, 0.8],
    [12500, 0, 1.2, 1.2],
    [14000, -5.3, 1.4, 1.4],
    [16000, -11.7, 1.6, 1.6],
    [20000, -22.2, 2, 2],
    [31500, -42.7, 2.8, Number.POSITIVE_INFINITY],
  ])('a sine at %i Hz is weighted by %f dB', (hz, dB, up, down) => {
    const level = measureWhole(sine(96_000, 0.25, hz, 0.1), 96_000);
    const difference = level.weightedDbfs - level.rmsDbfs - dB;
    expect(difference).toBeLessThanOrEqual(up);
    expect(difference).toBeGreaterThanOrEqual(-down);
  });

  it.each(RATES)('at %i Hz a tone has its frequency for peak and centroid, and hardly a spread', (rate) => {
    const hz = 0.3 * rate > 16_000 ? 9000 : 0.3 * rate;
    const level = measureWhole(sine(rate, 0.1, hz, 0.1), rate);
    const binHz = 100;
    // Smoothed by a symmetric triangle the top stays; the parabola is good to a tenth of a bin. The Hann frame of 10 ms
    // has a spread of 0.577/T = 58 Hz (closed form) about the tone.
    expect(Math.abs(level.peakFrequencyHz! - hz)).toBeLessThan(binHz / 5);
    expect(Math.abs(level.centroidHz! - hz)).toBeLessThan(binHz / 10);
    expect(Math.abs(level.spreadHz! - 57.7)).toBeLessThan(6);
  });

  it('leaves the voice below 1 kHz out of a consonant’s spectrum, and keeps it in that of other kinds', () => {
    const buzz = sine(48_000, 0.1, 200, 0.5);
    const mixed = hiss(48_000, 0.1, 0.02, S).map((x, n) => x + (buzz[n] as number));
    const spectrumOf = (kind: 'sibilant' | 'custom') => {
      const { samples, list } = take(48_000, [{ kind, samples: mixed }]);
      return measureLevels(samples, list).byId.get(1)!;
    };
    // 5 to 8 kHz: the published s has its top there.
    expect(spectrumOf('sibilant').peakFrequencyHz).toBeGreaterThan(5000);
    expect(spectrumOf('sibilant').peakFrequencyHz).toBeLessThan(8000);
    // The smoothed top of a line at 200 Hz that stands against the band's lower edge at 100 Hz.
    expect(spectrumOf('custom').peakFrequencyHz).toBeLessThan(400);
  });
});

describe('the voice beside a region', () => {
  const rate = 48_000;
  const noise = hiss(rate, 0.1, 0.05, S);
  const sibilant = { kind: 'sibilant' as const, samples: noise };
  const voice = (rms: number, seconds = 0.5) => ({ samples: vowel(rate, seconds, rms) });
  const pause = (seconds: number) => ({ samples: silence(rate, seconds) });
  /** Level of the voice that the first sibilant is compared with, as an RMS. */
  const heard = (pieces: Parameters<typeof take>[1]) => {
    const { samples, list } = take(rate, pieces);
    const id = list.regions.find(({ kind }) => kind === 'sibilant')!.id;
    return 10 ** (measureLevels(samples, list).byId.get(id)!.voiceDbfs! / 20);
  };
  // 0.2 dB: blocks of 10 ms hold two whole periods of 200 Hz, but for those beside an edge.
  const close = (rms: number, expected: number) =>
    expect(Math.abs(20 * Math.log10(rms / expected))).toBeLessThan(0.2);

  it('is the mean power of both sides where they are equally near', () => {
    close(heard([voice(0.1), sibilant, voice(0.2)]), Math.sqrt((0.1 ** 2 + 0.2 ** 2) / 2));
  });

  it('is that of the one side at the start and at the end of the clip', () => {
    close(heard([sibilant, voice(0.2)]), 0.2);
    close(heard([voice(0.1), sibilant]), 0.1);
  });

  it('is that of the one side at the start and at the end of a phrase, where the other lies beyond a pause', () => {
    close(heard([voice(0.1), pause(0.5), sibilant, voice(0.2)]), 0.2);
    close(heard([voice(0.1), sibilant, pause(0.5), voice(0.2)]), 0.1);
  });

  it('crosses a gap that is too short to be a pause, and gives the farther side less weight', () => {
    const far = heard([voice(0.1), pause(0.2), sibilant, voice(0.2)]);
    expect(far).toBeLessThan(0.19);
    expect(far).toBeGreaterThan(heard([voice(0.1), sibilant, voice(0.2)]) * 1.02);
  });

  it('crosses other consonants of the list, however long, as no pause', () => {
    const long = { kind: 'fricative' as const, samples: hiss(rate, 0.4, 0.02, S) };
    const beside = heard([voice(0.1), long, sibilant, pause(0.5), voice(0.2)]);
    close(beside, 0.1);
  });

  it('is the nearest of the clip where pauses lie on both sides', () => {
    close(heard([voice(0.1), pause(0.5), sibilant, pause(60), voice(0.2)]), 0.1);
  });

  it('is heard 0.4 s far and no farther', () => {
    close(heard([voice(0.2, 2), voice(0.1, 0.42), sibilant]), 0.1);
    const wide = take(rate, [voice(0.2, 2), voice(0.1, 0.42), sibilant]);
    const level = measureLevels(wide.samples, wide.list, { neighbourSeconds: 2 }).byId.get(1)!;
    expect(level.voiceDbfs).toBeGreaterThan(20 * Math.log10(0.13));
  });

  it('is found inside a hand-marked range, which may hold a whole phrase', () => {
    close(heard([{ kind: 'custom', samples: vowel(rate, 0.5, 0.1) }, sibilant]), 0.1);
  });

  it('is not there where the clip has none: no sibilance, no percentile', () => {
    const { samples, list } = take(rate, [{ samples: whiteNoise(3, rate, 0.1) }, sibilant]);
    const table = measureLevels(samples, list);
    expect(table.voiceDbfs).toBeNull();
    const level = table.byId.get(1)!;
    expect([level.voiceDbfs, level.sibilanceDb, level.percentile]).toEqual([null, null, null]);
    expect(Math.abs(level.rmsDbfs - 20 * Math.log10(0.05))).toBeLessThan(1e-4);
  });
});

describe('percentiles', () => {
  const rate = 16_000;
  const spoken = { samples: vowel(rate, 0.2, 0.1) };
  const noises = ([-10, -8, -8, -2] as const).map((dB) => ({
    kind: 'sibilant' as const,
    samples: sine(rate, 0.1, 5000, 0.1 * Math.SQRT2 * 10 ** (dB / 20)),
  }));
  const fricative = { kind: 'fricative' as const, samples: sine(rate, 0.1, 3000, 0.01) };
  const { samples, list } = take(rate, [...noises.flatMap((n) => [spoken, n]), spoken, fricative, spoken]);

  it('count the share of the kind that is no louder, by hand', () => {
    const { byId } = measureLevels(samples, list);
    // The two of −8 dB have equal samples, and equal vowels at equal places in the grid of blocks: 0.3 s apart.
    expect([1, 2, 3, 4].map((id) => byId.get(id)?.percentile)).toEqual([25, 75, 75, 100]);
    expect(byId.get(5)?.percentile).toBe(100);
  });

  it('do not depend on which regions are asked for', () => {
    const all = measureLevels(samples, list).byId;
    const some = measureLevels(samples, list, { ids: [2] }).byId;
    expect([...some]).toEqual([[2, all.get(2)]]);
    expect([...measureLevels(samples, list, { kinds: ['fricative'] }).byId]).toEqual([[5, all.get(5)]]);
    expect(measureLevels(samples, list, { ids: [2], kinds: ['fricative'] }).byId.size).toBe(0);
    expect(measureLevels(samples, list, { kinds: [] }).byId.size).toBe(0);
  });
});

describe('any clip', () => {
  const scenes = fc
    .record({
      rate: fc.constantFrom(...RATES),
      seconds: fc.double({ min: 0.001, max: 0.6, noNaN: true }),
      seed: fc.integer({ min: 0, max: 1000 }),
      channelCount: fc.integer({ min: 1, max: 2 }),
      cuts: fc.uniqueArray(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 2, maxLength: 6 }),
      kinds: fc.array(fc.constantFrom(...REGION_KINDS), { minLength: 6, maxLength: 6 }),
    })
    .map(({ rate, seconds, seed, channelCount, cuts, kinds }) => {
      const lengthSamples = Math.max(1, Math.round(seconds * rate));
      const tone = vowel(rate, lengthSamples / rate, 0.1, 90 + seed / 4);
      const channels = Array.from({ length: channelCount }, (_, c) =>
        whiteNoise(seed + c, lengthSamples, 0.03).map(
          (x, n) => x + (n % 9000 < 5000 ? (tone[n] as number) : 0),
        ),
      );
      const places = [...new Set(cuts.map((cut) => Math.round(cut * lengthSamples)))].sort((a, b) => a - b);
      const drafts = places
        .slice(1)
        .map((endSample, i) => ({ startSample: places[i]!, endSample, kind: kinds[i]! }))
        .filter((_, i) => i % 2 === 0);
      const list = insertRegions(createRegionList({ sampleRateHz: rate, lengthSamples }), drafts);
      return { channels, list };
    });

  test('twice the gain moves every dBFS figure by 6.02 dB, and nothing else', () => {
    fc.assert(
      fc.property(scenes, ({ channels, list }) => {
        // A factor of a power of two is exact in binary, so every comparison inside falls the same way.
        const louder = measureLevels(
          channels.map((channel) => channel.map((x) => 2 * x)),
          list,
        );
        for (const level of measureLevels(channels, list).byId.values()) {
          const other = louder.byId.get(level.id)!;
          for (const name of ['rmsDbfs', 'peakDbfs', 'weightedDbfs', 'voiceDbfs'] as const)
            if (level[name] === null) expect(other[name]).toBeNull();
            else expect(other[name]).toBeCloseTo(level[name] + 20 * Math.log10(2), 9);
          for (const name of [
            'sibilanceDb',
            'peakFrequencyHz',
            'centroidHz',
            'spreadHz',
            'skewness',
          ] as const)
            if (level[name] === null) expect(other[name]).toBeNull();
            else expect(other[name]).toBeCloseTo(level[name], 6);
          expect(other.percentile).toBe(level.percentile);
          expect(other.sound).toBe(level.sound);
        }
      }),
      { numRuns: 60 },
    );
  });

  test('polarity and the order of two channels change nothing at all', () => {
    fc.assert(
      fc.property(scenes, ({ channels, list }) => {
        const level = measureLevels(channels, list);
        expect(
          measureLevels(
            channels.map((channel) => channel.map((x) => -x)),
            list,
          ),
        ).toEqual(level);
        expect(measureLevels([...channels].reverse(), list)).toEqual(level);
      }),
      { numRuns: 40 },
    );
  });

  test('has a level for every region, in its order, with no NaN; measured twice it measures the same', () => {
    fc.assert(
      fc.property(scenes, ({ channels, list }) => {
        const before = JSON.stringify(list);
        const table = measureLevels(channels, list);
        expect([...table.byId.keys()]).toEqual(list.regions.map(({ id }) => id));
        for (const level of table.byId.values())
          for (const value of Object.values(level)) expect(value).not.toBeNaN();
        expect(measureLevels(channels, list)).toEqual(table);
        expect(JSON.stringify(list)).toBe(before);
        expect(Object.isFrozen(table) && [...table.byId.values()].every(Object.isFrozen)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('has the figures as recorded, whatever the gains', () => {
    fc.assert(
      fc.property(scenes, ({ channels, list }) => {
        const cut = list.regions.reduce((l, { id }) => setGain(l, id, -6), list);
        expect(measureLevels(channels, cut)).toEqual(measureLevels(channels, list));
      }),
      { numRuns: 10 },
    );
  });
});

describe('the least clips', () => {
  it('a clip of one sample has its level, and no shape, voice or sibilance', () => {
    const level = measureWhole(Float32Array.of(0.5), 48_000);
    expect(level.rmsDbfs).toBeCloseTo(20 * Math.log10(0.5), 10);
    expect(level.peakDbfs).toBeCloseTo(20 * Math.log10(0.5), 10);
    // One sample about its own mean is nothing.
    expect(level.weightedDbfs).toBe(Number.NEGATIVE_INFINITY);
    expect(level).toMatchObject({ centroidHz: null, peakFrequencyHz: null, sibilanceDb: null, sound: null });
  });

  it.each([2, 3, 5, 100, 479, 480, 481, 719, 720, 721])(
    'a region of %i samples at the edge of a clip is measured whole',
    (n) => {
      const clip = new Float32Array(4800);
      clip.set(
        sine(48_000, n / 48_000, 7000, 0.5).map((_, i) => (i % 2 === 0 ? 0.5 : -0.5)),
        4800 - n,
      );
      const list = insertRegions(createRegionList({ sampleRateHz: 48_000, lengthSamples: 4800 }), [
        { kind: 'click', startSample: 4800 - n, endSample: 4800 },
      ]);
      const level = measureLevels(clip, list).byId.get(1)!;
      expect(level.rmsDbfs).toBeCloseTo(20 * Math.log10(0.5), 10);
      expect(level.peakFrequencyHz === null || level.peakFrequencyHz <= 16_000).toBe(true);
    },
  );

  it('silence has −Infinity and null', () => {
    const level = measureWhole(new Float32Array(4800), 48_000);
    for (const name of ['rmsDbfs', 'peakDbfs', 'weightedDbfs'] as const)
      expect(level[name]).toBe(Number.NEGATIVE_INFINITY);
    for (const name of [
      'peakFrequencyHz',
      'centroidHz',
      'spreadHz',
      'skewness',
      'excessKurtosis',
      'sound',
    ] as const)
      expect(level[name]).toBeNull();
    expect([level.voiceDbfs, level.sibilanceDb, level.percentile]).toEqual([null, null, null]);
  });

  it('a silent region beside a voice has no sibilance and no percentile, and does not count in those of others', () => {
    const { samples, list } = take(48_000, [
      { samples: vowel(48_000, 0.3, 0.1) },
      { kind: 'sibilant', samples: silence(48_000, 0.1) },
      { kind: 'sibilant', samples: hiss(48_000, 0.1, 0.05, S) },
    ]);
    const { byId } = measureLevels(samples, list);
    expect(byId.get(1)).toMatchObject({ sibilanceDb: null, percentile: null });
    expect(byId.get(2)?.percentile).toBe(100);
  });

  it('an empty list and an empty clip give an empty table', () => {
    const voiced = vowel(48_000, 0.3, 0.1);
    const empty = createRegionList({ sampleRateHz: 48_000, lengthSamples: voiced.length });
    expect(measureLevels(voiced, empty).byId.size).toBe(0);
    expect(Math.abs(measureLevels(voiced, empty).voiceDbfs! + 20)).toBeLessThan(0.2);
    const nothing = createRegionList({ sampleRateHz: 48_000, lengthSamples: 0 });
    expect(measureLevels(new Float32Array(0), nothing)).toMatchObject({ voiceDbfs: null });
  });
});

describe('refusals', () => {
  const list = whole(48_000, 480);
  it.each([
    [
      'a clip of another length',
      () => measureLevels(new Float32Array(481), list),
      RangeError,
      /channels\.length/,
    ],
    [
      'NaN, with its index',
      () => measureLevels(new Float32Array(480).fill(Number.NaN, 7, 8), list),
      RangeError,
      /channels\[7\]/,
    ],
    ['plain arrays', () => measureLevels([0] as never, list), TypeError, /channels\[0\]/],
    ['an unknown id', () => measureLevels(new Float32Array(480), list, { ids: [2] }), RangeError, /ids/],
    [
      'ids that are no array',
      () => measureLevels(new Float32Array(480), list, { ids: 1 as never }),
      TypeError,
      /ids/,
    ],
    [
      'an unknown kind',
      () => measureLevels(new Float32Array(480), list, { kinds: ['ess' as never] }),
      RangeError,
      /kinds/,
    ],
    [
      'kinds that are no array',
      () => measureLevels(new Float32Array(480), list, { kinds: 'sibilant' as never }),
      TypeError,
      /kinds/,
    ],
    [
      'no neighbourhood',
      () => measureLevels(new Float32Array(480), list, { neighbourSeconds: 0 }),
      RangeError,
      /neighbourSeconds/,
    ],
    [
      'options that are no object',
      () => measureLevels(new Float32Array(480), list, null as never),
      TypeError,
      /options/,
    ],
  ])('%s', (_, call, kind, message) => {
    expect(call).toThrow(kind);
    expect(call).toThrow(message);
    expect(call).toThrow(/^measureLevels: /);
  });
});
