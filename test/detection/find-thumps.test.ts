import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loadCorpus } from '../../bench/lib/corpus.js';
import { synthesiseSungVowel } from '../../examples/lib/demo/pieces.js';
import { plosivePop } from '../../examples/lib/demo/stray-sounds.js';
import { DEFAULT_THUMP_OPTIONS, findThumps } from '../../src/detection/find-thumps.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 16_000;
const STUDIO = new URL('../../../shared/corpus/asterisk_en', import.meta.url).pathname;
const at = (seconds: number): number => Math.round(seconds * RATE);
const empty = (samples: Samples, sampleRateHz = RATE): RegionList =>
  createRegionList({ sampleRateHz, lengthSamples: samples.length });

/** A vowel from 0.5 to 2.5 s in a quiet room, and whatever `add` lays over it. */
function clip(add: (samples: Samples) => void = () => {}, pitchHz = 180): Samples {
  const samples = whiteNoise(1, at(3.5), 10 ** (-70 / 20)) as Samples;
  const vowel = synthesiseSungVowel({
    vowel: 'ah',
    pitchHz,
    durationSeconds: 2,
    sampleRateHz: RATE,
    seed: 2,
  });
  for (const [i, x] of vowel.entries()) samples[at(0.5) + i] = samples[at(0.5) + i]! + x;
  add(samples);
  return samples;
}

const pop =
  (seconds: number, levelDb: number) =>
  (samples: Samples): void => {
    for (const [i, x] of plosivePop(RATE, levelDb).entries())
      samples[at(seconds) + i] = samples[at(seconds) + i]! + x;
  };

const found = (samples: Samples, options = {}) => findThumps(empty(samples), samples, options).regions;

