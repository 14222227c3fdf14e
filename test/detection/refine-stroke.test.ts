import { describe, expect, it } from 'vitest';
import { refineStroke } from '../../src/detection/cymbal-onset.js';
import type { Samples } from '../../src/signal/samples.js';

const RATE = 48_000;
/** Silence, and from one sample on 8 kHz, of whole periods of 6 samples, over an offset. */
function stroke(from: number, { amplitude = 0.1, before = 0, offset = 0, length = 9600 } = {}): Samples {
  return Float32Array.from(
    { length },
    (_, i) => offset + (i < from ? before : amplitude) * Math.sin((2 * Math.PI * i) / 6 + 0.3),
  );
}
const found = (samples: Samples | readonly Samples[], coarse: number, earliest = 0): number =>
  refineStroke(samples instanceof Float32Array ? [samples] : samples, coarse, earliest, RATE);
// The power is averaged over 0.3 ms, 14 samples: a step is seen 7 before it, and 2 % of its power is there within a sample or two of that.
const near = (actual: number, expected: number): void => {
  expect(Math.abs(actual - expected)).toBeLessThanOrEqual(8);
};

describe('the first sample of a stroke', () => {
  it('is found from up to 10 ms before a coarse place to 14 ms after it', () => {
    for (const coarse of [4800 - 400, 4800, 4800 + 400]) near(found(stroke(4800), coarse), 4800);
    // Further away it is not looked for: what is seen is the stroke that goes on, from the first place on.
    expect(found(stroke(4800), 4800 + 700)).toBe(4800 + 700 - 480);
  });

  it('is no earlier than allowed', () => {
    expect(found(stroke(4800), 4800, 4830)).toBe(4830);
  });

  it('does not hang on level, polarity, an offset or a silent channel', () => {
    const plain = found(stroke(4800), 4800);
    for (const samples of [
      stroke(4800, { amplitude: 0.1 / 1024 }),
      stroke(4800).map((x) => -x) as Samples,
      [stroke(4800), new Float32Array(9600)],
    ])
      expect(found(samples, 4800)).toBe(plain);
    near(found(stroke(4800, { offset: 0.3 }), 4800), 4800);
    // At the start of a clip an offset is no stroke either.
    near(found(stroke(240, { offset: 0.5, amplitude: 0.05 }), 240), 240);
  });

  it('stands out of a ring that goes on', () => {
    // 20 dB under it: five times its power is a twentieth of the stroke's.
    near(found(stroke(4800, { before: 0.01 }), 4800), 4800);
    // 6 dB under it: half of the crest at the most, which a step passes where the average is half over it.
    near(found(stroke(4800, { before: 0.05 }), 4800), 4800);
  });

  it('stays within the clip', () => {
    near(found(stroke(9500), 9500), 9500);
    near(found(stroke(9596), 9590), 9596);
    expect(found(stroke(0), 0)).toBe(0);
  });
});
