import { describe, expect, it } from 'vitest';
import { heldOutGroups, inOrderOfPart, recordingGroups } from '../../bench/train/held-out-groups.js';
import { isHeldOut } from '../../bench/train/is-held-out.js';
import { type SharedOut, voiceFolds } from '../../bench/train/voice-folds.js';

const clip = (frameCount: number, ...voices: string[]): SharedOut => ({
  frameCount,
  voice: voices[0] as string,
  voices,
  teachesFrames: true,
});

describe('voiceFolds', () => {
  const clips = [
    clip(900, 'long'),
    clip(300, 'a:1'),
    clip(300, 'a:2'),
    clip(250, 'b'),
    clip(200, 'c'),
    clip(150, 'a:1'),
    clip(100, 'lungs'),
    clip(120, 'b', 'lungs'),
    clip(80, 'long', 'c'),
  ];
  const folds = voiceFolds(clips, 3);

  it('collects every clip once', () => {
    expect(folds.flatMap(({ collect }) => collect).sort((x, y) => x - y)).toEqual(clips.map((_, i) => i));
  });

  it('never trains on a voice of the clips that are collected, composites of it included', () => {
    for (const { train, collect } of folds) {
      const held = new Set(collect.map((i) => clips[i]!.voice));
      for (const i of train) expect(clips[i]!.voices.some((voice) => held.has(voice))).toBe(false);
      expect(train.length).toBeGreaterThan(0);
    }
  });

  it('keeps the folds about equally long', () => {
    const loads = folds.map(({ collect }) => collect.reduce((sum, i) => sum + clips[i]!.frameCount, 0));
    // The longest voice alone has 980 of 2400 frames; the rest must share the other two folds evenly, to one short voice.
    expect(Math.max(...loads)).toBe(980);
    expect(Math.min(...loads)).toBeGreaterThan((2400 - 980) / 2 - 200);
  });

  it('collects clips that do not teach frames, and trains on none of them', () => {
    const quiet = clips.map((each, i) => ({ ...each, teachesFrames: i !== 3 && i !== 5 }));
    const shared = voiceFolds(quiet, 3);
    expect(shared.flatMap(({ collect }) => collect).sort((x, y) => x - y)).toEqual(clips.map((_, i) => i));
    for (const { train } of shared) expect(train).not.toContain(3);
    for (const { train } of shared) expect(train).not.toContain(5);
    // Nor do they count where voices are shared out: without them the folds are the same.
    const without = voiceFolds([...clips, { ...clip(5000, 'air'), teachesFrames: false }], 3);
    expect(without.map(({ train }) => train)).toEqual(folds.map(({ train }) => train));
  });

  it('makes fewer folds where there are fewer voices, and refuses a single one', () => {
    expect(voiceFolds([clip(1, 'a'), clip(1, 'b')], 3)).toHaveLength(2);
    expect(() => voiceFolds([clip(1, 'a'), clip(2, 'a')], 3)).toThrow(/two voices are needed/);
    const silent = { ...clip(5, 'air'), teachesFrames: false };
    expect(() => voiceFolds([clip(1, 'a'), silent], 3)).toThrow(/two voices are needed/);
    expect(voiceFolds([clip(1, 'a'), clip(1, 'b'), silent], 3)).toHaveLength(2);
  });
});

describe('recordingGroups', () => {
  const clip = (...recordings: string[]) => ({ recordings });

  it('parts the recordings of each folder into five, in order of name, and knows every part of a composite', () => {
    const solo = ['solo/f', 'solo/a', 'solo/b', 'solo/c', 'solo/d', 'solo/e'].map((name) => clip(name));
    const duet = [clip('duet/y'), clip('duet/x')];
    const mix = clip('duet/y', 'solo/e', 'solo/f');
    // A copy of a recording is no recording of its own.
    const groupsOf = recordingGroups([...solo, ...duet, mix, clip('solo/a')]);
    const numbers = (each: { recordings: string[] }) =>
      groupsOf({ ...each, voices: [] }).map((group) => Number(/^recordings (\d)$/.exec(group)?.[1]));
    expect(solo.map(numbers)).toEqual([[1], [1], [2], [3], [4], [5]]);
    expect(duet.map(numbers)).toEqual([[2], [1]]);
    expect(numbers(mix)).toEqual([2, 5, 1]);
  });
});

describe('heldOutGroups', () => {
  it('holds out a folder as a whole, but an4 by every sixth speaker', () => {
    const an4 = ['an4:g', 'an4:a', 'an4:b', 'an4:c', 'an4:d', 'an4:e', 'an4:f'];
    const voices = [...an4, 'flite:1', 'flite:2', 'solo'];
    const scored = new Set(['an4', 'flite', 'solo']);
    const groupOf = heldOutGroups(
      voices.map((voice) => ({ voices: [voice] })),
      scored,
    );
    expect(voices.map(groupOf)).toEqual([
      ...['an4 1', 'an4 1', 'an4 2', 'an4 3', 'an4 4', 'an4 5', 'an4 6'],
      ...['flite', 'flite', 'solo'],
    ]);
  });

  it('holds out together what only teaches', () => {
    const voices = ['solo', 'spoken:1', 'other'];
    const groupOf = heldOutGroups([{ voices }], new Set(['solo']));
    const [solo, spoken, other] = voices.map(groupOf);
    expect(solo).toBe('solo');
    expect(spoken).toBe(other);
    expect(spoken).not.toBe(solo);
  });

  it('numbers groups so that more parts of one change no number of another', () => {
    expect(inOrderOfPart(['a 1', 'a 2', 'a 3', 'b', 'c'])).toEqual(['a 1', 'b', 'c', 'a 2', 'a 3']);
    expect(inOrderOfPart(['a 2', 'b', 'a 1', 'made_9'])).toEqual(['b', 'a 1', 'made_9', 'a 2']);
  });
});

describe('isHeldOut', () => {
  it('knows a voice by its name, by its folder, and in a composite', () => {
    expect(isHeldOut(['an4:x'], ['an4:x'])).toBe(true);
    expect(isHeldOut(['an4:x'], ['an4'])).toBe(true);
    expect(isHeldOut(['solo', 'lungs'], ['lungs'])).toBe(true);
    expect(isHeldOut(['an4:x', 'solo'], ['an4:y', 'so'])).toBe(false);
  });
});
