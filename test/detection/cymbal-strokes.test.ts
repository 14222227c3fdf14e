import { describe, expect, it } from 'vitest';
import type { CymbalBands } from '../../src/detection/cymbal-bands.js';
import { strokeMeter } from '../../src/detection/cymbal-measures.js';
import { pickStrokes, strokeRises, strokeSharpness } from '../../src/detection/cymbal-strokes.js';

const BLOCK = 48;
const COUNT = 600;
const dB = (power: number): number => 10 * Math.log10(power);
const powers = (at: (b: number) => number): Float64Array =>
  Float64Array.from({ length: COUNT }, (_, b) => at(b));
const NONE = powers(() => 0);

function clipOf(parts: Partial<CymbalBands>): CymbalBands {
  const bands = Array.from({ length: 6 }, () => NONE);
  return { blockSamples: BLOCK, blockCount: COUNT, bands, high: NONE, bright: NONE, body: NONE, ...parts };
}

describe('the rise at a block', () => {
  const rises = (...bands: readonly Float64Array[]): Float64Array => strokeRises(clipOf({ bands }));
  // What counts as silence, 1e-8 of the loudest block, adds 1e-6 at the most to the powers before: 5e-6 dB.
  const near = (actual: number | undefined, expected: number): void => {
    expect(Math.abs((actual as number) - expected)).toBeLessThan(1e-5);
  };
  const step = powers((b) => (b < 50 ? 1 : 100));

  it('is the mean of six blocks over that of the six before', () => {
    const of = rises(step);
    near(of[50], 20);
    near(of[47], dB((3 * 1 + 3 * 100) / 6));
    near(of[53], dB(100 / ((3 * 1 + 3 * 100) / 6)));
    near(of[44], 0);
    near(of[45], dB((5 + 100) / 6));
    near(of[56], 0);
  });

  it('or over the eight before those, where they are louder: a ring that swells again does not rise', () => {
    near(rises(powers((b) => (b >= 44 && b < 50 ? 0.01 : 1)))[50], 0);
    // Of the eight blocks 36 to 43 one is loud.
    near(rises(powers((b) => (b === 36 || b >= 50 ? 1 : 0.01)))[50], dB(1 / (1.07 / 8)));
    near(rises(powers((b) => (b === 35 || b >= 50 ? 1 : 0.01)))[50], 20);
  });

  it('is the mean over the bands, of 30 dB at most each way, and silence does not rise', () => {
    near(rises(step, NONE)[50], 10);
    near(
      rises(
        step,
        step.map((x) => 1 / x),
      )[50],
      0,
    );
    near(rises(powers((b) => (b < 50 ? 0 : 1)))[50], 30);
    near(rises(powers((b) => (b < 50 ? 1 : 0)))[50], -30);
    expect(rises(NONE, NONE)).toEqual(NONE);
  });
});

describe('the sharpness near a block', () => {
  const sharpness = (block: number, ...bands: readonly Float64Array[]): number =>
    strokeSharpness(clipOf({ bands }), block);
  const step = powers((b) => (b < 50 ? 1 : 100));

  it('is three blocks over the three before the one that precedes them, up to eight blocks away', () => {
    for (const block of [42, 50, 58, 59]) expect(sharpness(block, step)).toBeCloseTo(20, 12);
    expect(sharpness(41, step)).toBeCloseTo(dB(201 / 3), 12);
    expect(sharpness(60, step)).toBeCloseTo(dB(300 / 102), 12);
    expect(sharpness(30, step)).toBe(0);
  });

  it('is the mean over the bands, 30 dB at most', () => {
    expect(
      sharpness(
        50,
        step,
        powers(() => 1),
      ),
    ).toBeCloseTo(10, 12);
    expect(
      sharpness(
        50,
        powers((b) => (b < 50 ? 0 : 1)),
      ),
    ).toBeCloseTo(30, 12);
    // Another band falls by 20 dB from the one to the other all the time, and one by 40, of which 30 count.
    const step30 = powers((b) => (b < 50 ? 1e-9 : 1));
    const fallingBy = (dBPerBlock: number): Float64Array => powers((b) => 10 ** ((-dBPerBlock * b) / 10));
    expect(sharpness(50, step30, fallingBy(5))).toBeCloseTo(5, 9);
    expect(sharpness(50, step30, fallingBy(10))).toBeCloseTo(0, 9);
  });
});

