import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { DEFAULT_DETECTION_OPTIONS, type DetectionOptions } from '../../src/detection/detection-options.js';
import { FRAME_CLASSES, HOP_SECONDS, INPUT_COUNT } from '../../src/detection/detection-scale.js';
import type { FrameClassifier } from '../../src/detection/frame-classifier.js';
import { createThresholdClassifier } from '../../src/detection/threshold-classifier.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { type DemoLead, demoLead, excerpt } from '../lib/demo-lead.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 48_000;
const KINDS = ['sibilant', 'fricative', 'burst', 'breath'];
let lead: DemoLead;
let phrase: Samples;
beforeAll(() => {
  lead = demoLead(RATE);
  phrase = excerpt(lead, 5, 11.5);
});

/** Finds with no threshold, so that every region is looked at, and checks what must hold of any list. */
function soundList(channels: Samples | readonly Samples[], options: DetectionOptions): RegionList {
  const list = detectConsonants(channels, { minConfidence: 0, ...options });
  checkRegionList(list);
  expect(list.sampleRateHz).toBe(options.sampleRateHz);
  expect(list.lengthSamples).toBe((channels instanceof Float32Array ? channels : channels[0]!).length);
  for (const region of list.regions) {
    expect(KINDS).toContain(region.kind);
    expect([region.gainDb, region.fadeInSamples, region.fadeOutSamples]).toEqual([0, 0, 0]);
    expect([region.onsetSample, region.offsetSample]).toEqual([region.startSample, region.endSample]);
    expect(region.endSample - region.startSample).toBeGreaterThanOrEqual(0.01 * options.sampleRateHz);
    const { none, sibilant, fricative, burst, breath, bandwidth } = region.reason.numbers;
    expect(none! + sibilant! + fricative! + burst! + breath!).toBeCloseTo(1, 9);
    const harsh = sibilant! + fricative! + burst!;
    // 1e-12: a sum of three numbers times another.
    expect(region.confidence).toBeCloseTo((region.kind === 'breath' ? breath! : harsh) * bandwidth!, 12);
    // Air shorter than 0.1 s is no breath, however much it may look like one; an edge stands at most 40 ms outside its frames.
    if (region.kind === 'breath') expect(breath).toBeGreaterThanOrEqual(harsh);
    else if (region.endSample - region.startSample > 0.2 * options.sampleRateHz)
      expect(breath).toBeLessThan(harsh);
    // An s has to hold most of what is harsh; between the others the greater decides.
    if (region.kind === 'sibilant') expect(sibilant).toBeGreaterThanOrEqual(0.75 * harsh);
    else if (region.kind !== 'breath') {
      expect(sibilant).toBeLessThan(0.75 * harsh);
      expect(region.kind).toBe(burst! > fricative! ? 'burst' : 'fricative');
    }
  }
  return list;
}

