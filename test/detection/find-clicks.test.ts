import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadCorpus } from '../../bench/lib/corpus.js';
import { synthesiseSungVowel, synthesiseTBurst } from '../../examples/lib/demo/pieces.js';
import { createRandom } from '../../examples/lib/demo/random.js';
import { mouthClick } from '../../examples/lib/demo/stray-sounds.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { DEFAULT_CLICK_OPTIONS, findClicks } from '../../src/detection/find-clicks.js';
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

function lay(samples: Samples, sound: Samples, seconds: number): void {
  for (const [i, x] of sound.entries()) samples[at(seconds) + i] = samples[at(seconds) + i]! + x;
}

/** A dark vowel from 0.5 to 1.5 s in a room of −70 dBFS, and whatever `add` lays over it. */
function clip(add: (samples: Samples) => void = () => {}, pitchHz = 180): Samples {
  const samples = whiteNoise(1, at(3), 10 ** (-70 / 20)) as Samples;
  const vowel = { vowel: 'uw', pitchHz, durationSeconds: 1, sampleRateHz: RATE, seed: 2 } as const;
  lay(samples, synthesiseSungVowel(vowel), 0.5);
  add(samples);
  return samples;
}

const click =
  (seconds: number, levelDb: number) =>
  (samples: Samples): void =>
    lay(samples, mouthClick(RATE, levelDb, createRandom(7)), seconds);

const found = (samples: Samples, options = {}) => findClicks(empty(samples), samples, options).regions;

