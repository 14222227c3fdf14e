import { describe, expect, it } from 'vitest';
import type { LabelledClip } from '../../bench/lib/corpus.js';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import { addedClips } from '../../bench/train/added-clips.js';
import { changedCopies } from '../../bench/train/changed-copies.js';
import { createMouth, madeBreath } from '../../bench/train/made-breath.js';
import { madeBreaths } from '../../bench/train/made-breaths.js';
import { createRandom } from '../../bench/train/random.js';
import { withBreath } from '../../bench/train/with-breath.js';

const RATE = 16_000;

function phrase(voice: string): LabelledClip {
  const samples = Float32Array.from({ length: RATE / 4 }, (_, n) => 0.5 * Math.sin(0.3 * n));
  return {
    name: 'take',
    folder: voice,
    voice,
    voices: [voice],
    recordings: [`${voice}/one`],
    sampleRateHz: RATE,
    channels: [samples],
    durationSeconds: samples.length / RATE,
    labels: [{ startSeconds: 0.05, endSeconds: 0.2, label: 'a', phone: 'a', ...phoneFacts('a', 'latin') }],
  };
}

function peakOf(samples: ArrayLike<number>): number {
  return Array.from(samples).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
}

function decibels(ratio: number): number {
  return 20 * Math.log10(ratio);
}

function rms(samples: Float32Array, from: number, to: number): number {
  const part = samples.subarray(Math.max(0, Math.round(from * RATE)), Math.round(to * RATE));
  return Math.sqrt(part.reduce((sum, x) => sum + x * x, 0) / part.length);
}

describe('madeBreath', () => {
  it('swells and ebbs, with a peak of 1, and can be heard where it says', () => {
    for (let seed = 0; seed < 40; seed++) {
      const random = createRandom(seed);
      const { samples, startSeconds, endSeconds } = madeBreath(createMouth(random), RATE, random);
      const seconds = samples.length / RATE;
      expect(seconds).toBeGreaterThan(0.069);
      expect(seconds).toBeLessThan(1.121);
      expect(peakOf(samples)).toBeCloseTo(1, 6);
      // A tenth of its length rises to -25 dB in 0.6 % of it, half of it in 2.8 %.
      expect(startSeconds / seconds).toBeGreaterThan(0.005);
      expect(startSeconds / seconds).toBeLessThan(0.029);
      expect(1 - endSeconds / seconds).toBeLessThan(0.029);
      // Straight ramps: the outermost twentieths are at most at half of a hold, on average a quarter, twelve decibels down.
      const middle = rms(samples, 0.45 * seconds, 0.55 * seconds);
      expect(rms(samples, 0, 0.05 * seconds)).toBeLessThan(0.6 * middle);
      expect(rms(samples, 0.95 * seconds, seconds)).toBeLessThan(0.6 * middle);
    }
  });

  it('is duller than white noise, as air in a throat is', () => {
    const random = createRandom(1);
    const tilts = Array.from({ length: 40 }, () => {
      const { samples } = madeBreath(createMouth(random), 44_100, random);
      const steps = samples.map((x, i) => x - (samples[i - 1] ?? 0));
      return rms(steps, 0, 9) / rms(samples, 0, 9);
    });
    // Steps of white noise are the square root of 2 times as large as the noise.
    expect(Math.max(...tilts)).toBeLessThan(Math.SQRT2);
  });
});

describe('madeBreaths', () => {
  it('gives the same breaths for the same seed, and others for another', () => {
    expect(madeBreaths(2, 7)).toEqual(madeBreaths(2, 7));
    expect(madeBreaths(2, 8)).not.toEqual(madeBreaths(2, 7));
    expect(madeBreaths(0, 7)).toEqual([]);
  });

  it('has a voice for each mouth and one label for each breath, inside a room that is far more quiet', () => {
    const clips = madeBreaths(3, 1);
    expect(clips).toHaveLength(24);
    expect(new Set(clips.map(({ voice }) => voice)).size).toBe(3);
    expect(new Set(clips.map(({ name }) => name)).size).toBe(24);
    for (const { channels, labels, durationSeconds, sampleRateHz, voices, voice } of clips) {
      const samples = channels[0] as Float32Array;
      expect(voices).toEqual([voice]);
      expect(samples.length / sampleRateHz).toBe(durationSeconds);
      // -35 to -8 dB, and the room at most -38 dB of that, its extremes four deviations out.
      expect(decibels(peakOf(samples))).toBeGreaterThan(-35.5);
      expect(decibels(peakOf(samples))).toBeLessThan(-7.5);
      const [label] = labels;
      expect(label!.phoneClass).toBe('breath');
      const before = samples.subarray(
        0,
        Math.max(0, Math.floor((label!.startSeconds - 0.01) * sampleRateHz)),
      );
      if (before.length > 0) expect(decibels(peakOf(before) / peakOf(samples))).toBeLessThan(-20);
      const after = samples.subarray(Math.ceil((label!.endSeconds + 0.01) * sampleRateHz));
      if (after.length > 0) expect(decibels(peakOf(after) / peakOf(samples))).toBeLessThan(-20);
    }
  });
});

