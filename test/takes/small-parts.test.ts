import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { setGain } from '../../src/regions/set-gain.js';
import { alignEvents } from '../../src/takes/align-events.js';
import { compareIds } from '../../src/takes/event-group.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { holdSum } from '../../src/takes/hold-sum.js';
import { leastCut } from '../../src/takes/least-cut.js';
import { sameFeel } from '../../src/takes/same-feel.js';
import { compareSpans, medianSpan, type Span, spanDistance } from '../../src/takes/span.js';
import { choir, evenNoise, takeOf } from './stacks.js';

const span = (startSample: number, endSample: number): Span => ({ startSample, endSample });

describe('spans', () => {
  it('are as far apart as their starts and their ends on the mean', () => {
    expect(spanDistance(span(10, 20), span(14, 30))).toBe(7);
    expect(spanDistance(span(14, 30), span(10, 20))).toBe(7);
  });

  it('come in order of their middles, then of their starts', () => {
    const some = [span(10, 30), span(0, 30), span(0, 40), span(5, 35), span(10, 31)];
    expect([...some].sort(compareSpans)).toEqual([some[1], some[2], some[3], some[0], some[4]]);
  });

  it('have the median of their starts and that of their ends, between the two in the middle of an even number', () => {
    expect(medianSpan([span(30, 40), span(0, 100), span(10, 90)])).toEqual(span(10, 90));
    expect(medianSpan([span(30, 40), span(0, 100), span(10, 90), span(21, 95)])).toEqual(span(15.5, 92.5));
  });
});

describe('ids', () => {
  it('come in one order: numbers before names, both rising', () => {
    expect(['b', 10, 'a', 9, '9'].sort(compareIds)).toEqual([9, 10, '9', 'a', 'b']);
    expect(compareIds('a', 'a')).toBe(0);
    expect(compareIds(2, 2)).toBe(0);
  });
});

describe('alignEvents', () => {
  /** The least total cost of all assignments that keep both in order, tried one by one. */
  function leastCost(events: readonly Span[], centres: readonly Span[], most: number): number {
    const [event, ...rest] = events;
    if (event === undefined) return 0;
    const costs = centres.map((centre, c) => {
      const distance = spanDistance(event, centre);
      return distance > most
        ? Number.POSITIVE_INFINITY
        : distance + leastCost(rest, centres.slice(c + 1), most);
    });
    return Math.min(most + leastCost(rest, centres, most), ...costs);
  }

  it('finds the cheapest assignment of all that keep the order', () => {
    const line = fc
      .array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 1, max: 6 })), { maxLength: 5 })
      .map((pairs) => pairs.map(([start, length]) => span(start, start + length)).sort(compareSpans));
    fc.assert(
      fc.property(line, line, fc.integer({ min: 1, max: 12 }), (events, centres, most) => {
        const partner = alignEvents(events, centres, most);
        const paired = partner.filter((c) => c >= 0);
        expect(partner).toHaveLength(events.length);
        expect([...new Set(paired)].sort((a, b) => a - b)).toEqual(paired);
        const distances = partner.map((c, e) => (c < 0 ? most : spanDistance(events[e]!, centres[c]!)));
        expect(Math.max(0, ...distances)).toBeLessThanOrEqual(most);
        // Halves of integers: sums are exact.
        expect(distances.reduce((a, b) => a + b, 0)).toBe(leastCost(events, centres, most));
      }),
    );
  });

  it('pairs the earlier of equally near ones', () => {
    expect(alignEvents([span(10, 20)], [span(5, 15), span(15, 25)], 8)).toEqual([0]);
    expect(alignEvents([span(5, 15), span(15, 25)], [span(10, 20)], 8)).toEqual([0, -1]);
  });
});

describe('leastCut', () => {
  /** The answer, and how often it was asked for a level. */
  function search(
    levelAt: (cutDb: number) => number,
    mostCutDb: number,
    targetDb: number,
    toleranceDb = 0.05,
  ) {
    let asked = 0;
    const counted = (cutDb: number): number => {
      asked++;
      return levelAt(cutDb);
    };
    return { cutDb: leastCut(counted, { mostCutDb, targetDb, toleranceDb }), asked };
  }

  it('is none where the level lies at the target or below, and the greatest where that is not enough', () => {
    const line = (cutDb: number): number => 10 - cutDb;
    expect(search(line, 18, 10)).toEqual({ cutDb: 0, asked: 1 });
    expect(search(line, 7, 2)).toEqual({ cutDb: 7, asked: 2 });
    // The greatest is just enough: nothing is looked for.
    expect(search(line, 8, 2)).toEqual({ cutDb: 8, asked: 2 });
  });

  it('aims at the middle of what is allowed, which a straight line gives in one step', () => {
    const { cutDb, asked } = search((cutDb) => 10 - cutDb, 18, 2, 0.5);
    expect(cutDb).toBeCloseTo(8.25, 12);
    expect(asked).toBe(3);
  });

  it('goes by the secant at every other step, which a gentle bend settles soon', () => {
    // By hand: 6.78, the middle 12.39, 7.42, the middle 9.9, 7.45, of which the last gives 1.995. Halves alone would take ten.
    const { cutDb, asked } = search((x) => 10 - x - 0.01 * x * x, 18, 2, 0.01);
    expect(Math.abs(10 - cutDb - 0.01 * cutDb ** 2 - 1.995)).toBeLessThanOrEqual(0.005);
    expect(asked).toBeLessThanOrEqual(2 + 6);
  });

  it('ends within the tolerance on curves that are flat, steep or endless', () => {
    for (const levelAt of [
      (cutDb: number) => 10 * Math.log10(1 + 7 * 10 ** (-cutDb / 10)),
      (cutDb: number) => 10 - cutDb ** 6 / 1e6,
      // Falls by 8 dB around one place, and hardly elsewhere.
      (cutDb: number) => 10 - 8 / (1 + Math.exp(-30 * (cutDb - 7.3))) - cutDb / 100,
      // −∞ at the greatest cut.
      (cutDb: number) => 10 + 20 * Math.log10(1 - cutDb / 18),
    ]) {
      const { cutDb, asked } = search(levelAt, 18, 5.9);
      expect(levelAt(cutDb)).toBeLessThanOrEqual(5.9);
      expect(levelAt(cutDb)).toBeGreaterThanOrEqual(5.85);
      // Halving alone would need log2(18 dB over a thousandth) = 15 steps; every other step halves.
      expect(asked).toBeLessThanOrEqual(2 + 30);
    }
  });
});

