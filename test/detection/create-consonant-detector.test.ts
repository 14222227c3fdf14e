import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { createClassTrack } from '../../src/detection/class-track.js';
import {
  createConsonantDetector,
  DETECTION_LATENCY_SECONDS,
} from '../../src/detection/create-consonant-detector.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { type DetectionOptions, detectionSettings } from '../../src/detection/detection-options.js';
import { FRAME_CLASSES, HOP_SECONDS, INPUT_COUNT } from '../../src/detection/detection-scale.js';
import { createEventFinder } from '../../src/detection/event-finder.js';
import type { FrameClassifier } from '../../src/detection/frame-classifier.js';
import { createThresholdClassifier } from '../../src/detection/threshold-classifier.js';
import type { Region } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { blocksOf } from '../lib/blocks.js';
import { ALL_SIBILANT, constant } from '../lib/constant-classifier.js';
import { demoLead, excerpt } from '../lib/demo-lead.js';
import { jumble } from '../lib/jumble.js';
import { gaussian, mulberry32 } from '../lib/random.js';

const RATE = 48_000;
let phrase: Samples;
let lead16k: Samples;
beforeAll(() => {
  phrase = excerpt(demoLead(RATE), 5, 11.5);
  lead16k = demoLead(16_000).samples;
});

function stream(blocks: readonly (readonly Samples[])[], options: DetectionOptions): Region[] {
  const detector = createConsonantDetector(options);
  return [...blocks.flatMap((block) => detector.push(block)), ...detector.flush()];
}

describe('a classifier that fails', () => {
  it('is told of again by every flush: what it left undone is not passed over', () => {
    let calls = 0;
    const classifier: FrameClassifier = {
      ...constant(ALL_SIBILANT, 0),
      classify() {
        calls++;
        throw new Error('out of order');
      },
    };
    const detector = createConsonantDetector({ sampleRateHz: RATE, classifier });
    // Too short for a chunk of frames: nothing is classified before the end.
    expect(detector.push(phrase.subarray(0, RATE / 10))).toEqual([]);
    for (let i = 0; i < 2; i++) expect(() => detector.flush()).toThrow('out of order');
    expect(calls).toBe(1);
  });
});

describe('the streaming detector', () => {
  const cuts = fc.array(
    fc.oneof(
      { weight: 1, arbitrary: fc.integer({ min: 0, max: 3 }) },
      { weight: 2, arbitrary: fc.integer({ min: 1, max: 5000 }) },
      { weight: 2, arbitrary: fc.integer({ min: 5000, max: 200_000 }) },
    ),
    { minLength: 1, maxLength: 20 },
  );

  it('finds in the blocks of a sung phrase exactly what detectConsonants finds in the whole', () => {
    const options = { sampleRateHz: RATE, minConfidence: 0.1 };
    const whole = detectConsonants(phrase, options).regions;
    expect(whole.length).toBeGreaterThan(8);
    fc.assert(
      fc.property(cuts, (lengths) => {
        // Ids, edges, confidences and reasons, every bit of them.
        expect(stream(blocksOf([phrase], lengths), options)).toEqual(whole);
      }),
      { numRuns: 15 },
    );
  });

  it('finds in the blocks of any signal exactly what detectConsonants finds in the whole', () => {
    let found = 0;
    fc.assert(
      fc.property(
        fc.nat(),
        fc.constantFrom(8000, 11_025, 16_000, 44_100),
        fc.integer({ min: 1, max: 2 }),
        fc.integer({ min: 1, max: 60_000 }),
        cuts,
        fc.boolean(),
        (seed, sampleRateHz, channelCount, length, lengths, plainRule) => {
          const channels = jumble(seed, length, channelCount);
          const options = {
            sampleRateHz,
            minConfidence: 0,
            ...(plainRule ? { classifier: createThresholdClassifier() } : {}),
          };
          const whole = detectConsonants(channels, options).regions;
          found += whole.length;
          expect(stream(blocksOf(channels, lengths), options)).toEqual(whole);
        },
      ),
      { numRuns: 40 },
    );
    // Or nothing would have been compared.
    expect(found).toBeGreaterThan(40);
  });

  it('finds the same when sounds lie anywhere about the ends of its own chunks', () => {
    // Chunks are 1.4 s: six starts of a song put some 80 of their ends and 200 sounds in other places.
    const options = { sampleRateHz: 16_000, minConfidence: 0 };
    for (let start = 0; start < 6; start++) {
      const samples = lead16k.subarray(start * 3001);
      const whole = detectConsonants(samples, options).regions;
      expect(stream(blocksOf([samples], [800]), options)).toEqual(whole);
    }
  });

  it('takes blocks of one sample', () => {
    const samples = phrase.slice(RATE, RATE + 20_000);
    const options = { sampleRateHz: RATE, minConfidence: 0 };
    expect(stream(blocksOf([samples], [1]), options)).toEqual(detectConsonants(samples, options).regions);
  });

  it('does not read a block again after push: the caller may use the array for the next one', () => {
    const options = { sampleRateHz: RATE };
    const buffer = new Float32Array(4096);
    const detector = createConsonantDetector(options);
    const regions: Region[] = [];
    for (const [block] of blocksOf([phrase], [4096])) {
      buffer.set(block!);
      regions.push(...detector.push(buffer.subarray(0, block!.length)));
    }
    buffer.fill(0.9);
    regions.push(...detector.flush());
    expect(regions).toEqual(detectConsonants(phrase, options).regions);
  });

  it('counts ids from 1 in order of time, and its length as it goes', () => {
    const detector = createConsonantDetector({ sampleRateHz: RATE });
    expect(detector.lengthSamples).toBe(0);
    const regions = [...detector.push(phrase), ...detector.flush()];
    expect(detector.lengthSamples).toBe(phrase.length);
    expect(regions.map(({ id }) => id)).toEqual(regions.map((_, i) => i + 1));
    for (let i = 1; i < regions.length; i++)
      expect(regions[i]!.startSample).toBeGreaterThanOrEqual(regions[i - 1]!.endSample);
    expect(detector.flush()).toEqual([]);
  });

  it('gives nothing when flushed without a sample', () => {
    expect(createConsonantDetector({ sampleRateHz: RATE }).flush()).toEqual([]);
  });
});