describe('withBreath', () => {
  // A vowel, an s and a vowel, whose samples differ; the clip ends with a pause.
  const spoken: LabelledClip = {
    ...phrase('alba'),
    labels: [
      ['a', 0.02, 0.1],
      ['s', 0.1, 0.15],
      ['i', 0.15, 0.2],
      ['sil', 0.2, 0.25],
    ].map(([label, startSeconds, endSeconds]) => ({
      label: label as string,
      phone: label as string,
      startSeconds: startSeconds as number,
      endSeconds: endSeconds as number,
      ...phoneFacts(label as string, 'latin'),
    })),
  };
  const original = spoken.channels[0] as Float32Array;
  const results = Array.from({ length: 60 }, (_, seed) => withBreath(spoken, createRandom(seed)));
  const placeOf = ({ labels }: LabelledClip) => labels.findIndex(({ label }) => label === 'br');

  it('breathes before the phrase half of the time, otherwise where a vowel ends', () => {
    const count = (place: number) => results.filter((result) => placeOf(result) === place).length;
    expect(count(0) + count(1) + count(3)).toBe(60);
    // To four deviations of 60 draws, and of 30.
    expect(Math.abs(count(0) - 30)).toBeLessThan(4 * Math.sqrt(15));
    expect(Math.abs(count(1) - count(3))).toBeLessThan(4 * Math.sqrt(30));
  });

  it('leaves the phrase as it is about it, but for a fade where it is parted', () => {
    for (const result of results) {
      const samples = result.channels[0] as Float32Array;
      const added = samples.length - original.length;
      const at = Math.round([0, 0.1, Number.NaN, 0.2][placeOf(result)]! * RATE);
      const [out, back] = at === 0 ? [0, 0] : [0.01 * RATE, 0.003 * RATE];
      expect(samples.subarray(0, at - out)).toEqual(original.subarray(0, at - out));
      expect(samples.subarray(at + added + back)).toEqual(original.subarray(at + back));
      for (let i = at - out; i < at; i++)
        expect(Math.abs(samples[i]!)).toBeLessThanOrEqual(Math.abs(original[i]!));
      // -36 to -14 dB, and a room of up to -50 dB, its extremes four deviations out, on top.
      const level = decibels(peakOf(samples.subarray(at, at + added)) / peakOf(original));
      expect(level).toBeGreaterThan(-36.5);
      expect(level).toBeLessThan(-13);
    }
    expect(spoken.channels[0]).toBe(original);
  });

  it('moves what comes after it, and says where it can be heard', () => {
    for (const result of results) {
      const place = placeOf(result);
      const added = (result.channels[0]!.length - original.length) / RATE;
      expect(result.durationSeconds).toBeCloseTo(0.25 + added, 9);
      const others = result.labels.filter(({ label }) => label !== 'br');
      for (const [i, label] of others.entries()) {
        const shift = i < place ? 0 : added;
        expect(label.startSeconds).toBeCloseTo(spoken.labels[i]!.startSeconds + shift, 9);
        expect(label.endSeconds).toBeCloseTo(spoken.labels[i]!.endSeconds + shift, 9);
      }
      const breath = result.labels[place]!;
      const before = place === 0 ? 0 : spoken.labels[place - 1]!.endSeconds + 0.0199;
      expect(breath.startSeconds).toBeGreaterThan(before);
      expect(breath.endSeconds).toBeLessThan(before + added - 0.0199);
    }
  });
});

describe('addedClips', () => {
  const clips = Array.from({ length: 200 }, () => phrase('alba'));
  const options = { copiedShare: 1, breathingShare: 0.25, breathMouths: 2, hardOnsetShare: 0, seed: 4 };

  it('puts a breath into as many clips as asked for, and adds breaths by themselves', () => {
    const { forEvents } = addedClips(clips, options);
    const behind = forEvents.slice(0, -16);
    // To five deviations of 200 draws.
    expect(Math.abs(behind.length - 50)).toBeLessThan(5 * Math.sqrt(200 * 0.25 * 0.75));
    for (const { voice, labels } of behind)
      expect([voice, ...labels.map(({ label }) => label)].sort()).toEqual(['a', 'alba', 'br']);
    expect(forEvents.slice(-16)).toEqual(madeBreaths(2, 4));
  });

  it('puts none into composites and mere breaths, and leaves copies as they are', () => {
    const composite = { ...phrase('alba'), voice: 'bela' };
    const others = [...Array.from({ length: 30 }, () => composite), ...madeBreaths(1, 1)];
    const all = { ...options, breathingShare: 1 };
    expect(addedClips(others, all).forEvents).toEqual(madeBreaths(2, 4));
    expect(addedClips(clips, all).copies).toEqual(changedCopies(clips, 1, 4));
  });

  it('gives the same for the same seed', () => {
    expect(addedClips(clips.slice(0, 8), { ...options, breathingShare: 1 })).toEqual(
      addedClips(clips.slice(0, 8), { ...options, breathingShare: 1 }),
    );
  });
});