describe('the blocks that are picked', () => {
  const picked = (rises: readonly number[], least: number, gap: number): readonly number[] =>
    pickStrokes(Float64Array.from(rises), least, gap);

  it('rise by enough and by more than all within the gap, the first of equals', () => {
    const rises = [0, 5, 5, 3, 0, 0, 6, 4];
    expect(picked(rises, 4, 1)).toEqual([1, 6]);
    expect(picked(rises, 4, 4)).toEqual([1, 6]);
    expect(picked(rises, 4, 5)).toEqual([6]);
    expect(picked(rises, 6, 1)).toEqual([6]);
    expect(picked(rises, 6.1, 1)).toEqual([]);
    expect(picked([4, 0, 4], 4, 1)).toEqual([0, 2]);
    expect(picked([4, 0, 4], 4, 2)).toEqual([0]);
  });
});

describe('the measures of a stroke at block 100', () => {
  /** Before, 0.01 at block 100, and then a fall by so many dB a block. */
  const falling =
    (before: number, dBPerBlock: number, from = 100) =>
    (b: number): number =>
      b < from ? before : 0.01 * 10 ** ((-dBPerBlock * (b - from)) / 10);
  /** Mean of a fall over some of its blocks, as a share of the first. */
  const meanOf = (dBPerBlock: number, count: number): number =>
    Array.from({ length: count }, (_, k) => 10 ** ((-dBPerBlock * k) / 10)).reduce((a, b) => a + b) / count;
  /** The three upper bands twice as strong as the lower ones, before and after. */
  const bandsOf = (at: (b: number) => number): readonly Float64Array[] =>
    [1, 1, 1, 2, 2, 2].map((factor) => powers((b) => factor * at(b)));
  const bright = powers((b) => (b < 100 ? 4e-9 : 4e-3));
  const body = powers((b) => (b < 100 ? 1e-9 : 1e-3));
  const plain = (at: (b: number) => number): CymbalBands =>
    clipOf({ bands: bandsOf(at), high: powers(at), bright, body });
  const measured = (clip: CymbalBands, next = 400 * BLOCK, endBelowDb = 20) =>
    strokeMeter(clip)(100 * BLOCK, next, endBelowDb);
  // Silence, 1e-8 of the loudest block, adds 2e-6 at most to levels 20 dB down: 1e-5 dB.
  const near = (actual: number, expected: number): void => {
    expect(Math.abs(actual - expected)).toBeLessThan(2e-5);
  };
  /** Level of eight blocks that begin four before `end`, over that of the crest, which is the first four. */
  const underCrest = (slope: number, end: number, crestAt = 100): number =>
    dB(meanOf(slope, 8)) - dB(meanOf(slope, 4)) - slope * (end - 4 - crestAt);

  it('are a crest of four blocks, and an end where eight have fallen by enough', () => {
    const { crestDbfs, offsetSample, fallDb } = measured(plain(falling(1e-8, 0.1)));
    near(crestDbfs, -20 + dB(meanOf(0.1, 4)));
    let end = 104;
    while (underCrest(0.1, end) > -20) end++;
    expect(offsetSample).toBe(end * BLOCK);
    near(fallDb, -underCrest(0.1, end));
  });

  it('begin the fall at the crest of the level, up to 60 blocks after the onset', () => {
    const late = (from: number) => plain((b) => (b >= 100 && b < from ? 1e-3 : falling(1e-8, 0.1, from)(b)));
    let end = 124;
    while (underCrest(0.1, end, 120) > -20) end++;
    expect(measured(late(120)).offsetSample).toBe(end * BLOCK);
    near(measured(late(120)).crestDbfs, -20 + dB(meanOf(0.1, 4)));
    near(measured(late(159)).crestDbfs, -20 + dB(meanOf(0.1, 4)));
    // Only three of the four blocks that begin with block 159 belong to the stroke.
    near(measured(late(160)).crestDbfs, dB((1e-3 + 3 * 0.01 * meanOf(0.1, 3)) / 4));
  });

  it('end it where the sound before is back within a decibel, or where the next stroke begins', () => {
    const before = 1e-4;
    let end = 104;
    while (-20 + dB(meanOf(0.1, 4)) + underCrest(0.1, end) > dB(before) + 1) end++;
    expect(measured(plain(falling(before, 0.1)), 400 * BLOCK, 60).offsetSample).toBe(end * BLOCK);
    const { offsetSample, fallDb } = measured(plain(falling(1e-8, 0.1)), 150 * BLOCK + 7, 60);
    expect(offsetSample).toBe(150 * BLOCK + 7);
    // The last level reads the five blocks that are left of its eight.
    near(fallDb, dB(meanOf(0.1, 4)) - dB(meanOf(0.1, 5)) + 0.1 * 45);
  });

  it('tell a click by the share of two blocks in twelve, from one before the onset on', () => {
    const all = 1e-8 + 0.01 * 11 * meanOf(0.1, 11);
    expect(measured(plain(falling(1e-8, 0.1))).clickShare).toBeCloseTo((0.01 * 2 * meanOf(0.1, 2)) / all, 9);
    const click = clipOf({ high: powers((b) => (b === 99 || b === 100 ? 1 : 0)) });
    expect(measured(click).clickShare).toBe(1);
    expect(measured(clipOf({})).clickShare).toBe(1);
  });

  it('take the brightness of the brightest window of 30 blocks that is loud enough, in the first 200', () => {
    // 6 dB of bright over body and 3 dB of upper over lower bands; in one window the first is 9 dB.
    const high = powers((b) => falling(1e-8, 0.1)(b) * (b < 200 ? 1 : 0.05));
    const at = (change: (b: number) => number | undefined): number =>
      measured({ ...plain(falling(1e-8, 0.1)), high, bright: bright.map((x, b) => change(b) ?? x) })
        .brightnessDb;
    near(
      at(() => undefined),
      dB(4) + dB(2),
    );
    near(
      at((b) => (b >= 150 && b < 180 ? 8e-3 : undefined)),
      dB(8) + dB(2),
    );
    near(
      at((b) => (b >= 100 && b < 130 ? 8e-3 : undefined)),
      dB(8) + dB(2),
    );
    // From block 190 on windows are 12 dB under the loudest, and from block 300 on none is asked.
    near(
      at((b) => (b >= 210 ? 1 : undefined)),
      dB(4) + dB(2),
    );
    const loud = clipOf({
      bands: bandsOf(falling(1e-8, 0)),
      high: powers(falling(1e-8, 0)),
      body,
      bright: bright.map((x, b) => (b >= 320 ? 1 : x)),
    });
    const ring = 1.5 * (2 + 0.07 * 250);
    near(measured(loud).brightnessDb, dB(4) + dB(2) + ring);
  });

  it('count only what is more than before, a tenth of that at least', () => {
    // Bright as before: a tenth of 4e-3 is left of it, and 9 times 1e-3 of a body that grew tenfold.
    const clip = {
      ...plain(falling(1e-8, 0.1)),
      bright: powers(() => 4e-3),
      body: powers((b) => (b < 100 ? 1e-3 : 1e-2)),
    };
    near(measured(clip).brightnessDb, dB(4e-4 / 9e-3) + dB(2));
  });

  it('add 1.5 dB for each by which a ring has fallen less than a drum', () => {
    const slope = 0.05;
    const clip = plain(falling(1e-8, slope));
    const ringAt = (to: number): number => {
      const left = 0.01 * meanOf(slope, 40) * 10 ** ((-slope * (to - 40 - 100)) / 10) - 1e-8;
      const belowDb = dB(0.01 * meanOf(slope, 4)) - dB(left);
      return 1.5 * (2 + 0.07 * (to - 20 - 100) - belowDb);
    };
    near(measured(clip).brightnessDb, dB(8) + ringAt(370));
    near(measured(clip, 250 * BLOCK).brightnessDb, dB(8) + ringAt(250));
    near(measured(clip, 249 * BLOCK).brightnessDb, dB(8));
    // What fell faster gives nothing, and nothing counts beyond 40 dB either way.
    near(measured(plain(falling(1e-8, 0.1))).brightnessDb, dB(8));
    const [none, much] = [powers(() => 1e-12), powers(() => 1)];
    expect(measured({ ...clip, bright: much, body: none }).brightnessDb).toBe(40);
    expect(measured({ ...plain(falling(1e-8, 0.1)), bright: none, body: much }).brightnessDb).toBe(-40);
  });
});