describe('holdSum', () => {
  const LENGTH = 9600;

  it('says in the reason what it worked with', () => {
    const takes = choir(2, LENGTH, true);
    const held = holdSum(takes, groupEvents(takes), { toleranceDb: 0.001 });
    const { rule, numbers } = held[1]!.list.regions[0]!.reason;
    expect(rule).toBe('holdSum');
    expect(Object.keys(numbers).sort()).toEqual(
      ['baseGainDb', 'furtherCutDb', 'gainDb', 'maxCutDb', 'overLeadBeforeDb', 'targetDb'].sort(),
    );
    expect(numbers).toMatchObject({ baseGainDb: 0, maxCutDb: 18, targetDb: 2 });
    // Two copies are 6.02 dB over one; 1 + 10^(−X/20) = 10^0.1 gives X. A thousandth of a dB of the sum is 0.005 of the cut there.
    const { overLeadBeforeDb, furtherCutDb = Number.NaN, gainDb } = numbers;
    expect(overLeadBeforeDb).toBeCloseTo(20 * Math.log10(2), 9);
    expect(Math.abs(furtherCutDb + 20 * Math.log10(10 ** 0.1 - 1))).toBeLessThan(0.006);
    expect(gainDb).toBe(-furtherCutDb);
  });

  it('cuts nothing below the least gain', () => {
    // Two copies are brought from 6 dB over one down to 2: by more than the 5 dB that are left of the third.
    const takes = choir(3, LENGTH, true).map((take, t) =>
      t === 1 ? { ...take, list: setGain(take.list, 1, -115) } : take,
    );
    const gains = holdSum(takes, groupEvents(takes)).map(({ list }) => list.regions[0]!.gainDb);
    expect(gains[1]).toBe(-120);
    expect(gains[2]).toBeLessThan(-5);
  });

  it('leaves alone what is muted, and groups whose lead is silent', () => {
    const muted = choir(2, LENGTH, true).map((take, t) =>
      t === 1 ? { ...take, list: setGain(take.list, 1, -120) } : take,
    );
    expect(holdSum(muted, groupEvents(muted), { targetDb: -20 })).toBe(muted);
    const draft = { kind: 'sibilant' as const, startSample: 0, endSample: LENGTH };
    const silent = [
      takeOf('lead', new Float32Array(LENGTH), [draft]),
      takeOf('high', evenNoise(1, LENGTH), [draft]),
    ];
    expect(holdSum(silent, groupEvents(silent))).toBe(silent);
  });

  it('does not mind measures of takes that are not in the stack', () => {
    const takes = choir(2, LENGTH, true);
    const groups = groupEvents(takes);
    const levels = new Map([['nobody', { sampleRateHz: 48_000, byId: new Map(), voiceDbfs: null }]]);
    expect(holdSum(takes, groups, { levels })).toEqual(holdSum(takes, groups));
  });
});

describe('sameFeel', () => {
  const takes = ['lead', 'high'].map((id, t) =>
    takeOf(id, new Float32Array(9600), [
      { kind: 'sibilant', startSample: 2400, endSample: 7200, confidence: t === 0 ? 1 : 0.5 },
    ]),
  );
  const table = (sibilanceDb: number | null) => ({
    sampleRateHz: 48_000,
    voiceDbfs: -20,
    byId: new Map([[1, { id: 1, kind: 'sibilant', sound: 's-like', sibilanceDb } as never]]),
  });
  const levels = (lead: number | null, high: number | null) =>
    new Map([
      ['lead', table(lead)],
      ['high', table(high)],
    ]);
  const gains = (...[at, options]: [ReturnType<typeof levels>, Parameters<typeof sameFeel>[2]?]): number[] =>
    sameFeel(takes, at, options).map(({ list }) => list.regions[0]!.gainDb);

  it('brings all down to the lead, by no more than the greatest cut', () => {
    expect(gains(levels(-4, 0))).toEqual([0, -4]);
    expect(gains(levels(-14, 0))).toEqual([0, -6]);
    expect(gains(levels(-14, 0), { maxCutDb: 10 })).toEqual([0, -10]);
    expect(gains(levels(0, -4))).toEqual([0, 0]);
    expect(gains(levels(0, -4), { leadId: 'high' })).toEqual([-4, 0]);
  });

  it('reaches what is chosen and measured', () => {
    const at = levels(-4, 0);
    expect(gains(at, { minConfidence: 0.5 })).toEqual([0, -4]);
    expect(gains(at, { minConfidence: 0.6 })).toEqual([0, 0]);
    expect(sameFeel(takes, at, { kinds: [] })).toBe(takes);
    expect(sameFeel(takes, at, { kinds: ['breath'] })).toBe(takes);
    expect(gains(at, { kinds: ['breath', 'sibilant'] })).toEqual([0, -4]);
    expect(gains(levels(-4, null))).toEqual([0, 0]);
    expect(sameFeel(takes, levels(null, 0))).toBe(takes);
  });
});
