import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CymbalTrack, makeCymbalTrack } from '../../examples/lib/demo/cymbals.js';
import { type CymbalOptions, DEFAULT_CYMBAL_OPTIONS } from '../../src/detection/cymbal-options.js';
import { detectCymbals } from '../../src/detection/detect-cymbals.js';
import { fMeasure } from '../../src/evaluation/f-measure.js';
import { matchByEdges } from '../../src/evaluation/match-by-edges.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import type { Region } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { mulberry32, whiteNoise } from '../lib/random.js';
import { resample } from '../lib/resample.js';

const RATE = 48_000;

const find = (channels: Samples | readonly Samples[], options: Partial<CymbalOptions> = {}) =>
  detectCymbals(channels, { sampleRateHz: RATE, ...options }).regions;

interface Stroke {
  readonly atSeconds: number;
  /** Time in which it falls by 30 dB. */
  readonly fallSeconds: number;
  readonly gain?: number;
}

/** White noise under decays that begin at once, on a floor 80 dB below full scale: onset and decay are known exactly. */
function strokes(list: readonly Stroke[], seconds: number, seed = 1): Samples {
  const noise = whiteNoise(seed, seconds * RATE, 0.1);
  const out = whiteNoise(seed + 1, seconds * RATE, 1e-4);
  for (const { atSeconds, fallSeconds, gain = 1 } of list)
    for (let i = Math.round(atSeconds * RATE); i < out.length; i++)
      out[i] = out[i]! + gain * noise[i]! * 10 ** ((-1.5 * (i / RATE - atSeconds)) / fallSeconds);
  return out;
}

/** The first seconds of a track. */
function excerpt(track: CymbalTrack, seconds: number): CymbalTrack {
  const end = seconds * track.sampleRateHz;
  const inside = track.truth.filter(({ startSample }) => startSample < end - 0.1 * track.sampleRateHz);
  return { ...track, samples: track.samples.slice(0, end), truth: inside };
}

/** Edges and confidence, without the numbers. */
const edges = (regions: readonly Region[]) =>
  regions.map(({ onsetSample, offsetSample }) => [onsetSample, offsetSample]);

describe('where nothing was struck nothing is found', () => {
  const nothing: readonly (readonly [string, Samples])[] = [
    ['an empty clip', new Float32Array(0)],
    ['one sample', Float32Array.of(0.7)],
    ['two samples', Float32Array.of(0.7, -0.7)],
    ['silence', new Float32Array(RATE)],
    ['a constant', new Float32Array(RATE).fill(-0.4)],
    ['steady noise', whiteNoise(5, 3 * RATE)],
    ['a steady tone', Float32Array.from({ length: 2 * RATE }, (_, i) => 0.3 * Math.sin(i * 0.8))],
    ['a click of one sample', Float32Array.from({ length: RATE }, (_, i) => (i === 20_000 ? 1 : 0))],
    [
      'steady noise that is switched on',
      Float32Array.from(whiteNoise(6, 3 * RATE), (x, i) => (i < RATE ? 0 : x)),
    ],
    [
      'a low drum: 60 Hz that dies away',
      Float32Array.from({ length: RATE }, (_, i) => Math.sin(i * 0.00785) * Math.exp(-i / 4000)),
    ],
  ];
  for (const [what, samples] of nothing) it(what, () => expect(find(samples)).toEqual([]));
});

