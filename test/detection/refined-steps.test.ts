import { describe, expect, it } from 'vitest';
import {
  type BlockEdges,
  type EdgeReach,
  type NoiseKind,
  refineEdges,
} from '../../src/detection/refine-edges.js';

/** Half-width of the triangle that smooths the envelope, by kind, in blocks. */
const SMOOTHING: Readonly<Record<NoiseKind, number>> = { sibilant: 3, fricative: 4, burst: 2, breath: 6 };
type Part = readonly [from: number, to: number, power: number];
/** Powers of 300 blocks, and 1 from block 100 to block 199 unless a part says otherwise. */
function envelope(...parts: readonly Part[]): Float64Array {
  const blocks = new Float64Array(300).fill(1, 100, 200);
  for (const [from, to, power] of parts) blocks.fill(power, from, to);
  return blocks;
}
const NEAR = { start: 100, end: 200 };
const CORE = { start: 104, end: 196 };
const FAR: EdgeReach = { before: 40, after: 40 };
const edges = (
  blocks: Float64Array,
  { coarse = NEAR, core = CORE, reach = FAR, kind = 'burst' as NoiseKind } = {},
): BlockEdges => refineEdges(blocks, coarse, core, reach, kind);

describe('edges of a step', () => {
  /**
   * Where half of the amplitude is crossed, in blocks outside of the step. Of a triangle h wide to each side, (h − j)(h − j + 1)/2 of h²
   * lie beyond j blocks; between blocks the amplitude is taken as a straight line.
   */
  function outside(h: number): number {
    const amplitude = (j: number): number => Math.sqrt(Math.max(0, (h - j) * (h - j + 1)) / 2) / h;
    let j = 1;
    while (j + 1 < h && amplitude(j + 1) >= 0.5) j++;
    // The first block outside has its middle half a block from the step.
    return j - 0.5 + (amplitude(j) - 0.5) / (amplitude(j) - amplitude(j + 1));
  }

  it.each(Object.entries(SMOOTHING))('as %s is smoothed by %i blocks', (kind, h) => {
    const { start, end } = edges(envelope(), { kind: kind as NoiseKind });
    // A few roundings of numbers up to 200.
    expect(start).toBeCloseTo(100 - outside(h), 10);
    expect(end).toBeCloseTo(200 + outside(h), 10);
  });

  it('lie at the clip’s ends where the noise does', () => {
    const whole = edges(new Float64Array(100).fill(1), {
      coarse: { start: 2, end: 98 },
      core: { start: 6, end: 94 },
    });
    expect(whole).toEqual({ start: 0, end: 100 });
  });

  it('stay where the frames put them in silence', () => {
    const coarse = { start: 99.25, end: 200.75 };
    expect(edges(new Float64Array(300), { coarse })).toBe(coarse);
  });

  it('move outwards no further than they may', () => {
    const coarse = { start: 110.5, end: 190.5 };
    // Block 106 is the last that may be looked at, and 194 on the other side: the edges lie beyond them.
    const held = edges(envelope(), {
      coarse,
      core: { start: 115, end: 185 },
      reach: { before: 4, after: 4 },
    });
    expect(held).toEqual({ start: 106, end: 195 });
  });
});

