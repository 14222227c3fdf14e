import { describe, expect, it } from 'vitest';
import type { LabelledClip } from '../../bench/lib/corpus.js';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import { addedClips } from '../../bench/train/added-clips.js';
import { glottalStop } from '../../bench/train/glottal-stop.js';
import { preparedClips } from '../../bench/train/prepared-clips.js';
import { createRandom } from '../../bench/train/random.js';
import { withHardOnsets } from '../../bench/train/with-hard-onsets.js';

const RATE = 16_000;
const DRAWS = 200;

/** Pulses of 80 Hz that die away, each with its peak at its start: a vowel of one resonance. One of them is at 0.5 s. */
const PERIOD = RATE / 80;
const voice = Float32Array.from({ length: RATE }, (_, i) => {
  const after = i % PERIOD;
  return 0.5 * Math.exp(-after / 20) * Math.cos(0.25 * after);
});

function rms(samples: ArrayLike<number>): number {
  return Math.sqrt(Array.from(samples).reduce((sum, x) => sum + x * x, 0) / samples.length);
}

function peakOf(samples: Float32Array): number {
  return samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
}

function decibels(ratio: number): number {
  return 20 * Math.log10(ratio);
}

/** Samples that stand out of a room of at most -50 dB of 0.5: 5.6 deviations of it. */
const LOUD = 0.009;

/** Where each single pulse of a stop starts: what is loud after 2 ms that were not. */
function pulsesOf(sound: Float32Array): readonly number[] {
  const starts: number[] = [];
  let last = -RATE;
  sound.forEach((x, i) => {
    if (Math.abs(x) < LOUD) return;
    if (i - last > 0.002 * RATE) starts.push(i);
    last = i;
  });
  return starts;
}

describe('glottalStop', () => {
  const stops = Array.from({ length: DRAWS }, (_, seed) => glottalStop(voice, RATE, 0.5, createRandom(seed)));

  it('lets the voice set in with a pulse', () => {
    // Half a millisecond to one and a half before it, rounded.
    for (const { at } of stops) {
      expect(0.5 * RATE - at).toBeGreaterThanOrEqual(0.0005 * RATE - 0.5);
      expect(0.5 * RATE - at).toBeLessThanOrEqual(0.0015 * RATE + 0.5);
    }
  });

  it('is still for 40 to 250 ms, far below the voice', () => {
    const lengths = stops.map(({ sound }) => (pulsesOf(sound)[0] ?? sound.length) / RATE);
    expect(Math.min(...lengths)).toBeGreaterThan(0.039);
    expect(Math.max(...lengths)).toBeLessThan(0.253);
    // Deviation of a room of -75 to -50 dB of the peak, estimated from 640 samples: to a tenth.
    for (const { sound } of stops) {
      const level = decibels(rms(sound.subarray(0, 0.04 * RATE)) / 0.5);
      expect(level).toBeGreaterThan(-76);
      expect(level).toBeLessThan(-49);
    }
  });

  it('has up to three pulses 8 to 35 ms apart in about half of all cases', () => {
    const counts = stops.map(({ sound }) => pulsesOf(sound).length);
    expect(new Set(counts)).toEqual(new Set([0, 1, 2, 3]));
    // To four deviations of the draws.
    const share = counts.filter((count) => count > 0).length / DRAWS;
    expect(Math.abs(share - 0.55)).toBeLessThan(4 * Math.sqrt((0.55 * 0.45) / DRAWS));
    for (const { sound } of stops) {
      const starts = pulsesOf(sound);
      for (const [k, start] of starts.entries()) {
        // What lies before its peak, up to 1.5 ms, may be too soft to count.
        const distance = ((starts[k + 1] ?? sound.length) - start) / RATE;
        expect(distance).toBeGreaterThan(0.0065);
        expect(distance).toBeLessThan(0.0365);
      }
    }
  });

  it('gives pulses that are no louder than those of the vowel', () => {
    for (const { sound } of stops) expect(peakOf(sound)).toBeLessThan(0.5 + LOUD);
  });

  it('sets in within a millisecond, from at most 12 dB less, and ceases within 4 to 20 ms', () => {
    for (const { rise, fall } of stops) {
      expect([rise(0), fall(0)]).toEqual([0, 0]);
      expect(decibels(rise(0.001 * RATE))).toBeGreaterThan(-12.001);
      expect([rise(0.04 * RATE), fall(0.02 * RATE)]).toEqual([1, 1]);
      expect(fall(0.003 * RATE)).toBeLessThan(0.76);
      const gains = Array.from({ length: 0.04 * RATE }, (_, i) => rise(i));
      expect(gains).toEqual([...gains].sort((a, b) => a - b));
    }
    const soft = stops.filter(({ rise }) => rise(0.001 * RATE) < 0.9).length;
    expect(Math.abs(soft - DRAWS / 2)).toBeLessThan(4 * Math.sqrt(DRAWS / 4));
  });
});

const labelsOf = (rows: readonly (readonly [string, number, number])[]) =>
  rows.map(([label, startSeconds, endSeconds]) => ({
    label,
    phone: label,
    startSeconds,
    endSeconds,
    ...phoneFacts(label, 'latin'),
  }));