describe('a stroke begins with its attack and ends where it has died away', () => {
  for (const fallSeconds of [0.05, 0.3, 1, 3])
    it(`that falls by 30 dB in ${fallSeconds} s`, () => {
      for (let seed = 10; seed < 14; seed++) {
        const regions = find(strokes([{ atSeconds: 0.5, fallSeconds }], 0.8 + fallSeconds, seed));
        expect(regions.length).toBe(1);
        const [region] = regions as [Region];
        expect(region.kind).toBe('cymbal');
        expect(region.startSample).toBe(region.onsetSample);
        expect(region.endSample).toBe(region.offsetSample);
        expect(region.confidence).toBeGreaterThan(0.9);
        // The power is averaged over 0.3 ms; noise that begins at once may begin with a few small samples.
        expect(Math.abs(region.onsetSample! / RATE - 0.5)).toBeLessThan(0.0005);
        // Levels of 4 and 8 ms of noise, six bands of 1 to 3.5 kHz: 4.34·√(2/2BT) = 1.2 dB or less a band, 0.5 dB over six.
        // Crest and end are extremes of many: 2 dB together, at 30 dB per fallSeconds; and half of the 8 ms.
        const tolerance = (2 / 30) * fallSeconds + 0.006;
        expect(Math.abs(region.offsetSample! / RATE - 0.5 - fallSeconds)).toBeLessThan(tolerance);
      }
    });

  it('or by as much as is asked: a third of 30 dB takes a third of the time', () => {
    const [region] = find(strokes([{ atSeconds: 0.5, fallSeconds: 3 }], 4), { endBelowDb: 10 });
    // As above: 2 dB at 10 dB a second.
    expect(Math.abs(region!.offsetSample! / RATE - 1.5)).toBeLessThan(0.206);
  });

  it('or where it meets what sounded before', () => {
    // The floor: 10 dB under the stroke, so 9.5 dB of fall are left until the sum is 1 dB above it: 10·log10(10^0.1 − 1) = −5.9 dB
    // re the floor, 15.9 dB under the crest.
    const floor = whiteNoise(31, 2 * RATE, 0.1 * 10 ** -0.5);
    const samples = strokes([{ atSeconds: 1, fallSeconds: 0.3 }], 2, 32).map((x, i) => x + floor[i]!);
    const [region] = find(samples);
    const expected = 0.3 * (15.9 / 30);
    // Near its end the sum falls by only 0.02 dB a ms, and levels are known to 1 dB: 40 ms.
    expect(Math.abs(region!.offsetSample! / RATE - 1 - expected)).toBeLessThan(0.04);
  });

  it('or where the next begins: they touch and never overlap', () => {
    const list = Array.from({ length: 10 }, (_, k) => ({ atSeconds: 0.5 + 0.08 * k, fallSeconds: 1 }));
    const result = detectCymbals(strokes(list, 3), { sampleRateHz: RATE });
    expect(() => checkRegionList(result)).not.toThrow();
    expect(result.regions.length).toBeGreaterThanOrEqual(5);
    for (let i = 1; i < result.regions.length; i++)
      expect(result.regions[i]!.startSample).toBe(result.regions[i - 1]!.endSample);
  });

  it('with the strokes of a roll, 14 a second, each by itself', () => {
    const list = Array.from({ length: 20 }, (_, k) => ({ atSeconds: 0.5 + k / 14, fallSeconds: 0.06 }));
    const regions = find(strokes(list, 3));
    expect(regions.length).toBe(20);
    regions.forEach(({ onsetSample }, k) => {
      expect(Math.abs(onsetSample! / RATE - list[k]!.atSeconds)).toBeLessThan(0.001);
    });
  });

  it('in a ring of beating partials that nobody struck again, once', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const random = mulberry32(seed);
      const partials = Array.from({ length: 40 }, () => ({
        step: (2 * Math.PI * (3000 + 13_000 * random())) / RATE,
        phase: 2 * Math.PI * random(),
      }));
      const floor = whiteNoise(seed, 3 * RATE, 1e-5);
      const samples = Float32Array.from({ length: 3 * RATE }, (_, i) => {
        const t = i - RATE / 2;
        if (t < 0) return floor[i]!;
        let sum = 0;
        for (const { step, phase } of partials) sum += Math.sin(step * t + phase);
        return floor[i]! + 0.01 * sum * Math.exp(-t / RATE);
      });
      expect(find(samples).length).toBe(1);
    }
  });
});