describe('the level inside', () => {
  /** Amplitude that rises over blocks 80 to 100 and falls over blocks 200 to 220 as a straight line, but for what lies under `floor`. */
  function ramps(parts: readonly Part[] = [], floor = 0): Float64Array {
    const blocks = envelope([0, 80, floor], [220, 300, floor], ...parts);
    for (let i = 0; i < 20; i++) {
      blocks[80 + i] = Math.max(floor, ((i + 0.5) / 20) ** 2);
      blocks[219 - i] = Math.max(floor, ((i + 0.5) / 20) ** 2);
    }
    return blocks;
  }
  /**
   * Where an amplitude stands on the first ramp. A triangle of 1, 2, 1 adds half a block² to the square of a straight line; between blocks
   * that root is bent by less than a thousandth of a block.
   */
  const place = (amplitude: number): number => 80 + Math.sqrt((20 * amplitude) ** 2 - 0.5);
  const near = (actual: BlockEdges, amplitude: number): void => {
    expect(Math.abs(actual.start - place(amplitude))).toBeLessThan(0.01);
    expect(Math.abs(actual.end - (300 - place(amplitude)))).toBeLessThan(0.01);
  };

  it('is the mean power, without what is 10 dB under the peak', () => {
    near(edges(ramps()), 0.5);
    // Of the core less its ends count 56 blocks. Smoothing leaves 8 of these 10 at 0.01, and 0.7525 and 0.2575 at each corner.
    near(edges(ramps([[140, 150, 0.01]])), Math.sqrt((44 + 2 * 1.01) / 48) / 2);
    // It moves power over a corner, but loses none.
    near(edges(ramps([[135, 165, 0.5]])), Math.sqrt((26 + 30 * 0.5) / 56) / 2);
  });

  it('leaves out a fifth of the core at each end, which may reach into a vowel', () => {
    // A fifth of 92 is 18.4: blocks 122 to 177 count. One block is spared for the triangle.
    near(edges(ramps([[104, 121, 0.3]])), 0.5);
    near(edges(ramps([[179, 196, 0.3]])), 0.5);
    near(
      edges(
        ramps([
          [104, 121, 4],
          [179, 196, 4],
        ]),
      ),
      0.5,
    );
  });

  it('and the least level 6 to 26 blocks outside make the middle', () => {
    // Beside the noise stands a fifth of its amplitude, and silence in one place.
    const beside = (from: number, to: number): BlockEdges =>
      edges(ramps([[from, to, 0]], 0.04), { coarse: { start: 90.5, end: 209.5 } });
    near(beside(0, 0), 0.6);
    // Read are blocks 64 to 84 and 215 to 235, each with the one beside it.
    expect(Math.abs(beside(50, 66).start - place(0.5))).toBeLessThan(0.01);
    expect(Math.abs(beside(50, 63).start - place(0.6))).toBeLessThan(0.01);
    expect(Math.abs(beside(234, 250).end - (300 - place(0.5)))).toBeLessThan(0.01);
    expect(Math.abs(beside(237, 250).end - (300 - place(0.6)))).toBeLessThan(0.01);
  });
});

describe('what sounds beside a noise', () => {
  it('leaves the frames’ edge where it is nearly as strong and nothing lies between', () => {
    const loud = envelope([200, 300, 0.64]);
    expect(edges(loud, { coarse: { start: 100, end: 205 } })).toEqual({ start: 99.5, end: 205 });
    const before = envelope([0, 100, 0.64]);
    expect(edges(before, { coarse: { start: 95, end: 200 } })).toEqual({ start: 95, end: 200.5 });
  });

  it('does not hide where the noise died away before it', () => {
    // A triangle of 1, 2, 1 leaves half of the amplitude one block outside of a step.
    const late = envelope([208, 300, 1]);
    expect(edges(late, { coarse: { start: 100, end: 220 } })).toEqual({ start: 99.5, end: 200.5 });
    const early = envelope([0, 92, 1]);
    expect(edges(early, { coarse: { start: 80, end: 200 } })).toEqual({ start: 99.5, end: 200.5 });
    // Gaps of 9.9 and 10.1 dB: only the deeper one counts.
    const gap = (dB: number): number =>
      edges(envelope([200, 208, 10 ** (-dB / 10)], [208, 300, 1]), { coarse: { start: 100, end: 220 } }).end;
    expect(gap(9.9)).toBe(220);
    expect(gap(10.1)).toBeLessThan(202);
  });

  it('ends it after a dip of more than eight blocks, and not within what the frames are sure of', () => {
    // Half of the amplitude is reached one block inside each end of a dip, so that one of 10 blocks counts as 8.
    const joined = envelope([210, 216, 1]);
    expect(edges(joined).end).toBe(216.5);
    expect(edges(envelope([211, 217, 1])).end).toBe(200.5);
    expect(edges(envelope([84, 90, 1])).start).toBe(83.5);
    expect(edges(envelope([83, 89, 1])).start).toBe(99.5);
    const sure = { coarse: { start: 100, end: 217 }, core: { start: 104, end: 216 } };
    expect(edges(envelope([196, 208, 0], [208, 217, 1]), sure).end).toBe(217.5);
  });
});
