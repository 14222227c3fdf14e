import { describe, expect, it } from 'vitest';
import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { noiseProbability, splitByKind } from '../../src/detection/noise-spans.js';

const CLASSES = FRAME_CLASSES.length;
const LETTERS: Readonly<Record<string, number>> = { v: 0, '.': 1, s: 2, f: 3, t: 4, b: 5 };

/** A track by hand: one letter a frame, that class at 0.9 and the others sharing the rest. */
function track(letters: string): Float64Array<ArrayBuffer> {
  return Float64Array.from({ length: letters.length * CLASSES }, (_, i) =>
    LETTERS[letters[Math.floor(i / CLASSES)]!] === i % CLASSES ? 0.9 : 0.02,
  );
}

/** Runs of the noise in `letters` (what is neither v nor .), as in "s3-9". */
function runs(letters: string, leastFrames = 4): string {
  const start = letters.search(/[sftb]/);
  const end =
    letters.length -
    [...letters]
      .reverse()
      .join('')
      .search(/[sftb]/);
  return splitByKind(track(letters), letters.length, start, end, leastFrames)
    .map((run) => `${Object.keys(LETTERS)[run.class]}${run.start}-${run.end}`)
    .join(' ');
}

describe('splitByKind', () => {
  it('keeps a stretch of one kind whole', () => {
    expect(runs('vvvssssssssvvv')).toBe('s3-11');
    expect(runs('..bbbbbbbb')).toBe('b2-10');
    expect(runs('ffffffff..')).toBe('f0-8');
    expect(runs('..tttt')).toBe('t2-6');
  });

  it('parts two kinds that are both long', () => {
    expect(runs('..bbbbbbbbbbbbssssssssss..')).toBe('b2-14 s14-24');
    expect(runs('ffffffffssssssss')).toBe('f0-8 s8-16');
    expect(runs('ttttbbbbbbbbbb')).toBe('t0-4 b4-14');
  });

  it('hears a burst that touches a sibilant as its release: an affricate is one sibilant', () => {
    expect(runs('..ttttsssssss..')).toBe('s2-13');
    expect(runs('sssssssstttt..')).toBe('s0-12');
  });

  it('hears the breathy end of a burst as part of it, and a burst in a fricative as burst', () => {
    expect(runs('..ttttffffff..')).toBe('t2-12');
    expect(runs('ffffftttt')).toBe('t0-9');
  });

  it('joins a short fricative to the sibilant beside it, and a short sibilant to a fricative', () => {
    expect(runs('ffffffssssssssss')).toBe('s0-16');
    expect(runs('ssssssffffffffff')).toBe('f0-16');
    // Seven frames of each are two sounds.
    expect(runs('sssssssffffffff')).toBe('s0-7 f7-15');
  });

  it('joins breath and fricative when the shorter is under nine frames', () => {
    expect(runs('ffffffffbbbbbbbbbbbb')).toBe('b0-20');
    expect(runs('fffffffffbbbbbbbbbbbb')).toBe('f0-9 b9-21');
  });

  it('gives runs shorter than the least to their longer neighbour', () => {
    expect(runs('ssssssbbbsssssss', 4)).toBe('s0-16');
    // Three frames count as soon as the least is three: the mean of three frames keeps a run of three.
    expect(runs('ssssssbbbsssssss', 3)).toBe('s0-6 b6-9 s9-16');
    expect(runs('bbbbbbbbbbfffssssss', 4)).toBe('b0-13 s13-19');
    expect(runs('bbbbbbfffssssssssss', 4)).toBe('b0-6 s6-19');
  });

  it('takes the kind of the first and of the last frame that there is from two', () => {
    for (const [letters, kind] of [
      ['bbbbbb', 'b'],
      ['tttttt', 't'],
      ['ffffff', 'f'],
    ] as const)
      expect(runs(letters, 1)).toBe(`${kind}0-6`);
  });

  it('compares kinds on the mean of three frames, so that one stray frame changes nothing', () => {
    expect(runs('sssssbssssss', 1)).toBe('s0-12');
  });

  it('leaves out what lasts one frame only', () => {
    expect(runs('vvvsvvv', 1)).toBe('');
    expect(runs('vvvssvvv', 1)).toBe('s3-5');
  });

  it('covers the stretch: runs touch and do not overlap', () => {
    const letters = 'ssbbbbttttffffbbsssssbbbbbbbbbbbbfts';
    for (const leastFrames of [1, 2, 4, 8]) {
      const found = splitByKind(track(letters), letters.length, 0, letters.length, leastFrames);
      expect(found[0]!.start).toBe(0);
      expect(found.at(-1)!.end).toBe(letters.length);
      for (let i = 1; i < found.length; i++) expect(found[i]!.start).toBe(found[i - 1]!.end);
    }
  });

  it('works at the ends of the track, where there is no frame beside', () => {
    expect(runs('ssss', 1)).toBe('s0-4');
  });
});

describe('noiseProbability', () => {
  it('is what is neither voice nor silence', () => {
    expect(noiseProbability(Float64Array.of(0, 0.25, 0.25, 0.1, 0.2, 0.2, 0), 1)).toBeCloseTo(0.5, 15);
  });
});