describe('what must not matter, does not', () => {
  const track = makeCymbalTrack({ seed: 201 }).samples.slice(0, 5 * RATE);
  const before = find(track);

  it('in a track with enough in it', () => {
    expect(before.length).toBeGreaterThan(8);
  });

  it('level: 40 dB up or down moves no edge by more than a block and no confidence by 1e-3', () => {
    fc.assert(
      fc.property(fc.double({ min: -40, max: 40, noNaN: true }), (gainDb) => {
        const there = find(track.map((x) => x * 10 ** (gainDb / 20)));
        expect(there.length).toBe(before.length);
        there.forEach((region, i) => {
          // Rounding to 32 bits may tip a level over a threshold: one block of 1 ms at the end, one sample at the onset.
          expect(Math.abs(region.onsetSample! - before[i]!.onsetSample!)).toBeLessThanOrEqual(1);
          expect(Math.abs(region.offsetSample! - before[i]!.offsetSample!)).toBeLessThanOrEqual(48);
          expect(Math.abs(region.confidence - before[i]!.confidence)).toBeLessThan(1e-3);
        });
      }),
      { numRuns: 4, examples: [[-40], [40]] },
    );
  });

  it('a gain that is a power of two: edges to the sample', () => {
    expect(edges(find(track.map((x) => x / 64)))).toEqual(edges(before));
  });

  it('polarity, and the order and number of like channels, bit for bit', () => {
    const other = track.map((x, i) => 0.5 * x + 1e-3 * Math.sin(i));
    expect(find(track.map((x) => -x))).toEqual(before);
    expect(find([track, other])).toEqual(find([other, track]));
    expect(find([track, track])).toEqual(before);
    expect(find([track, track.map((x) => -x)])).toEqual(before);
  });

  it('a constant offset: no edge moves by more than a block', () => {
    const there = find(track.map((x) => x + 0.25));
    expect(there.length).toBe(before.length);
    there.forEach((region, i) => {
      // A quarter costs two bits of every sample: noise 130 dB down.
      expect(Math.abs(region.onsetSample! - before[i]!.onsetSample!)).toBeLessThanOrEqual(5);
      expect(Math.abs(region.offsetSample! - before[i]!.offsetSample!)).toBeLessThanOrEqual(48);
    });
  });

  it('where the track begins: onsets to 1 ms, ends to 3 blocks, but for one stroke in twenty', () => {
    for (const shift of [17, 1009]) {
      const there = find(track.slice(shift));
      const like = before.filter(({ onsetSample, offsetSample }) =>
        there.some(
          (region) =>
            Math.abs(region.onsetSample! + shift - onsetSample!) <= 48 &&
            // Blocks fall elsewhere, and a level that hovers at the threshold is a little different in each.
            Math.abs(region.offsetSample! + shift - offsetSample!) <= 3 * 48,
        ),
      );
      expect(like.length / before.length).toBeGreaterThanOrEqual(0.9);
      expect(Math.abs(there.length - before.length)).toBeLessThanOrEqual(before.length / 20);
    }
  });
});

describe('sample rates', () => {
  const tracks = [202, 203].map((seed) => excerpt(makeCymbalTrack({ seed }), 6));

  /** F at mir_eval's onset window of 50 ms (READ, commit fe73b353); what a stronger ring covers is neither asked for nor held against it. */
  function onsetF(track: CymbalTrack, toHz: number): number {
    const samples = toHz === RATE ? track.samples : resample(track.samples, RATE, toHz);
    const found = detectCymbals(samples, { sampleRateHz: toHz }).regions;
    const event = (seconds: number) => ({
      startSeconds: seconds,
      endSeconds: seconds + 0.01,
      label: 'cymbal',
    });
    const wanted = track.truth
      .filter(({ masked }) => !masked)
      .map(({ startSample }) => event(startSample / RATE));
    const masked = track.truth.filter((one) => one.masked).map(({ startSample }) => startSample / RATE);
    const events = found.map(({ onsetSample }) => event(onsetSample! / toHz));
    const rule = { collarSeconds: 0.05, useOffset: false } as const;
    const { pairs, unmatchedEstimate } = matchByEdges(wanted, events, rule);
    const extra = unmatchedEstimate.filter((e) =>
      masked.every((seconds) => Math.abs(seconds - events[e]!.startSeconds) > 0.05),
    ).length;
    return fMeasure(pairs.length / (pairs.length + extra), pairs.length / wanted.length);
  }

  for (const toHz of [44_100, 96_000, 192_000])
    it(`${toHz} Hz finds what 48,000 Hz finds, to one stroke in fifty`, () => {
      for (const track of tracks)
        expect(Math.abs(onsetF(track, toHz) - onsetF(track, RATE))).toBeLessThan(0.02);
    });

  // Half the rate bounds the bands: at 22 and 16 kHz half of a cymbal is missing, at 8 kHz all but its foot, and drums live there too. What is
  // promised is only that a poor copy still works: four of five, three of four, and nearly half.
  for (const [toHz, least] of [
    [22_050, 0.8],
    [16_000, 0.75],
    [8000, 0.45],
  ] as const)
    it(`${toHz} Hz still finds most: F of ${least} or more`, () => {
      for (const track of tracks) expect(onsetF(track, toHz)).toBeGreaterThanOrEqual(least);
    });
});

