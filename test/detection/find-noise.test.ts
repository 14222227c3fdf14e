import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadCorpus } from '../../bench/lib/corpus.js';
import { synthesiseFricative, synthesiseSungVowel } from '../../examples/lib/demo/pieces.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { DEFAULT_NOISE_OPTIONS, findNoise } from '../../src/detection/find-noise.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 16_000;
const SONGS = new URL('../../../shared/corpus/pjs_singing', import.meta.url).pathname;
const at = (seconds: number): number => Math.round(seconds * RATE);
const empty = (samples: Samples, sampleRateHz = RATE): RegionList =>
  createRegionList({ sampleRateHz, lengthSamples: samples.length });

/** Room at −70 dBFS, a vowel from 0.5 to 1 s and from 3 to 3.5 s, and whatever `add` lays over them. */
function clip(add: (samples: Samples) => void = () => {}): Samples {
  const samples = whiteNoise(1, at(4), 10 ** (-70 / 20)) as Samples;
  for (const [seconds, seed] of [
    [0.5, 2],
    [3, 3],
  ] as const) {
    const vowel = synthesiseSungVowel({
      vowel: 'ah',
      pitchHz: 180,
      durationSeconds: 0.5,
      sampleRateHz: RATE,
      seed,
    });
    for (const [i, x] of vowel.entries()) samples[at(seconds) + i] = samples[at(seconds) + i]! + x;
  }
  add(samples);
  return samples;
}

/** A tone of 400 Hz at −50 dBFS peak: 20 dB above the room in all, more in its octave. */
const tone =
  (from: number, to: number) =>
  (samples: Samples): void => {
    for (let i = at(from); i < at(to); i++)
      samples[i] = samples[i]! + 10 ** (-50 / 20) * Math.sin((2 * Math.PI * 400 * i) / RATE);
  };

const noises = (samples: Samples, options = {}) =>
  findNoise(empty(samples), samples, options).regions.map(
    ({ startSample, endSample, onsetSample, offsetSample }) => ({
      startSample,
      endSample,
      onset: onsetSample! / RATE,
      offset: offsetSample! / RATE,
    }),
  );

