import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { errorRates } from '../../src/evaluation/error-counts.js';
import { eventScores } from '../../src/evaluation/event-scores.js';
import { matchByEdges } from '../../src/evaluation/match-by-edges.js';
import { anyEvents, at, many } from './events.js';

const onsetOnly = (collarSeconds: number) => ({ collarSeconds, useOffset: false }) as const;

describe('matchByEdges', () => {
  it('scores the onsets of mir_eval data set 05 as its tests do: one hit at 49.3 ms, one miss at 50.5 ms (READ, mir_eval fe73b353)', () => {
    const reference = at(0.194467, 1.128639, 2.023878, 4.079728);
    const estimate = at(0.24381, 1.190023, 2.086893, 4.130249, 4.612063);
    const rates = errorRates(eventScores(reference, estimate, onsetOnly(0.05)));
    expect(rates.precision).toBeCloseTo(0.2, 12);
    expect(rates.recall).toBeCloseTo(0.25, 12);
    expect(rates.fMeasure).toBeCloseTo(0.2222222, 7);
  });

  it('scores the onsets of mir_eval data set 03 as its tests do (READ, mir_eval fe73b353)', () => {
    const reference = at(
      0.026848,
      0.211882,
      0.379501,
      0.514898,
      0.703469,
      0.844626,
      0.958163,
      1.096417,
      1.231383,
      1.487528,
      1.636531,
      1.779796,
      1.938141,
      2.075283,
      2.231293,
    );
    const estimate = at(
      0.095782,
      0.238005,
      0.377324,
      0.446984,
      0.565986,
      0.751746,
      0.896871,
      1.007166,
      1.155193,
      1.282902,
      1.369977,
      1.497687,
      1.538322,
      1.683447,
      1.808254,
      1.869206,
      1.976599,
      2.113016,
      2.153651,
      2.275556,
      2.61805,
      2.946032,
      3.038912,
      3.085351,
      3.140499,
    );
    const rates = errorRates(eventScores(reference, estimate, onsetOnly(0.05)));
    expect(rates.precision).toBeCloseTo(0.4, 12);
    expect(rates.recall).toBeCloseTo(0.66667, 5);
    expect(rates.fMeasure).toBeCloseTo(0.5, 12);
  });

  it('scores the four notes of mir_eval by onset and by onset with offset (READ, mir_eval)', () => {
    const reference = many([0.1, 0.3], [0.3, 0.4], [0.5, 0.6], [0.55, 0.65]);
    const estimate = many([0.12, 0.29], [0.3, 0.34], [0.5, 0.6], [0.55, 0.6], [0.56, 0.65]);
    const byOnset = matchByEdges(reference, estimate, onsetOnly(0.05));
    expect(byOnset.pairs.map((pair) => [pair.reference, pair.estimate])).toEqual([
      [0, 0],
      [1, 1],
      [2, 2],
      [3, 3],
    ]);
    expect(byOnset.unmatchedEstimate).toEqual([4]);
    expect(errorRates(eventScores(reference, estimate, onsetOnly(0.05))).fMeasure).toBeCloseTo(0.88889, 5);
    const byBoth = errorRates(eventScores(reference, estimate, { collarSeconds: 0.05, offsetShare: 0.2 }));
    expect(byBoth.precision).toBeCloseTo(0.6, 12);
    expect(byBoth.recall).toBeCloseTo(0.75, 12);
    expect(byBoth.fMeasure).toBeCloseTo(0.66667, 5);
  });

  it('finds both pairs whatever the order when optimal, and loses one in the wrong order when greedy (READ, sed_eval 0cb1b6d1)', () => {
    const reference = many([1, 3], [1.5, 3]);
    const estimate = many([1.25, 3], [1.75, 3]);
    const reversed = [...reference].reverse();
    const f = (ref: typeof reference, matching: 'optimal' | 'greedy') =>
      errorRates(eventScores(ref, estimate, { ...onsetOnly(0.25), matching })).fMeasure;
    expect(f(reference, 'optimal')).toBe(1);
    expect(f(reversed, 'optimal')).toBe(1);
    expect(f(reference, 'greedy')).toBe(1);
    expect(f(reversed, 'greedy')).toBe(0.5);
  });

  it('counts both bounds as inside and a millisecond more as outside', () => {
    const reference = many([1, 2]);
    const hit = (start: number, end: number) =>
      matchByEdges(reference, many([start, end]), { collarSeconds: 0.2, offsetShare: 0.5 }).pairs.length;
    expect([hit(1.2, 2), hit(0.8, 2), hit(1, 2.5), hit(1, 1.5)]).toEqual([1, 1, 1, 1]);
    expect([hit(1.201, 2), hit(0.799, 2), hit(1, 2.501), hit(1, 1.499)]).toEqual([0, 0, 0, 0]);
  });

  it('is one-to-one, and optimal matching finds at least as many pairs as greedy in any order', () => {
    fc.assert(
      fc.property(anyEvents, anyEvents, fc.double({ min: 0, max: 2, noNaN: true }), (a, b, collarSeconds) => {
        const best = matchByEdges(a, b, { collarSeconds });
        expect(new Set(best.pairs.map((pair) => pair.estimate)).size).toBe(best.pairs.length);
        expect(best.pairs.length + best.unmatchedReference.length).toBe(a.length);
        expect(best.pairs.length + best.unmatchedEstimate.length).toBe(b.length);
        for (const order of [a, [...a].reverse()])
          expect(best.pairs.length).toBeGreaterThanOrEqual(
            matchByEdges(order, b, { collarSeconds, matching: 'greedy' }).pairs.length,
          );
      }),
    );
  });

  it('refuses events that end before they start, and names the one', () => {
    expect(() => matchByEdges([], [{ startSeconds: 1, endSeconds: 0.5, label: 's' }])).toThrow(
      /matchByEdges: estimate\[0\]\.endSeconds must not lie before its start \(1\); received 0\.5/,
    );
  });
});
