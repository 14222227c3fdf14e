import { describe, expect, it } from 'vitest';
import { FRAME_CLASSES } from '../../src/detection/detection-scale.js';
import { openingRelease } from '../../src/detection/opening-release.js';

const SIBILANT = FRAME_CLASSES.indexOf('sibilant');
const BURST = FRAME_CLASSES.indexOf('burst');
const VOICED = FRAME_CLASSES.indexOf('voiced');

/** One frame a letter: b burst, s sibilant, v a voiced frame whose likeliest noise is burst. */
function trackOf(letters: string): Float64Array<ArrayBuffer> {
  const track = new Float64Array(letters.length * FRAME_CLASSES.length);
  [...letters].forEach((letter, t) => {
    const at = t * FRAME_CLASSES.length;
    track[at + (letter === 's' ? SIBILANT : BURST)] = letter === 'v' ? 0.2 : 0.9;
    if (letter === 'v') track[at + VOICED] = 0.8;
  });
  return track;
}

const part = (letters: string, start = 0) => ({ start, end: letters.length, class: SIBILANT });

describe('openingRelease', () => {
  it('is the burst that a sibilant opens with', () => {
    expect(openingRelease(trackOf('sbbbssss'), part('sbbbssss', 1))).toEqual({
      start: 1,
      end: 4,
      class: BURST,
    });
  });

  it('compares kinds of noise alone: the first pulses of a voice may be in it', () => {
    expect(openingRelease(trackOf('vbbss'), part('vbbss'))?.end).toBe(3);
  });

  it('ends where the s begins, whatever comes after', () => {
    expect(openingRelease(trackOf('bbbssbbbbss'), part('bbbssbbbbss'))?.end).toBe(3);
    expect(openingRelease(trackOf('ssbbbbss'), part('ssbbbbss'))).toBeUndefined();
  });

  it('is the same release, give or take a frame, where it falls between frames otherwise', () => {
    const between = (letters: string, share: number) => {
      const [a, b] = [trackOf(letters), trackOf(`${letters.slice(1)}s`)];
      return a.map((p, i) => (1 - share) * p + share * (b[i] as number));
    };
    const ends = [0, 0.25, 0.5, 0.75].map(
      (share) => openingRelease(between('bbbssss', share), part('bbbssss'))?.end,
    );
    // What was the third frame is burst for 1 − share and s for the rest: it adds 0.9, 0.45, 0 and −0.45.
    expect(ends).toEqual([3, 3, 2, 2]);
  });

  it('is not there where the part opens with its s, with a single frame of burst, or is nothing but a burst', () => {
    for (const letters of ['ssssbb', 'bsssss', 'bbbbbb'])
      expect(openingRelease(trackOf(letters), part(letters))).toBeUndefined();
  });
});