describe('findNoise', () => {
  it('finds nothing in a steady room', () => {
    expect(noises(clip())).toEqual([]);
  });

  it('finds a tone between phrases, with onset and offset to 50 ms', () => {
    const found = noises(clip(tone(1.8, 2.3)));
    expect(found.length).toBe(1);
    // Frames of 43 ms, and means of five that are 11 ms apart.
    expect(Math.abs(found[0]!.onset - 1.8)).toBeLessThan(0.05);
    expect(Math.abs(found[0]!.offset - 2.3)).toBeLessThan(0.05);
  });

  it('gives a region with no gain, a kind, a confidence and its reason', () => {
    const samples = clip(tone(1.8, 2.3));
    const [region] = findNoise(empty(samples), samples).regions;
    expect(region).toMatchObject({ kind: 'noise', gainDb: 0, label: '', reason: { rule: 'findNoise' } });
    expect(Object.values(region!.reason.numbers)[0]).toBeGreaterThan(10);
    expect(region!.confidence).toBeGreaterThanOrEqual(0.5);
    expect(Object.isFrozen(region)).toBe(true);
  });

  it('leaves 0.15 s before and 0.2 s after a phrase alone, by default', () => {
    const [found] = noises(clip(tone(1.0, 3.0)));
    // Phrases are told by frames of 43 ms: half of one, and a frame's step for rounding.
    expect(found!.startSample / RATE).toBeGreaterThanOrEqual(1 + 0.2 - 0.035);
    expect(found!.endSample / RATE).toBeLessThanOrEqual(3 - 0.15 + 0.035);
    expect(found!.startSample / RATE).toBeLessThan(1.5);
    expect(found!.endSample / RATE).toBeGreaterThan(2.7);
  });

  it('holds longer when told to', () => {
    const [usual] = noises(clip(tone(1.0, 3.0)));
    const [longer] = noises(clip(tone(1.0, 3.0)), { holdBeforeSeconds: 0.45, holdAfterSeconds: 0.4 });
    // 0.3 s and 0.2 s more, to one step of 10.7 ms.
    expect(Math.abs((usual!.endSample - longer!.endSample) / RATE - 0.3)).toBeLessThan(0.011);
    expect(Math.abs((longer!.startSample - usual!.startSample) / RATE - 0.2)).toBeLessThan(0.011);
  });

  it('joins noises that are 0.2 s apart and parts those that are 0.5 s apart', () => {
    const two = (gap: number) =>
      noises(
        clip((samples) => {
          tone(1.5, 1.8)(samples);
          tone(1.8 + gap, 2.1 + gap)(samples);
        }),
      ).length;
    expect(two(0.2)).toBe(1);
    expect(two(0.5)).toBe(2);
    // With no joining their fades share the gap, and nothing overlaps.
    const close = clip((samples) => {
      tone(1.5, 1.8)(samples);
      tone(2, 2.3)(samples);
    });
    expect(noises(close, { joinSeconds: 0 }).length).toBe(2);
  });

  it('hears no noise that is further under the voice than 60 dB, however quiet the room', () => {
    // Room at −110 dBFS; the vowel at −20 dBFS. A tone of −50 is 30 under it, one of −90 is 70 under.
    const quiet = (levelDb: number) =>
      noises(
        clip((samples) => {
          const room = whiteNoise(1, samples.length, 10 ** (-70 / 20));
          for (let i = 0; i < samples.length; i++) {
            const wave = i >= at(1.8) && i < at(2.3) ? Math.sin((2 * Math.PI * 800 * i) / RATE) : 0;
            samples[i] = samples[i]! - 0.99 * room[i]! + 10 ** (levelDb / 20) * wave;
          }
        }),
      ).length;
    expect(quiet(-50)).toBe(1);
    expect(quiet(-90)).toBe(0);
  });

  it('takes a breath for a breath', () => {
    const breath = synthesiseFricative('h', {
      durationSeconds: 0.4,
      sampleRateHz: RATE,
      seed: 4,
      rmsDb: -48,
    });
    const samples = clip((s) => {
      for (const [i, x] of breath.entries()) s[at(1.8) + i] = s[at(1.8) + i]! + x;
    });
    expect(noises(samples)).toEqual([]);
  });

  it('leaves listed regions and 60 ms beside them alone', () => {
    const samples = clip(tone(1.6, 2.5));
    const list = insertRegion(empty(samples), {
      kind: 'breath',
      startSample: at(2),
      endSample: at(2.2),
      locked: true,
    });
    const found = findNoise(list, samples);
    expect(found.regions[1]!.id === 1 || found.regions[0]!.id === 1).toBe(true);
    const [before, breath, after] = found.regions;
    expect(breath).toBe(list.regions[0]);
    // A frame's step of rounding.
    expect((breath!.startSample - before!.endSample) / RATE).toBeGreaterThanOrEqual(0.06 - 0.011);
    expect((after!.startSample - breath!.endSample) / RATE).toBeGreaterThanOrEqual(0.06 - 0.011);
  });

  it('takes all of a pause when asked', () => {
    const [found, ...more] = noises(clip(), { wholePauses: true }).filter(({ onset }) => onset > 0.6);
    expect(more.length).toBeLessThanOrEqual(1);
    expect(found!.onset).toBeLessThan(1.35);
    expect(found!.offset).toBeGreaterThan(2.75);
  });

  it('finds nothing more the second time, and gives the same list back', () => {
    const samples = clip(tone(1.8, 2.3));
    const once = findNoise(empty(samples), samples);
    expect(findNoise(once, samples)).toBe(once);
  });

  it('does not care for level, sign, offset, order of channels or digital silence', () => {
    const samples = clip(tone(1.8, 2.3));
    const plain = findNoise(empty(samples), samples);
    // A power of two and a sign change no rounding.
    expect(findNoise(empty(samples), samples.map((x) => -x / 256) as Samples)).toEqual(plain);
    const offset = findNoise(empty(samples), samples.map((x) => x + 0.25) as Samples).regions;
    expect(offset.map(({ startSample }) => startSample)).toEqual(
      plain.regions.map(({ startSample }) => startSample),
    );
    const other = clip();
    const pair = findNoise(empty(samples), [samples, other]);
    expect(findNoise(empty(samples), [other, samples]).regions.map((r) => r.startSample)).toEqual(
      pair.regions.map((r) => r.startSample),
    );
    expect(pair.regions.length).toBe(1);
    const edited = samples.slice();
    edited.fill(0, 0, at(0.3));
    edited.fill(0, at(3.8));
    expect(findNoise(empty(edited), edited).regions.length).toBe(1);
  });

  it('finds nothing in silence, an empty clip, one sample, a constant, or noise without a voice', () => {
    for (const samples of [
      new Float32Array(RATE),
      new Float32Array(0),
      new Float32Array(1).fill(0.5),
      new Float32Array(RATE).fill(0.25),
      whiteNoise(5, RATE) as Samples,
    ])
      for (const rate of [8000, 48_000, 192_000]) {
        const list = empty(samples, rate);
        expect(findNoise(list, samples)).toBe(list);
      }
  });

  it('does not change the samples', () => {
    const samples = clip(tone(1.8, 2.3));
    const copy = samples.slice();
    findNoise(empty(samples), samples);
    expect(samples).toEqual(copy);
  });

  it('refuses what it cannot use, with the index of a bad sample', () => {
    const samples = clip();
    const list = empty(samples);
    const broken = samples.slice();
    broken[1234] = Number.NaN;
    expect(() => findNoise(list, broken)).toThrow(/findNoise: channels\[0\]\[1234\]/);
    expect(() => findNoise(list, samples.subarray(1) as Samples)).toThrow(RangeError);
    expect(() => findNoise(list, [] as never)).toThrow(RangeError);
    expect(() => findNoise(list, 'x' as never)).toThrow(TypeError);
    for (const [name, value] of [
      ['aboveDb', 2],
      ['leastSeconds', 0],
      ['joinSeconds', -1],
      ['holdBeforeSeconds', Number.NaN],
      ['holdAfterSeconds', 3],
      ['marginSeconds', 2],
    ] as const)
      expect(() => findNoise(list, samples, { [name]: value })).toThrow(`findNoise: ${name}`);
    expect(() => findNoise(list, samples, { aboveDb: '10' as never })).toThrow(TypeError);
    expect(Object.isFrozen(DEFAULT_NOISE_OPTIONS)).toBe(true);
  });
});

