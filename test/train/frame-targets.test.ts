import { describe, expect, it } from 'vitest';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import type { BandTable } from '../../bench/train/band-table.js';
import { frameTargets } from '../../bench/train/frame-targets.js';
import { UNKNOWN } from '../../bench/train/labelled-frames.js';
import { FRAME_CLASSES, HOP_SECONDS, ROW_BANDS } from '../../src/detection/detection-scale.js';

/** Level below 1 kHz, from 1 to 3 kHz and from 3 kHz on, in dB. */
type Sound = readonly [number, number, number];
const SILENCE: Sound = [-80, -80, -80];
const VOWEL: Sound = [0, -10, -40];
const S: Sound = [-45, -25, -5];
const F: Sound = [-45, -25, -18];
const RELEASE: Sound = [-40, -15, -12];
const BREATH: Sound = [-45, -32, -35];

/** Sounds one after another: what, and up to which frame. */
function sounding(parts: readonly (readonly [Sound, number])[], gain = 1): BandTable {
  const frameCount = parts.at(-1)![1];
  const powers = new Float64Array(frameCount * ROW_BANDS);
  let frame = 0;
  for (const [levels, end] of parts)
    for (; frame < end; frame++)
      for (let band = 0; band < ROW_BANDS; band++)
        powers[frame * ROW_BANDS + band] = gain * 10 ** (levels[band < 4 ? 0 : band < 9 ? 1 : 2] / 10);
  return { frameCount, powers, hopSeconds: HOP_SECONDS };
}

/** Phones one after another: which, and up to which frame. Edges between frames belong to both. */
function labels(ends: readonly (readonly [string, number])[]) {
  return ends.map(([phone, end], i) => ({
    startSeconds: (ends[i - 1]?.[1] ?? 0) * HOP_SECONDS,
    endSeconds: end * HOP_SECONDS,
    label: phone,
    phone,
    ...phoneFacts(phone, 'latin'),
  }));
}

const ALIGNED = { exactEdges: false, breathesInPauses: true, edgesLag: false };

/** First and last frame of each run of a class. */
function runs(
  targets: Int8Array,
  name: (typeof FRAME_CLASSES)[number],
): readonly (readonly [number, number])[] {
  const found: [number, number][] = [];
  targets.forEach((target, t) => {
    if (target !== FRAME_CLASSES.indexOf(name)) return;
    if (found.at(-1)?.[1] === t - 1) found.at(-1)![1] = t;
    else found.push([t, t]);
  });
  return found;
}

const WORD: readonly (readonly [Sound, number])[] = [
  [SILENCE, 60],
  [VOWEL, 130],
  [S, 160],
  [VOWEL, 220],
  [SILENCE, 232],
  [RELEASE, 237],
  [VOWEL, 300],
  [SILENCE, 360],
];

