import { describe, expect, it } from 'vitest';
import { createCutSearch } from '../../src/forecast/cut-search.js';

describe('the search for a cut', () => {
  /** Moves until it settles; what is heard is `before + slope · gain`. */
  function run(before: number, slope: number, targetDb: number, leastGainDb: number, toleranceDb = 0.1) {
    const search = createCutSearch(targetDb, leastGainDb);
    const tried: number[] = [];
    for (let k = 0; k < 30; k++) {
      tried.push(search.gainDb);
      search.heard(before + slope * search.gainDb);
      if (search.settled(toleranceDb)) break;
      search.move(toleranceDb);
    }
    return { search, tried };
  }

  it('tries no cut first, then the difference, then what the slope of the two says', () => {
    // A slope of 1 is met at once, any other by the second step: two points give a line.
    expect(run(4, 1, 1, -20).tried).toEqual([0, -3]);
    const { tried } = run(4, 0.5, 1, -20);
    expect(tried).toHaveLength(3);
    expect(tried[2]).toBeCloseTo(-6, 12);
    const steep = run(4, 1.6, 1, -20).tried;
    expect(steep).toHaveLength(3);
    expect(steep[2]).toBeCloseTo(-3 / 1.6, 12);
  });

  it('makes no cut of what lies under the target', () => {
    const { search, tried } = run(-4, 1, 1, -20);
    expect(tried).toEqual([0]);
    expect(search.reached(0.1)).toBe(true);
    expect(search.atLeastGain).toBe(false);
  });

  it('stops at the least gain, and says that it is not enough', () => {
    const { search, tried } = run(30, 1, 1, -6);
    expect(tried).toEqual([0, -6]);
    expect(search.atLeastGain).toBe(true);
    expect(search.reached(0.1)).toBe(false);
    expect(search.settled(0.1)).toBe(true);
    expect(search.afterDb).toBe(24);
    // At the least gain and at the target: enough.
    const enough = run(7, 1, 1, -6).search;
    expect([enough.gainDb, enough.atLeastGain, enough.reached(0.1)]).toEqual([-6, false, true]);
  });

  it('stays where it is once it has settled', () => {
    const { search } = run(4, 1, 1, -20);
    search.move(0.1);
    expect(search.gainDb).toBe(-3);
  });

  it('goes back to no cut where what was heard falls under the target by itself', () => {
    const search = createCutSearch(0, -20);
    search.heard(6);
    search.move(0.1);
    expect(search.gainDb).toBe(-6);
    // Far too soft, as where a neighbour's cut has quietened it too: half of what is left between the two.
    search.heard(-30);
    search.move(0.1);
    expect(search.gainDb).toBeGreaterThan(-6);
    expect(search.gainDb).toBeLessThanOrEqual(0);
  });

  it('makes no cut where as much would be given back as was taken', () => {
    const search = createCutSearch(0, -20);
    search.heard(6);
    search.move(0.1);
    // 18 dB for 6 dB of gain is taken for 2 dB a dB, the steepest that is believed: 12 dB too soft give 6 dB back.
    search.heard(-12);
    search.move(0.1);
    expect(search.gainDb).toBe(0);
  });

  it('opens again where what shut it in has changed since', () => {
    // Three decibels off on either side of −5 dB, so that it is shut in there; then another chain, which asks for −15.
    const search = createCutSearch(0, -20);
    for (let k = 0; k < 25; k++) {
      search.heard(search.gainDb > -5 ? 3 : -3);
      search.move(0.1);
    }
    let steps = 0;
    for (search.heard(search.gainDb + 15); !search.settled(0.1) && steps < 12; steps++) {
      search.move(0.1);
      search.heard(search.gainDb + 15);
    }
    expect(Math.abs(search.gainDb + 15)).toBeLessThanOrEqual(0.1);
  });

  it('settles on curves that bend, inside of what is too soft and too loud', () => {
    // A compressor behind it: a third of the slope above −4 dB, all of it below.
    const bent = (gainDb: number): number => (gainDb > -4 ? 10 + gainDb / 3 : 10 - 4 / 3 + (gainDb + 4));
    for (const targetDb of [9.5, 8.7, 8, 3, -2]) {
      const search = createCutSearch(targetDb, -40);
      let steps = 0;
      for (search.heard(bent(search.gainDb)); !search.settled(0.05) && steps < 20; steps++) {
        search.move(0.05);
        search.heard(bent(search.gainDb));
      }
      expect(Math.abs(bent(search.gainDb) - targetDb)).toBeLessThanOrEqual(0.05);
      expect(steps).toBeLessThan(8);
    }
  });
});