/** A long vowel, an s as long, a vowel too short to part, and a long one at the end. */
const spoken: LabelledClip = {
  name: 'take',
  folder: 'alba',
  voice: 'alba',
  voices: ['alba'],
  recordings: ['alba/one'],
  sampleRateHz: RATE,
  channels: [voice],
  durationSeconds: 1,
  labels: labelsOf([
    ['a', 0.1, 0.4],
    ['s', 0.4, 0.6],
    ['i', 0.6, 0.7],
    ['o', 0.7, 0.95],
  ]),
};

describe('withHardOnsets', () => {
  const results = Array.from({ length: DRAWS }, (_, seed) => withHardOnsets(spoken, createRandom(seed)));
  const addedTo = (result: LabelledClip, place: number): number => {
    const label = result.labels[place]!;
    const old = spoken.labels[place]!;
    return label.endSeconds - label.startSeconds - (old.endSeconds - old.startSeconds);
  };

  it('parts two of five vowels that are long enough, and nothing else', () => {
    for (const place of [0, 3]) {
      const share = results.filter((result) => addedTo(result, place) > 1e-9).length / DRAWS;
      expect(Math.abs(share - 0.4)).toBeLessThan(4 * Math.sqrt((0.4 * 0.6) / DRAWS));
    }
    for (const result of results)
      for (const place of [1, 2]) expect(addedTo(result, place)).toBeCloseTo(0, 9);
  });

  it('moves what comes after, and leaves it as it is', () => {
    for (const result of results) {
      const samples = result.channels[0] as Float32Array;
      const first = Math.round(addedTo(result, 0) * RATE);
      const second = Math.round(addedTo(result, 3) * RATE);
      expect(samples).toHaveLength(voice.length + first + second);
      expect(result.durationSeconds).toBe(samples.length / RATE);
      expect(result.labels.map(({ label }) => label)).toEqual(['a', 's', 'i', 'o']);
      expect(result.labels[1]!.startSeconds).toBeCloseTo(0.4 + first / RATE, 9);
      // Parted at three to six tenths of a vowel, up to 1.5 ms before or 12 ms after that; falling for 20 ms before, rising for 40 after.
      expect(samples.subarray(0, 0.168 * RATE)).toEqual(voice.subarray(0, 0.168 * RATE));
      expect(samples.subarray(first + 0.34 * RATE, first + 0.74 * RATE)).toEqual(
        voice.subarray(0.34 * RATE, 0.74 * RATE),
      );
      expect(samples.subarray(first + second + 0.91 * RATE)).toEqual(voice.subarray(0.91 * RATE));
    }
    expect(spoken.channels[0]).toBe(voice);
  });

  it('keeps 60 ms away from the start of a label, where its neighbour may be', () => {
    const short = { ...spoken, labels: labelsOf([['a', 0.1, 0.23]]) };
    for (let seed = 0; seed < DRAWS; seed++) {
      const samples = withHardOnsets(short, createRandom(seed)).channels[0] as Float32Array;
      // It sets in up to 1.5 ms before a pulse, and falls for up to 20 ms before that.
      expect(samples.subarray(0, 0.138 * RATE)).toEqual(voice.subarray(0, 0.138 * RATE));
    }
  });

  it('is still in the middle of a parted vowel', () => {
    for (const result of results) {
      const added = addedTo(result, 0);
      if (added < 1e-9) continue;
      const samples = result.channels[0] as Float32Array;
      const window = 0.036 * RATE;
      // One of these starts lies within 2 ms of the start of any stillness of at least 40 ms, so that its window is inside.
      const starts = Array.from({ length: Math.floor((0.34 + added) * 500) }, (_, k) => k * (RATE / 500));
      const levels = starts.map((start) => rms(samples.subarray(start, start + window)));
      expect(decibels(Math.min(...levels) / 0.5)).toBeLessThan(-49);
    }
  });
});

describe('hard onsets among added clips', () => {
  const options = { copiedShare: 0, breathingShare: 0, breathMouths: 0, hardOnsetShare: 0.25, seed: 4 };
  const clips = Array.from({ length: 200 }, () => spoken);

  it('are as many as asked for, from voices alone, and the same for the same seed', () => {
    const { copies, forEvents } = addedClips(clips, options);
    expect(copies).toEqual([]);
    // To five deviations of 200 draws.
    expect(Math.abs(forEvents.length - 50)).toBeLessThan(5 * Math.sqrt(200 * 0.25 * 0.75));
    expect(addedClips(clips, options).forEvents).toEqual(forEvents);
    expect(addedClips(clips, { ...options, seed: 5 }).forEvents).not.toEqual(forEvents);
    const composite = { ...spoken, voice: 'bela' };
    expect(addedClips([composite], { ...options, hardOnsetShare: 1 }).forEvents).toEqual([]);
  });

  it('teach events alone', () => {
    const added = addedClips(clips.slice(0, 2), { ...options, hardOnsetShare: 1, copiedShare: 1 });
    const taught = preparedClips(clips.slice(0, 2), added).map(({ teachesFrames }) => teachesFrames);
    expect(taught).toEqual([true, true, true, true, false, false]);
  });
});