describe('findClicks', () => {
  it('finds a click in a pause, to a millisecond', () => {
    const [region, ...more] = found(clip(click(2.2, -38)));
    expect(more).toEqual([]);
    expect(region).toMatchObject({ kind: 'click', gainDb: 0, reason: { rule: 'findClicks' } });
    // Quarters of a millisecond, one to spare on each side, and the rise of the click.
    expect(Math.abs(region!.startSample / RATE - 2.2)).toBeLessThan(0.001);
    expect((region!.endSample - region!.startSample) / RATE).toBeLessThan(0.005);
  });

  it('finds one in a dark vowel, to be cut above 1.5 kHz alone', () => {
    const [region, ...more] = found(clip(click(1.0, -22)));
    expect(more).toEqual([]);
    expect(region!.band).toEqual({ lowHz: 1500, highHz: RATE / 2 });
    expect(found(clip(click(2.2, -38)))[0]!.band).toBeUndefined();
    expect(Math.abs(region!.startSample / RATE - 1)).toBeLessThan(0.001);
  });

  it.each([25, 40, 80, 180, 400])('takes no pulse of a voice at %i Hz for one', (pitchHz) => {
    expect(found(clip(undefined, pitchHz))).toEqual([]);
  });

  it('takes neither noise nor a knock without treble for one', () => {
    expect(found(clip((samples) => lay(samples, whiteNoise(9, at(0.3), 0.01) as Samples, 2)))).toEqual([]);
    const dull = Float32Array.from(
      { length: at(0.02) },
      (_, i) => 0.1 * Math.exp(-i / (0.002 * RATE)) * Math.sin((2 * Math.PI * 500 * i) / RATE),
    );
    expect(found(clip((samples) => lay(samples, dull, 2.2)))).toEqual([]);
  });

  it('takes no release for one: beside phrases, and where a region is listed', () => {
    const burst = synthesiseTBurst({ durationSeconds: 0.006, sampleRateHz: RATE, seed: 3, rmsDb: -30 });
    for (const seconds of [0.42, 1.58])
      expect(found(clip((samples) => lay(samples, burst, seconds)))).toEqual([]);
    const samples = clip(click(2.2, -38));
    const listed = insertRegion(empty(samples), {
      kind: 'burst',
      startSample: at(2.19),
      endSample: at(2.21),
    });
    expect(findClicks(listed, samples)).toBe(listed);
  });

  it('leaves the peaks of a longer noise to findNoise', () => {
    const rustle = (samples: Samples): void => {
      const noise = whiteNoise(11, at(0.4), 0.003) as Samples;
      lay(samples, noise, 2);
      click(2.2, -24)(samples);
    };
    expect(found(clip(rustle))).toEqual([]);
  });

  it('leaves one further than 40 dB under the voice', () => {
    // The vowel lies at −20 dBFS; a click of peak −64 has less than that in any quarter of a millisecond.
    expect(found(clip(click(2.2, -64)), { aboveDb: 6 })).toEqual([]);
  });

  it('is half sure of a click at the threshold, and 0.95 sure of one 12 dB above it', () => {
    const [region] = found(clip(click(2.2, -38)));
    const { aboveDb = Number.NaN } = region!.reason.numbers;
    const sure = (threshold: number): number | undefined =>
      found(clip(click(2.2, -38)), { aboveDb: threshold })[0]?.confidence;
    expect(aboveDb).toBeGreaterThan(18);
    // The rule of the page: a straight line over 12 dB; a millionth of a decibel is 4e-8 of that.
    expect(sure(aboveDb - 1e-6)).toBeCloseTo(0.5, 6);
    expect(sure(aboveDb - 6)).toBeCloseTo(0.725, 9);
    expect(sure(aboveDb - 11.9)).toBeLessThan(0.95);
    expect(sure(aboveDb - 12)).toBeCloseTo(0.95, 9);
    expect(sure(6)).toBe(0.95);
    expect(sure(aboveDb + 0.01)).toBeUndefined();
  });

  it('finds nothing more the second time', () => {
    const samples = clip(click(2.2, -38));
    const once = findClicks(empty(samples), samples);
    expect(findClicks(once, samples)).toBe(once);
  });

  it('does not care for level, sign, offset or order of channels', () => {
    const samples = clip(click(2.2, -38));
    const plain = findClicks(empty(samples), samples);
    // A power of two and a sign change no rounding.
    expect(findClicks(empty(samples), samples.map((x) => -x / 256) as Samples)).toEqual(plain);
    expect(found(samples.map((x) => x + 0.25) as Samples).map(({ startSample }) => startSample)).toEqual(
      plain.regions.map(({ startSample }) => startSample),
    );
    const other = clip();
    const both = findClicks(empty(samples), [samples, other]).regions.map(({ startSample }) => startSample);
    expect(both).toEqual(plain.regions.map(({ startSample }) => startSample));
    expect(findClicks(empty(samples), [other, samples]).regions.map((r) => r.startSample)).toEqual(both);
  });

  it('finds nothing in silence, an empty clip, one sample or a constant', () => {
    for (const samples of [
      new Float32Array(RATE),
      new Float32Array(0),
      new Float32Array(1).fill(1),
      new Float32Array(RATE).fill(0.5),
    ])
      for (const rate of [8000, 192_000]) {
        const list = empty(samples, rate);
        expect(findClicks(list, samples)).toBe(list);
      }
  });

  it('refuses what it cannot use', () => {
    const samples = clip();
    const broken = samples.slice();
    broken[9] = Number.NaN;
    expect(() => findClicks(empty(samples), broken)).toThrow(/findClicks: channels\[0\]\[9\]/);
    expect(() => findClicks(empty(samples), new Float32Array(3))).toThrow(RangeError);
    expect(() => findClicks(empty(samples), samples, { aboveDb: 5 })).toThrow('aboveDb');
    expect(() => findClicks(empty(samples), samples, { underVoiceDb: -1 })).toThrow('underVoiceDb');
    expect(() => findClicks(empty(samples), samples, { mostSeconds: 0 })).toThrow('mostSeconds');
    expect(Object.isFrozen(DEFAULT_CLICK_OPTIONS)).toBe(true);
  });

  it(`finds none on what is labelled as sung, in songs${existsSync(SONGS) ? '' : ' (skipped: no corpus beside the project)'}`, ({
    skip,
  }) => {
    if (!existsSync(SONGS)) skip();
    let sung = 0;
    for (const { channels, sampleRateHz, labels } of loadCorpus(SONGS).slice(0, 5))
      for (const { kind, startSample } of findClicks(detectConsonants(channels, { sampleRateHz }), channels)
        .regions) {
        const seconds = startSample / sampleRateHz;
        if (
          kind === 'click' &&
          labels.some((l) => l.phone !== 'pau' && l.startSeconds < seconds && l.endSeconds > seconds)
        )
          sung++;
      }
    // 90 s of singing with some hundred k, t and p; one might be a real click on a vowel.
    expect(sung).toBeLessThanOrEqual(1);
  });
});