describe('frameTargets', () => {
  // The s is labelled five frames (27 ms) early, as aligners do; the t holds its closure.
  const early = labels([
    ['sil', 60],
    ['a', 125],
    ['s', 155],
    ['a', 220],
    ['t', 236],
    ['a', 300],
    ['sil', 360],
  ]);
  const targets = frameTargets(sounding(WORD), early, ALIGNED);

  it('marks an s where its noise is, not where its label is', () => {
    expect(runs(targets, 'sibilant')).toEqual([[130, 159]]);
  });

  it('keeps to the label where edges are exact', () => {
    const exact = frameTargets(sounding(WORD), early, { ...ALIGNED, exactEdges: true });
    const [run] = runs(exact, 'sibilant');
    expect(run![0]).toBe(130);
    expect(run![1]).toBeLessThanOrEqual(155);
  });

  it('marks the release of a t as burst, and its closure as silence', () => {
    expect(runs(targets, 'burst')).toEqual([[232, 236]]);
    const closure = runs(targets, 'silence').filter(([first]) => first > 200 && first < 240);
    expect(closure).toHaveLength(1);
    expect(closure[0]![0]).toBeGreaterThanOrEqual(220);
    expect(closure[0]![1]).toBeLessThan(232);
  });

  it('ends a burst where it has fallen by 9 dB', () => {
    const fading: Sound = [-40, -24, -25];
    const faded: typeof WORD = [...WORD.slice(0, 5), [RELEASE, 234], [fading, 237], ...WORD.slice(6)];
    expect(runs(frameTargets(sounding(faded), early, ALIGNED), 'burst')).toEqual([[232, 233]]);
  });

  it('finds no burst where nothing rises', () => {
    const held: typeof WORD = [...WORD.slice(0, 4), [SILENCE, 237], ...WORD.slice(6)];
    expect(runs(frameTargets(sounding(held), early, ALIGNED), 'burst')).toEqual([]);
  });

  it('marks vowels well inside their labels and says nothing of what lies between', () => {
    const voiced = runs(targets, 'voiced').flat();
    for (const t of [90, 190, 270]) expect(targets[t]).toBe(FRAME_CLASSES.indexOf('voiced'));
    expect(Math.min(...voiced)).toBeGreaterThanOrEqual(60);
    for (const t of [128, 129, 160, 161, 237, 238]) expect(targets[t]).toBe(UNKNOWN);
  });

  it('marks silence away from its edges', () => {
    expect(targets.subarray(0, 48).every((t) => t === FRAME_CLASSES.indexOf('silence'))).toBe(true);
    expect(targets[58]).toBe(UNKNOWN);
  });

  it('does not depend on gain or on what came before', () => {
    expect(frameTargets(sounding(WORD, 1e-4), early, ALIGNED)).toEqual(targets);
    expect(frameTargets(sounding(WORD), early, ALIGNED)).toEqual(targets);
  });

  it('marks an f as fricative, and leaves v alone', () => {
    const sound = sounding([
      [SILENCE, 60],
      [VOWEL, 130],
      [F, 150],
      [VOWEL, 220],
    ]);
    const of = (phone: string) =>
      frameTargets(
        sound,
        labels([
          ['sil', 60],
          ['a', 130],
          [phone, 150],
          ['a', 220],
        ]),
        ALIGNED,
      );
    expect(runs(of('f'), 'fricative')).toEqual([[130, 149]]);
    expect(
      of('v')
        .subarray(130, 150)
        .every((target) => target === UNKNOWN),
    ).toBe(true);
  });

  it('lets a vowel end an s whose label ends early, though the vowel is bright', () => {
    const bright: Sound = [0, -5, -12];
    const sound = sounding([
      [SILENCE, 60],
      [VOWEL, 130],
      [S, 160],
      [bright, 220],
      [VOWEL, 260],
    ]);
    const said = labels([
      ['sil', 60],
      ['a', 130],
      ['s', 158],
      ['a', 260],
    ]);
    // High levels of s and vowel are within 10 dB, so depth alone would run on into the vowel.
    expect(runs(frameTargets(sound, said, ALIGNED), 'sibilant')).toEqual([[130, 159]]);
  });

  it('takes breath-like noise in a pause for breath, whatever the pause is called, unless a machine speaks', () => {
    const sound = sounding([
      [SILENCE, 60],
      [BREATH, 120],
      [SILENCE, 180],
      [VOWEL, 300],
    ]);
    const said = (pause: string) =>
      labels([
        [pause, 180],
        ['a', 300],
      ]);
    const [breath, ...more] = runs(frameTargets(sound, said('pau'), ALIGNED), 'breath');
    expect(more).toEqual([]);
    expect(breath![0]).toBeGreaterThanOrEqual(60);
    expect(breath![1]).toBeLessThan(120);
    expect(breath![1] - breath![0]).toBeGreaterThan(50);
    expect(runs(frameTargets(sound, said('sil'), ALIGNED), 'breath')).toEqual([breath]);
    const machine = frameTargets(sound, said('pau'), {
      ...ALIGNED,
      breathesInPauses: false,
      edgesLag: false,
    });
    expect(runs(machine, 'breath')).toEqual([]);
  });

  it('takes a noise too short for a breath for silence, unless the pause is only said to be one of the song', () => {
    const sound = sounding([
      [SILENCE, 60],
      [BREATH, 70],
      [SILENCE, 180],
      [VOWEL, 300],
    ]);
    const targets = (pause: string) =>
      frameTargets(
        sound,
        labels([
          [pause, 180],
          ['a', 300],
        ]),
        ALIGNED,
      );
    expect(targets('sil')[65]).toBe(FRAME_CLASSES.indexOf('silence'));
    expect(targets('pau')[65]).toBe(UNKNOWN);
  });

  it('marks a labelled breath inside its label', () => {
    const sound = sounding([
      [SILENCE, 20],
      [BREATH, 80],
      [SILENCE, 100],
    ]);
    const [run] = runs(
      frameTargets(
        sound,
        labels([
          ['sil', 20],
          ['br', 80],
          ['sil', 100],
        ]),
        ALIGNED,
      ),
      'breath',
    );
    // 20 ms inside: 4 frames, less than one frame of rounding.
    expect(run).toEqual([24, 75]);
  });

  it('takes an empty clip', () => {
    const empty = { frameCount: 0, powers: new Float64Array(0), hopSeconds: HOP_SECONDS };
    expect(frameTargets(empty, [], ALIGNED)).toHaveLength(0);
  });
});
