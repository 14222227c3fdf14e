import { describe, expect, it } from 'vitest';
import { ROW_BANDS, TOP_BAND } from '../../src/detection/detection-scale.js';
import type { FrameTables } from '../../src/detection/frame-tables.js';
import { withTopBand } from '../../src/detection/with-top-band.js';

/** None, s, f, burst and breath. */
const SHARES = Float64Array.of(0.1, 0.2, 0.6, 0.07, 0.03);
const PART = { start: 2, end: 5, class: 3 };

/** Six frames: in each of three bands from 1.65 kHz on a third of the power below, in the top band what is given for the frame. */
function tablesOf(top: (t: number) => number, below = 1): FrameTables {
  const bands = new Float64Array(6 * ROW_BANDS);
  for (let t = 0; t < 6; t++) {
    for (const band of [6, 11, 15]) bands[t * ROW_BANDS + band] = below / 3;
    // A voice in the noise: what lies below 1.65 kHz is not compared.
    bands[t * ROW_BANDS + 5] = 1e3;
    bands[t * ROW_BANDS + TOP_BAND] = top(t);
  }
  return { rowCount: 6, bands, inputs: new Float64Array(0), track: new Float64Array(0) };
}

describe('what the top band tells of s and f', () => {
  it('multiplies the odds by the ratio of powers to 1.3, and moves nothing but the two', () => {
    // Ten times as much in all of the part; the odds were 1 to 3.
    const moved = withTopBand(
      SHARES,
      tablesOf(() => 10),
      PART,
    );
    const odds = 10 ** 1.3 / 3;
    expect(moved[1]).toBeCloseTo((0.8 * odds) / (1 + odds), 12);
    expect(moved[2]).toBeCloseTo(0.8 / (1 + odds), 12);
    for (const kind of [0, 3, 4]) expect(moved[kind]).toBe(SHARES[kind]);
    expect(SHARES[1]).toBe(0.2);
  });

  it('compares what the frames of the part hold together', () => {
    // 30 to 3: as 10 in each of three frames. Beside the part it may be what it will.
    const one = withTopBand(
      SHARES,
      tablesOf((t) => (t === 3 ? 30 : t < 2 || t > 4 ? 1e6 : 0)),
      PART,
    );
    const even = withTopBand(
      SHARES,
      tablesOf(() => 10),
      PART,
    );
    expect(one[1]).toBeCloseTo(even[1] as number, 12);
  });

  it('tells nothing where it is as strong or weaker, or empty, or all is silence', () => {
    for (const tables of [tablesOf(() => 1), tablesOf(() => 0.9), tablesOf(() => 0), tablesOf(() => 0, 0)])
      expect([...withTopBand(SHARES, tables, PART)]).toEqual([...SHARES]);
  });

  it('gives finite shares where there is nothing to move', () => {
    const none = Float64Array.of(1, 0, 0, 0, 0);
    expect([
      ...withTopBand(
        none,
        tablesOf(() => 10),
        PART,
      ),
    ]).toEqual([...none]);
    const loud = withTopBand(
      SHARES,
      tablesOf(() => 1, 0),
      PART,
    );
    expect(loud[1]).toBeCloseTo(0.8, 12);
    expect(loud[2]).toBeGreaterThanOrEqual(0);
  });
});
