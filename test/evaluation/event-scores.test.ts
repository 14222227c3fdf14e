import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { errorRates, sumErrorCounts } from '../../src/evaluation/error-counts.js';
import { eventScores } from '../../src/evaluation/event-scores.js';
import { fMeasure } from '../../src/evaluation/f-measure.js';
import { meanOverLabels } from '../../src/evaluation/label-mean.js';
import { segmentRates, segmentScores } from '../../src/evaluation/segment-scores.js';
import { anyEvents, many } from './events.js';

describe('eventScores', () => {
  it('scores the three events of sed_eval with its collar of 200 ms: F 0.8, error rate 0.33333 (READ, sed_eval 0cb1b6d1)', () => {
    const counts = eventScores(many([0, 2.5], [2.8, 4.5], [6, 10]), many([0.2, 3.5], [6, 8]), {
      collarSeconds: 0.2,
    });
    expect(errorRates(counts).fMeasure).toBeCloseTo(0.8, 12);
    expect(errorRates(counts).errorRate).toBeCloseTo(0.33333, 5);
  });

  it('sums two files, one of them without truth, before making rates: F 0.66667, error rate 1 (READ, sed_eval 0cb1b6d1)', () => {
    const counts = sumErrorCounts([
      eventScores(many([1.2, 2.3]), many([1.3, 2.2])),
      eventScores([], many([1.3, 2.2])),
    ]);
    expect(errorRates(counts).fMeasure).toBeCloseTo(0.66667, 5);
    expect(errorRates(counts).errorRate).toBe(1);
  });

  it('gives error rate 1.5 for four misses and two inventions (READ, sed_eval 0cb1b6d1)', () => {
    const counts = eventScores(many([0, 1], [2, 3], [4, 5], [6, 7]), many([10, 11], [12, 13]));
    expect(errorRates(counts).errorRate).toBe(1.5);
    expect(errorRates(counts).fMeasure).toBe(0);
  });

  it('counts an event found under another label as one substitution, not as a miss and an invention (by hand)', () => {
    const counts = eventScores(
      [
        { startSeconds: 0, endSeconds: 1, label: 's' },
        { startSeconds: 5, endSeconds: 6, label: 's' },
      ],
      [
        { startSeconds: 0, endSeconds: 1, label: 't' },
        { startSeconds: 8, endSeconds: 9, label: 't' },
      ],
    );
    expect(counts).toEqual({
      reference: 2,
      estimate: 2,
      hits: 0,
      substitutions: 1,
      deletions: 1,
      insertions: 1,
    });
    expect(errorRates(counts).errorRate).toBe(1.5);
  });

  it('is perfect on itself, and its parts add up on anything', () => {
    fc.assert(
      fc.property(anyEvents, anyEvents, (a, b) => {
        if (a.length > 0) expect(errorRates(eventScores(a, a))).toMatchObject({ fMeasure: 1, errorRate: 0 });
        for (const counts of [eventScores(a, b), segmentScores(a, b, { segmentSeconds: 0.1 })]) {
          expect(counts.hits + counts.substitutions + counts.deletions).toBe(counts.reference);
          expect(counts.hits + counts.substitutions + counts.insertions).toBe(counts.estimate);
        }
      }),
    );
  });

  it('has no rates of nothing', () => {
    expect(errorRates(eventScores([], []))).toEqual({
      precision: null,
      recall: null,
      fMeasure: null,
      errorRate: null,
    });
  });
});

describe('segmentScores', () => {
  it('scores the three events of sed_eval in segments of a second: accuracy 0.5, error rate 0.55556 (READ, sed_eval 0cb1b6d1)', () => {
    const counts = segmentScores(many([0, 2.5], [2.8, 4.5], [6, 10]), many([1, 3.5], [7, 8]));
    expect(counts.reference).toBe(9);
    expect(segmentRates(counts).accuracy).toBe(0.5);
    expect(errorRates(counts).errorRate).toBeCloseTo(0.55556, 5);
  });

  it('sums the two files of sed_eval (READ, sed_eval 0cb1b6d1)', () => {
    const a = segmentScores(many([1.2, 2.3]), many([1.3, 2.2]));
    const b = segmentScores([], many([1.3, 2.2]));
    const both = { ...sumErrorCounts([a, b]), trueNegatives: a.trueNegatives + b.trueNegatives };
    expect(segmentRates(both).accuracy).toBeCloseTo(0.66667, 5);
    expect(segmentRates(both).balancedAccuracy).toBe(0.75);
    expect(segmentRates(both).sensitivity).toBe(1);
    expect(segmentRates(both).specificity).toBe(0.5);
    expect(errorRates(both).fMeasure).toBeCloseTo(0.66667, 5);
    expect(errorRates(both).errorRate).toBe(1);
  });

  it('substitutes within a segment first (by hand from S = min(FN, FP))', () => {
    const reference = [
      { startSeconds: 0, endSeconds: 1, label: 's' },
      { startSeconds: 0, endSeconds: 1, label: 'f' },
    ];
    const counts = segmentScores(reference, [{ startSeconds: 0, endSeconds: 1, label: 't' }]);
    expect(counts).toMatchObject({ substitutions: 1, deletions: 1, insertions: 0, trueNegatives: 0 });
  });

  it('does not let rounding add a segment: 0.3 s is three tenths', () => {
    expect(
      segmentScores(many([0, 0.1 + 0.2]), [], { segmentSeconds: 0.1, durationSeconds: 1 }).deletions,
    ).toBe(3);
    expect(segmentScores(many([0.1 * 3, 0.4]), [], { segmentSeconds: 0.1 }).deletions).toBe(1);
  });
});

describe('meanOverLabels', () => {
  it('leaves a label without estimates out, or counts it as 0 where asked (READ, sed_eval 0cb1b6d1)', () => {
    const clips = [
      {
        reference: [{ startSeconds: 0.3, endSeconds: 0.8, label: 'A' }],
        estimate: [{ startSeconds: 0.2, endSeconds: 0.9, label: 'A' }],
      },
      { reference: [{ startSeconds: 0.1, endSeconds: 0.8, label: 'B' }], estimate: [] },
    ];
    const score = (a: Parameters<typeof eventScores>[0], b: Parameters<typeof eventScores>[1]) =>
      eventScores(a, b, { collarSeconds: 0.2, offsetShare: 0.2 });
    expect(meanOverLabels(clips, score)).toBe(1);
    expect(meanOverLabels(clips, score, { emptyIsZero: true })).toBe(0.5);
  });
});

describe('fMeasure', () => {
  it('gives the two values of mir_eval, one with beta 2 (READ, mir_eval fe73b353)', () => {
    expect(fMeasure(0.1, 0.8)).toBeCloseTo(0.17777777, 7);
    expect(fMeasure(0.1, 0.5, 2)).toBeCloseTo(0.27777777, 7);
  });

  it('is 0 where precision and recall are', () => {
    expect(fMeasure(0, 0)).toBe(0);
  });
});