describe('detectConsonants on odd sound', () => {
  const clip = (make: (i: number) => number, length = 30_000): Samples =>
    Float32Array.from({ length }, (_, i) => make(i));
  const noise = whiteNoise(1, 30_000, 1);
  const odd: Readonly<Record<string, Samples>> = {
    nothing: new Float32Array(0),
    'one sample': Float32Array.of(0.5),
    'one sample of nothing': new Float32Array(1),
    'two samples': Float32Array.of(1, -1),
    'under a frame': clip((i) => Math.sin(i), 300),
    'a frame and one sample': clip((i) => Math.sin(i * i), 513),
    silence: new Float32Array(30_000),
    'a constant': clip(() => 0.7),
    'a full-scale square': clip((i) => (i % 96 < 48 ? 1 : -1)),
    'the fastest square': clip((i) => (i % 2 === 0 ? 1 : -1)),
    'an impulse': clip((i) => (i === 15_000 ? 1 : 0)),
    'an impulse at the first sample': clip((i) => (i === 0 ? 1 : 0)),
    'an impulse at the last sample': clip((i) => (i === 29_999 ? 1 : 0)),
    'impulses in a row': clip((i) => (i % 400 === 0 ? 1 : 0)),
    'clipped noise': clip((i) => Math.max(-1, Math.min(1, 3 * noise[i]!))),
    'noise in a gate': clip((i) => (i % 8000 < 3000 ? noise[i]! : 0)),
    'the softest floats': clip((i) => (i % 2 === 0 ? 1e-45 : -1e-45)),
    'the greatest floats': clip((i) => (i % 7 < 3 ? 3.4e38 : -3.4e38)),
    'a fade from nothing to full': clip((i) => (i / 30_000) ** 8 * noise[i]!),
  };

  for (const [what, samples] of Object.entries(odd))
    it(`gives a valid list for ${what}, at any rate, in mono and stereo`, () => {
      for (const sampleRateHz of [8000, 11_025, 16_000, 44_100, 48_000, 192_000]) {
        soundList(samples, { sampleRateHz });
        soundList([samples, new Float32Array(samples.length)], { sampleRateHz });
      }
    });

  it('finds nothing where nothing sounds', () => {
    for (const what of ['nothing', 'one sample', 'one sample of nothing', 'two samples', 'silence'])
      for (const sampleRateHz of [8000, 48_000, 192_000])
        expect(soundList(odd[what]!, { sampleRateHz }).regions, what).toEqual([]);
  });

  it('is sure of nothing in a steady tone, a constant or steady noise', () => {
    for (const samples of [odd['a constant']!, clip((i) => 0.3 * Math.sin(0.05 * i), 2 * RATE)])
      expect(detectConsonants(samples, { sampleRateHz: RATE }).regions).toEqual([]);
    const sibilants = detectConsonants(whiteNoise(4, 4 * RATE, 0.1), { sampleRateHz: RATE }).regions.filter(
      ({ kind }) => kind === 'sibilant',
    );
    expect(sibilants).toEqual([]);
  });

  it('gives a valid list for any samples at any rate', () => {
    fc.assert(
      fc.property(
        fc.float32Array({ maxLength: 3000, noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: 8000, max: 192_000 }),
        (samples, sampleRateHz) => {
          soundList(Float32Array.from(samples), { sampleRateHz });
        },
      ),
      { numRuns: 60 },
    );
  });

  it('leaves the samples as they are', () => {
    const copy = phrase.slice();
    detectConsonants(copy, { sampleRateHz: RATE });
    expect(copy).toEqual(phrase);
  });

  it('gives the same list every time, frozen', () => {
    const once = detectConsonants(phrase, { sampleRateHz: RATE });
    expect(detectConsonants(phrase, { sampleRateHz: RATE })).toEqual(once);
    expect(once.regions.length).toBeGreaterThan(5);
    for (const value of [once, once.regions, ...once.regions, ...once.regions.map(({ reason }) => reason)])
      expect(Object.isFrozen(value)).toBe(true);
  });
});

describe('what detectConsonants refuses', () => {
  it('NaN and infinity, with channel and index', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const samples = new Float32Array(200_000);
      samples[150_001] = bad;
      const call = (): unknown =>
        detectConsonants([new Float32Array(200_000), samples], { sampleRateHz: RATE });
      expect(call).toThrow(RangeError);
      expect(call).toThrow(`detectConsonants: channels[1][150001] must be finite; received ${bad}`);
    }
  });

  it('channels of different lengths, none at all, and what is not samples', () => {
    const options = { sampleRateHz: RATE };
    expect(() => detectConsonants([new Float32Array(2), new Float32Array(3)], options)).toThrow(
      'detectConsonants: channels[1].length must equal that of channel 0 (2); received 3',
    );
    expect(() => detectConsonants([], options)).toThrow(RangeError);
    expect(() => detectConsonants([0, 1] as never, options)).toThrow(TypeError);
    expect(() => detectConsonants('a.wav' as never, options)).toThrow(TypeError);
  });
});

describe('options', () => {
  it('of another name are refused, since one that is misspelt would silently do nothing', () => {
    expect(() =>
      detectConsonants(new Float32Array(1), { sampleRateHz: 48000, minConf: 0.3 } as never),
    ).toThrow(
      'detectConsonants: options.minConf is not a field of options: those are minConfidence, enterProbability,',
    );
  });
});

describe('minConfidence', () => {
  it('only filters: what is found at 0.2 and is sure enough is what is found at any other limit', () => {
    const apart = ({ id: _, ...rest }: Region): Omit<Region, 'id'> => rest;
    const at = (minConfidence: number): readonly Region[] =>
      detectConsonants(lead.samples, { sampleRateHz: RATE, minConfidence }).regions;
    const all = at(0);
    for (const least of [0.2, 0.5, 0.8, 0.95, 1])
      expect(at(least).map(apart)).toEqual(all.filter(({ confidence }) => confidence >= least).map(apart));
    expect(detectConsonants(lead.samples, { sampleRateHz: RATE }).regions).toEqual(
      at(DEFAULT_DETECTION_OPTIONS.minConfidence),
    );
    expect(at(0.95).length).toBeLessThan(all.length);
  });
});

