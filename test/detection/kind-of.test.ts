import { describe, expect, it } from 'vitest';
import { EVENT_CLASSES } from '../../src/detection/event-classifier.js';
import { kindOf } from '../../src/detection/kind-of.js';

/** Shares by name; what is left over is none of them. */
const shares = (of: Partial<Record<(typeof EVENT_CLASSES)[number], number>>): Float64Array => {
  const rest = 1 - Object.values(of).reduce((sum, share) => sum + share, 0);
  return Float64Array.from(EVENT_CLASSES, (name) => (name === 'none' ? rest : (of[name] ?? 0)));
};
const LONG = 100;
const SHORT = 10;

describe('kindOf', () => {
  it('asks for 0.75 of the harsh shares before it says sibilant', () => {
    expect(kindOf(shares({ sibilant: 0.77, fricative: 0.15, burst: 0.08 }), LONG).kind).toBe('sibilant');
    expect(kindOf(shares({ sibilant: 0.73, fricative: 0.19, burst: 0.08 }), LONG).kind).toBe('fricative');
    expect(kindOf(shares({ sibilant: 0.73, fricative: 0.08, burst: 0.19 }), SHORT).kind).toBe('burst');
    // What is left to none does not enter: 0.38 of 0.5.
    expect(kindOf(shares({ sibilant: 0.38, fricative: 0.12 }), LONG).kind).toBe('sibilant');
  });

  it('is as confident as all harsh shares together: which of them it is does not enter', () => {
    // 1e-12: a sum of three numbers.
    expect(kindOf(shares({ sibilant: 0.4, fricative: 0.3, burst: 0.1 }), LONG).confidence).toBeCloseTo(
      0.8,
      12,
    );
    expect(kindOf(shares({ burst: 0.8 }), SHORT).confidence).toBeCloseTo(0.8, 12);
  });

  it('says breath where that is at least as likely as anything harsh, and at least 0.1 s long', () => {
    const air = shares({ breath: 0.5, fricative: 0.3, sibilant: 0.1 });
    expect(kindOf(air, LONG)).toEqual({ kind: 'breath', confidence: 0.5 });
    expect(kindOf(air, SHORT).kind).toBe('fricative');
    expect(kindOf(shares({ breath: 0.4, fricative: 0.3, burst: 0.2 }), LONG).kind).toBe('fricative');
  });
});
