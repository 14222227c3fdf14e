import { describe, expect, it } from 'vitest';
import type { LabelledClip } from '../../bench/lib/corpus.js';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import { changedCopies } from '../../bench/train/changed-copies.js';

const RATE = 8000;

/** A third of a second of a hummed note with one labelled vowel in it. */
function clip(i: number, more: Partial<LabelledClip> = {}): LabelledClip {
  const samples = Float32Array.from({ length: 2400 }, (_, n) => 0.3 * Math.sin((0.2 + 0.001 * i) * n));
  return {
    name: `take${i}`,
    folder: 'alba',
    voice: 'alba',
    voices: ['alba'],
    recordings: ['alba/one'],
    sampleRateHz: RATE,
    channels: [samples],
    durationSeconds: samples.length / RATE,
    labels: [{ startSeconds: 0.1, endSeconds: 0.2, label: 'a', phone: 'a', ...phoneFacts('a', 'latin') }],
    ...more,
  };
}

const CLIPS = Array.from({ length: 200 }, (_, i) => clip(i));

describe('changedCopies', () => {
  it('gives the same copies for the same seed, and others for another', () => {
    const first = changedCopies(CLIPS.slice(0, 12), 1, 3);
    expect(first).toHaveLength(12);
    expect(changedCopies(CLIPS.slice(0, 12), 1, 3)).toEqual(first);
    expect(changedCopies(CLIPS.slice(0, 12), 1, 4)).not.toEqual(first);
  });

  it('moves labels along with the sound: each keeps its share of the clip', () => {
    for (const copy of changedCopies(CLIPS, 1, 1)) {
      const [label] = copy.labels;
      // The number of samples is rounded, by at most one in 2400 / 1.7.
      expect(Math.abs(label!.startSeconds / copy.durationSeconds - 1 / 3)).toBeLessThan(1e-3);
      expect(Math.abs(label!.endSeconds / copy.durationSeconds - 2 / 3)).toBeLessThan(1e-3);
      expect(copy.channels[0]).toHaveLength(Math.round(copy.durationSeconds * RATE));
      expect(copy.voices).toEqual(['alba']);
    }
  });

  it('makes the fast ones and the small mouths shorter, within their limits, and the others as long', () => {
    const ratios = changedCopies(CLIPS, 1, 1).map(({ durationSeconds }) => durationSeconds / 0.3);
    // Tempo 1.25 to 1.7 and ratios 8/7 to 13/10; half of them (of 200, to five deviations). Lengths are whole samples.
    const shorter = ratios.filter((ratio) => ratio < 0.99);
    expect(Math.min(...shorter)).toBeGreaterThan(1 / 1.7 - 0.001);
    expect(Math.max(...shorter)).toBeLessThan(7 / 8 + 0.001);
    expect(Math.abs(shorter.length - 100)).toBeLessThan(5 * Math.sqrt(50));
    expect(ratios.filter((ratio) => ratio === 1)).toHaveLength(200 - shorter.length);
  });

  it('leaves the clips as they are', () => {
    const before = Float32Array.from(CLIPS[0]!.channels[0]!);
    changedCopies(CLIPS.slice(0, 1), 1, 1);
    expect(CLIPS[0]!.channels[0]).toEqual(before);
  });

  it('copies as many as asked for, and neither composites nor mere breaths', () => {
    expect(changedCopies(CLIPS, 0, 1)).toEqual([]);
    const half = changedCopies(CLIPS, 0.5, 1).length;
    expect(Math.abs(half - 100)).toBeLessThan(5 * Math.sqrt(50));
    const breath = { ...CLIPS[0]!.labels[0]!, phone: 'br', ...phoneFacts('br', 'composite') };
    const others = [clip(0, { voice: 'bela' }), clip(1, { labels: [breath] })];
    expect(changedCopies(others, 1, 1)).toEqual([]);
  });
});