describe('a frame classifier of one’s own', () => {
  /** Certain of one kind from one frame on to another; it finds its place by counting, as only a test may. */
  function marks(kind: number, from: number, to: number, probability = 1): FrameClassifier {
    let frame = 0;
    return {
      inputCount: INPUT_COUNT,
      contextFrames: 0,
      classify: (_inputs, rowCount, out) => {
        for (let row = 0; row < rowCount; row++, frame++) {
          const p = frame >= from && frame < to ? probability : 0;
          for (let k = 0; k < FRAME_CLASSES.length; k++)
            out[row * FRAME_CLASSES.length + k] = k === kind ? p : k === 1 ? 1 - p : 0;
        }
      },
    };
  }
  // A second of noise in a second of silence on each side: frames 188 to 375.
  const samples = new Float32Array(3 * RATE);
  samples.set(whiteNoise(8, RATE, 0.1), RATE);

  for (const [index, kind] of ['sibilant', 'fricative', 'burst', 'breath'].entries())
    it(`is used: what it calls a ${kind} is one, with its own probability`, () => {
      const { regions } = detectConsonants(samples, {
        sampleRateHz: RATE,
        classifier: marks(index + 2, 188, 376, 0.85),
      });
      expect(regions.map((region) => region.kind)).toEqual([kind]);
      expect(regions[0]!.confidence).toBeCloseTo(0.85, 12);
      const { none } = regions[0]!.reason.numbers;
      expect(none).toBeCloseTo(0.15, 12);
      // A step of noise: smoothing by a triangle of 6 ms moves its half-amplitude point out by 0.29 of that, 1.8 ms, and a block's grain adds
      // half of one.
      expect(Math.abs(regions[0]!.startSample - RATE)).toBeLessThanOrEqual(0.0025 * RATE);
      expect(Math.abs(regions[0]!.endSample - 2 * RATE)).toBeLessThanOrEqual(0.0025 * RATE);
    });

  it('enters and leaves at the two probabilities that were set', () => {
    const found = (probability: number, options: Partial<DetectionOptions>): number =>
      detectConsonants(samples, {
        sampleRateHz: RATE,
        minConfidence: 0,
        classifier: marks(2, 188, 376, probability),
        ...options,
      }).regions.length;
    expect(found(0.49, {})).toBe(0);
    expect(found(0.51, {})).toBe(1);
    expect(found(0.69, { enterProbability: 0.7 })).toBe(0);
    expect(found(0.71, { enterProbability: 0.7 })).toBe(1);
    expect(found(0.11, { enterProbability: 0.1, leaveProbability: 0.05 })).toBe(1);
  });

  it('leaves out what is shorter than leastDurationSeconds', () => {
    const found = (leastDurationSeconds: number): number =>
      detectConsonants(samples, { sampleRateHz: RATE, leastDurationSeconds, classifier: marks(2, 188, 376) })
        .regions.length;
    expect(found(0.9)).toBe(1);
    expect(found(1)).toBe(1);
    // The longest that may be asked for is a second; what lasts half of one falls short of it.
    const half = marks(2, 188, 282);
    expect(
      detectConsonants(samples.slice(0, 1.5 * RATE), {
        sampleRateHz: RATE,
        leastDurationSeconds: 0.6,
        classifier: half,
      }).regions.length,
    ).toBe(0);
  });

  it('is the plain rule, for one', () => {
    const { regions } = detectConsonants(phrase, {
      sampleRateHz: RATE,
      classifier: createThresholdClassifier(),
    });
    expect(regions.length).toBeGreaterThan(3);
    expect(new Set(regions.map(({ kind }) => kind))).toEqual(new Set(['sibilant']));
  });

  it('is given rows of 28 finite numbers, with its context and no more than that beyond a chunk', () => {
    const counts: number[] = [];
    const watching: FrameClassifier = {
      inputCount: INPUT_COUNT,
      contextFrames: 7,
      classify: (inputs, rowCount, out) => {
        counts.push(rowCount);
        expect(inputs.length).toBe(rowCount * INPUT_COUNT);
        expect(out.length).toBe(rowCount * FRAME_CLASSES.length);
        expect(inputs.every(Number.isFinite)).toBe(true);
        for (let row = 0; row < rowCount; row++) out[row * FRAME_CLASSES.length] = 1;
      },
    };
    detectConsonants(samples, { sampleRateHz: RATE, classifier: watching });
    // Each frame once, and 7 more on each side of every chunk.
    const frames = Math.floor((samples.length - 1) / (HOP_SECONDS * RATE)) + 1;
    expect(counts.reduce((a, b) => a + b, 0)).toBe(frames + 14 * counts.length);
  });

  it('is refused where it writes what is no probability', () => {
    for (const bad of [Number.NaN, -0.1, 1.5, Number.POSITIVE_INFINITY]) {
      const call = (): unknown =>
        detectConsonants(samples, { sampleRateHz: RATE, classifier: marks(4, 10, 20, bad) });
      expect(call).toThrow(RangeError);
      expect(call).toThrow(/^detectConsonants: classifier output \((silence|burst)\) must be a probability/);
    }
  });
});