describe('drums that leak in', () => {
  it('are no cymbals, as long as nobody strikes one at the same time; asked for all, they come with a low confidence', () => {
    let heard = 0;
    for (const seed of [211, 212]) {
      const { samples, drums } = makeCymbalTrack({ seed });
      const at = (regions: readonly Region[], sample: number) =>
        regions.find(({ onsetSample }) => Math.abs(onsetSample! - sample) < 0.02 * RATE);
      const taken = find(samples);
      const all = find(samples, { minConfidence: 0 });
      for (const { sample, alone } of drums) {
        if (!alone) continue;
        expect(at(taken, sample)).toBeUndefined();
        const uncertain = at(all, sample);
        if (uncertain === undefined) continue;
        heard++;
        expect(uncertain.confidence).toBeLessThan(0.5);
      }
    }
    expect(heard).toBeGreaterThan(5);
  });
});

describe('what it refuses', () => {
  const refused: readonly (readonly [string, unknown, RegExp])[] = [
    ['no options', undefined, /options must be an object; received undefined/],
    ['no rate', {}, /sampleRateHz must be a number; received undefined/],
    ['a low rate', { sampleRateHz: 7999 }, /sampleRateHz must lie within \[8000, 192000\]; received 7999/],
    ...(
      [
        ['minConfidence', 1.1],
        ['leastRiseDb', 0],
        ['leastGapSeconds', 0],
        ['endBelowDb', 61],
        ['leastDurationSeconds', -1],
        ['rangeDb', 5],
        ['leastBrightnessDb', 61],
        ['leastRiseDb', Number.NaN],
      ] as const
    ).map(
      ([name, value]) =>
        [
          `${name} ${value}`,
          { sampleRateHz: RATE, [name]: value },
          new RegExp(`${name} .*received ${value}$`),
        ] as const,
    ),
  ];
  for (const [what, options, message] of refused)
    it(what, () => {
      const call = () => detectCymbals(new Float32Array(9), options as CymbalOptions);
      expect(call).toThrow(/^detectCymbals: /);
      expect(call).toThrow(message);
    });

  it('NaN and infinity, with channel and index', () => {
    const bad = new Float32Array(100);
    bad[37] = Number.NaN;
    expect(() => find([new Float32Array(100), bad])).toThrow(
      'detectCymbals: channels[1][37] must be finite; received NaN',
    );
    expect(() => find([new Float32Array(3), new Float32Array(4)])).toThrow(RangeError);
    expect(() => find(new Float64Array(4) as never)).toThrow(TypeError);
  });

  it('nothing where an option is undefined, and its defaults cannot be changed', () => {
    const samples = strokes([{ atSeconds: 0.2, fallSeconds: 0.1 }], 1);
    expect(find(samples, { leastRiseDb: undefined } as never)).toEqual(find(samples));
    expect(Object.isFrozen(DEFAULT_CYMBAL_OPTIONS)).toBe(true);
  });
});