describe('on recorded singing', () => {
  it(`lays hardly any noise on what is labelled as sung${existsSync(SONGS) ? '' : ' (skipped: no corpus beside the project)'}`, ({
    skip,
  }) => {
    if (!existsSync(SONGS)) skip();
    let noiseSeconds = 0;
    let sungSeconds = 0;
    let clipSeconds = 0;
    for (const { channels, sampleRateHz, labels, durationSeconds } of loadCorpus(SONGS).slice(0, 5)) {
      const list = findNoise(detectConsonants(channels, { sampleRateHz }), channels);
      clipSeconds += durationSeconds;
      for (const { kind, startSample, endSample } of list.regions) {
        if (kind !== 'noise') continue;
        noiseSeconds += (endSample - startSample) / sampleRateHz;
        for (const label of labels)
          if (label.phone !== 'pau')
            sungSeconds += Math.max(
              0,
              Math.min(endSample / sampleRateHz, label.endSeconds) -
                Math.max(startSample / sampleRateHz, label.startSeconds),
            );
      }
    }
    console.info(
      `noise ${noiseSeconds.toFixed(2)} s of ${clipSeconds.toFixed(0)} s, on sung labels ${sungSeconds.toFixed(3)} s`,
    );
    // These labels are right to 30–50 ms: a song of four phrases has eight borders, of which a few may lag by that.
    expect(sungSeconds).toBeLessThan(0.05);
    expect(noiseSeconds).toBeGreaterThan(0.5);
  });
});