describe('latency and memory', () => {
  /** The greatest time from the end of a region to the end of what was pushed when it came, in seconds. */
  function greatestDelay(samples: Samples, options: DetectionOptions, blockSamples: number): number {
    const detector = createConsonantDetector(options);
    let most = Number.NEGATIVE_INFINITY;
    for (const block of blocksOf([samples], [blockSamples]))
      for (const region of detector.push(block))
        most = Math.max(most, (detector.lengthSamples - region.endSample) / options.sampleRateHz);
    return most;
  }

  it('gives a region of a song at most DETECTION_LATENCY_SECONDS after its end', () => {
    const blockSamples = 800;
    const delay = greatestDelay(lead16k, { sampleRateHz: 16_000, minConfidence: 0 }, blockSamples);
    console.info(`longest wait for a region of the lead: ${delay.toFixed(2)} s`);
    expect(delay).toBeGreaterThan(0);
    expect(delay).toBeLessThanOrEqual(DETECTION_LATENCY_SECONDS);
  });

  for (const contextFrames of [0, 30, 400])
    it(`gives a region so in noise that never ends, to a classifier of ${contextFrames} frames of context`, () => {
      // 0.1 s of bright noise in every 0.4 s of dull noise: the stretch is one, cut at its greatest length, and what lies near its start
      // waits longest.
      const normal = gaussian(mulberry32(3));
      const noise = Float32Array.from({ length: 16_000 * 30 }, (_, i) => {
        return 0.1 * normal() * (i % 6400 < 1600 ? 1 : 0.5);
      });
      // A first difference makes noise bright, a first sum dull.
      for (let i = noise.length - 1; i > 0; i--)
        noise[i] = noise[i]! + (i % 6400 < 1600 ? -1 : 1) * noise[i - 1]!;
      const classifier: FrameClassifier = {
        inputCount: INPUT_COUNT,
        contextFrames,
        classify: (inputs, rowCount, out) => {
          out.fill(0, 0, rowCount * FRAME_CLASSES.length);
          for (let row = 0; row < rowCount; row++) {
            const bright = inputs[row * INPUT_COUNT + 15]! > inputs[row * INPUT_COUNT + 2]!;
            out[row * FRAME_CLASSES.length + (bright ? 2 : 5)] = 1;
          }
        },
      };
      const delay = greatestDelay(noise, { sampleRateHz: 16_000, classifier, minConfidence: 0 }, 800);
      console.info(`longest wait with ${contextFrames} frames of context: ${delay.toFixed(2)} s`);
      expect(delay).toBeGreaterThan(4);
      expect(delay).toBeLessThanOrEqual(DETECTION_LATENCY_SECONDS);
    });

  /** The most rows held in each table, and the most numbers that the tables have room for, in a minute and in all. */
  function held(minutes: number, classifier: FrameClassifier): { rows: number; room: number }[] {
    const settings = detectionSettings('test', { sampleRateHz: 16_000, classifier });
    const track = createClassTrack(settings, 1);
    const finder = createEventFinder(settings, track);
    const tables = [track.bands, track.inputs, track.track, track.envelope];
    const most = { rows: 0, room: 0 };
    const perMinute: { rows: number; room: number }[] = [];
    let length = 0;
    for (let pushed = 0; pushed < minutes * 60 * 16_000; pushed += 3200) {
      const from = pushed % (lead16k.length - 3200);
      track.push([lead16k.subarray(from, from + 3200)], false);
      length += 3200;
      finder.advance(length, false);
      // The envelope has a row per millisecond, the others one per hop.
      const seconds = tables.map((t) => (t.end - t.first) * (t === track.envelope ? 0.001 : HOP_SECONDS));
      most.rows = Math.max(most.rows, ...seconds);
      most.room = Math.max(most.room, ...tables.map((t) => t.data.length));
      if (Math.floor(length / 16_000 / 60) > perMinute.length) perMinute.push({ ...most });
    }
    expect(perMinute.length).toBe(minutes);
    return perMinute;
  }

  for (const [what, classifier] of [
    ['a song', createThresholdClassifier()],
    ['noise that never ends', constant(ALL_SIBILANT, 400)],
    ['noise that is never sure', constant([0.6, 0, 0.4, 0, 0, 0])],
  ] as const)
    it(`holds after ten minutes of ${what} no more than after one`, () => {
      const perMinute = held(10, classifier);
      console.info(`${what}: at most ${perMinute[9]!.rows.toFixed(2)} s of any table`);
      expect(perMinute[9]!.room).toBe(perMinute[0]!.room);
      // About 12 s of frame tables is what createConsonantDetector states.
      expect(perMinute[9]!.rows).toBeLessThanOrEqual(12);
      // One block more or less: its phase against the detector's own chunks wanders.
      expect(perMinute[9]!.rows).toBeLessThanOrEqual(perMinute[0]!.rows + 0.2);
    });
});