describe('findThumps', () => {
  it('finds a blow on a vowel and marks the band below it', () => {
    const [region, ...more] = found(clip(pop(1.2, -16)));
    expect(more).toEqual([]);
    expect(region).toMatchObject({
      kind: 'noise',
      label: 'thump',
      gainDb: 0,
      reason: { rule: 'findThumps' },
    });
    expect(region!.band!.lowHz).toBe(0);
    expect([90, 150]).toContain(region!.band!.highHz);
    // The blow lasts 0.14 s with its tail, is greatest some 10 to 50 ms in, and is down to a quarter before 0.1 s.
    expect(region!.startSample / RATE).toBeGreaterThan(1.18);
    expect(region!.startSample / RATE).toBeLessThan(1.22);
    expect(region!.endSample / RATE).toBeGreaterThan(1.25);
    expect(region!.endSample / RATE).toBeLessThan(1.35);
  });

  it.each([80, 100, 140, 250, 600])('hears no thump in a voice at %i Hz', (pitchHz) => {
    expect(found(clip(undefined, pitchHz))).toEqual([]);
  });

  it('finds the blow in a low voice too, and keeps the band under its pitch', () => {
    const [region, ...more] = found(clip(pop(1.2, -12), 110));
    expect(more).toEqual([]);
    expect(region!.band).toEqual({ lowHz: 0, highHz: 90 });
  });

  it('is found beside a noise that is none of its own, and not again beside one that is', () => {
    const samples = clip(pop(1.2, -16));
    const [region] = found(samples);
    // The last hundredth of a second of it is listed already; the rest is far more than the two fifths that are asked for.
    const listed = (label: string): RegionList =>
      insertRegion(empty(samples), {
        kind: 'noise',
        label,
        startSample: region!.endSample - at(0.01),
        endSample: region!.endSample,
      });
    const beside = findThumps(listed('hum'), samples).regions;
    expect(beside.map(({ startSample, endSample }) => [startSample, endSample])).toEqual([
      [region!.startSample, region!.endSample - at(0.01)],
      [region!.endSample - at(0.01), region!.endSample],
    ]);
    const own = listed('thump');
    expect(findThumps(own, samples)).toBe(own);
  });

  it('leaves a steady rumble and a blow far under the voice', () => {
    const rumble = (samples: Samples): void => {
      for (let i = 0; i < samples.length; i++)
        samples[i] = samples[i]! + 0.05 * Math.sin((2 * Math.PI * 40 * i) / RATE);
    };
    expect(found(clip(rumble))).toEqual([]);
    // The vowel lies at −20 dBFS RMS; a blow of peak −45 has an RMS some 30 dB under it.
    expect(found(clip(pop(1.2, -45)))).toEqual([]);
  });

  it('leaves a knock far from any phrase to findNoise', () => {
    expect(found(clip(pop(3.1, -16))).length).toBe(0);
    expect(found(clip(pop(0.1, -16))).length).toBe(0);
  });

  it('takes the longest part that other regions leave, and none where they leave less than two fifths', () => {
    const samples = clip(pop(1.2, -16));
    const burst = insertRegion(empty(samples), {
      kind: 'burst',
      startSample: at(1.19),
      endSample: at(1.225),
    });
    const [listed, thump] = findThumps(burst, samples).regions;
    expect(listed).toBe(burst.regions[0]);
    expect(thump!.startSample).toBe(listed!.endSample);
    const most = insertRegion(empty(samples), {
      kind: 'custom',
      startSample: at(1.15),
      endSample: at(1.265),
    });
    expect(findThumps(most, samples)).toBe(most);
  });

  it('finds nothing more the second time', () => {
    const samples = clip(pop(1.2, -16));
    const middle = insertRegion(empty(samples), {
      kind: 'click',
      startSample: at(1.23),
      endSample: at(1.235),
    });
    for (const list of [empty(samples), middle]) {
      const once = findThumps(list, samples);
      expect(once.regions.length).toBe(list.regions.length + 1);
      expect(findThumps(once, samples)).toBe(once);
    }
  });

  it('does not care for level, sign, offset or order of channels', () => {
    const samples = clip(pop(1.2, -16));
    const plain = findThumps(empty(samples), samples);
    // A power of two and a sign change no rounding.
    expect(findThumps(empty(samples), samples.map((x) => -x / 256) as Samples)).toEqual(plain);
    const [shifted] = found(samples.map((x) => x + 0.25) as Samples);
    // A block of the envelope is 2 ms.
    expect(Math.abs(shifted!.startSample - plain.regions[0]!.startSample)).toBeLessThanOrEqual(32);
    const other = clip();
    const one = findThumps(empty(samples), [samples, other]).regions;
    expect(one.length).toBe(1);
    expect(findThumps(empty(samples), [other, samples]).regions.map((r) => r.startSample)).toEqual([
      one[0]!.startSample,
    ]);
  });

  it('finds nothing in silence, an empty clip, one sample, a constant, or a clip that begins with a step', () => {
    const step = new Float32Array(RATE).fill(0.5);
    step.fill(-0.1, RATE / 2);
    for (const samples of [
      new Float32Array(RATE),
      new Float32Array(0),
      new Float32Array(1).fill(1),
      new Float32Array(RATE).fill(0.5),
    ])
      for (const rate of [8000, 192_000]) {
        const list = empty(samples, rate);
        expect(findThumps(list, samples)).toBe(list);
      }
    expect(() => found(step)).not.toThrow();
  });

  it('refuses what it cannot use', () => {
    const samples = clip();
    const broken = samples.slice();
    broken[9] = Number.NaN;
    expect(() => findThumps(empty(samples), broken)).toThrow(/findThumps: channels\[0\]\[9\]/);
    expect(() => findThumps(empty(samples), new Float32Array(3))).toThrow(RangeError);
    expect(() => findThumps(empty(samples), samples, { aboveDb: 5 })).toThrow('aboveDb');
    expect(() => findThumps(empty(samples), samples, { underVoiceDb: -1 })).toThrow('underVoiceDb');
    expect(() => findThumps(empty(samples), samples, { mostSeconds: '1' as never })).toThrow(TypeError);
    expect(Object.isFrozen(DEFAULT_THUMP_OPTIONS)).toBe(true);
  });

  it(`finds them where plosives are labelled${existsSync(STUDIO) ? '' : ' (skipped: no corpus beside the project)'}`, ({
    skip,
  }) => {
    if (!existsSync(STUDIO)) skip();
    let plosives = 0;
    let all = 0;
    for (const { channels, sampleRateHz, labels } of loadCorpus(STUDIO).slice(0, 40))
      for (const { startSample, endSample } of findThumps(empty(channels[0]!, sampleRateHz), channels)
        .regions) {
        all++;
        // Forced alignment, right to some 20 to 50 ms.
        const near = labels.filter(
          (label) =>
            label.startSeconds < endSample / sampleRateHz + 0.05 &&
            label.endSeconds > startSample / sampleRateHz - 0.05,
        );
        if (near.some(({ phone }) => ['P', 'B', 'T', 'D', 'K', 'F'].includes(phone.replace(/\d/, ''))))
          plosives++;
      }
    console.info(`${plosives} of ${all} thumps at p, b, t, d, k or f`);
    expect(all).toBeGreaterThanOrEqual(5);
    // These are about a fifth of the sounds of English: by chance it would be a third with that slack.
    expect(plosives / all).toBeGreaterThanOrEqual(0.85);
  });
});
