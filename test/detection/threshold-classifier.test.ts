import { describe, expect, it } from 'vitest';
import { FRAME_CLASSES, INPUT_COUNT } from '../../src/detection/detection-scale.js';
import { createThresholdClassifier } from '../../src/detection/threshold-classifier.js';

/** Inputs are tens of decibels: the four low bands, the seven high ones, and something else everywhere else. */
const row = (lowDb: number, highDb: number): number[] =>
  Array.from({ length: INPUT_COUNT }, (_, i) => (i < 4 ? lowDb / 10 : i >= 9 && i < 16 ? highDb / 10 : 99));

function classified(
  rule: { contrastDb: number; leastHighDb: number },
  rows: readonly number[][],
): number[][] {
  const classes = FRAME_CLASSES.length;
  // Whatever stood there before goes.
  const out = new Float64Array(rows.length * classes).fill(7);
  createThresholdClassifier(rule).classify(Float64Array.from(rows.flat()), rows.length, out);
  return rows.map((_, r) => Array.from(out.subarray(r * classes, (r + 1) * classes)));
}

describe('the classifier of two thresholds', () => {
  it('is the product of two soft steps, 3 dB wide, and tells nothing but s from voice', () => {
    const step = (dB: number): number => 1 / (1 + Math.exp(-dB / 1.5));
    const rows = [row(-20, 10), row(0, 10), row(-20, -3), row(-8, 10)];
    const found = classified({ contrastDb: 18, leastHighDb: 2 }, rows);
    [step(12) * step(8), step(-8) * step(8), step(-1) * step(-5), 0.5 * step(8)].forEach((sibilant, r) => {
      // Means of four and seven numbers: a few roundings.
      expect(found[r]![0]).toBeCloseTo(1 - sibilant, 12);
      expect(found[r]![2]).toBeCloseTo(sibilant, 12);
      expect([1, 3, 4, 5].map((k) => found[r]![k])).toEqual([0, 0, 0, 0]);
    });
  });

  it('goes by the thresholds that it is given', () => {
    expect(classified({ contrastDb: 30, leastHighDb: -100 }, [row(-20, 10)])[0]![2]).toBeCloseTo(0.5, 12);
    expect(classified({ contrastDb: -100, leastHighDb: 10 }, [row(-20, 10)])[0]![2]).toBeCloseTo(0.5, 12);
  });
});
