import { describe, expect, it } from 'vitest';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { setBand } from '../../src/regions/set-band.js';
import { setGain } from '../../src/regions/set-gain.js';
import { rmsDbfs } from '../../src/signal/meters.js';
import type { Samples } from '../../src/signal/samples.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { measureGroups } from '../../src/takes/measure-groups.js';
import { choir, evenNoise, overLeadDb, takeOf } from './stacks.js';

const LENGTH = 96_000;

/**
 * How far the level of a sum of `count` equal noises of n samples may lie from that of their powers, in dB: the mean products of the
 * count·(count − 1)/2 pairs have a standard deviation of P/√n each, so the power of the sum has 2·√pairs·P/√n about count·P; four of them.
 */
function noiseToleranceDb(count: number, n = LENGTH): number {
  const relative = (2 * Math.sqrt((count * (count - 1)) / 2)) / count / Math.sqrt(n);
  return 4 * (10 / Math.LN10) * relative;
}

describe('measureGroups against closed forms', () => {
  // Incoherent sum of N equal sources, 10·log10 N (references C3, computed from its figures).
  for (const [count, publishedDb] of [
    [2, 3.01],
    [3, 4.77],
    [4, 6.02],
    [6, 7.78],
    [8, 9.03],
    [12, 10.79],
  ] as const)
    it(`finds ${count} equal voices of unlike noise ${publishedDb} dB over one`, () => {
      const takes = choir(count, LENGTH);
      const level = measureGroups(takes, groupEvents(takes))[0]!;
      expect(Math.abs(level.overLeadDb! - publishedDb)).toBeLessThan(noiseToleranceDb(count) + 0.005);
      // Each noise has an exact RMS, so the estimate is the closed form itself; 0.005 for the two decimals of the table.
      expect(Math.abs(level.estimateDbfs - level.leadDbfs! - publishedDb)).toBeLessThan(0.005);
    });

  it('finds 8 copies 18.06 dB over one, where the estimate says 9.03', () => {
    const takes = choir(8, LENGTH, true);
    const level = measureGroups(takes, groupEvents(takes))[0]!;
    expect(level.overLeadDb).toBeCloseTo(20 * Math.log10(8), 9);
    expect(level.estimateDbfs - level.leadDbfs!).toBeCloseTo(10 * Math.log10(8), 9);
  });

  it('finds seven of eight voices cut by 12 dB to leave 1.59 dB over the lead', () => {
    // N = 8, X = 12: 1.59 (references C3, computed from its figures).
    const takes = choir(8, LENGTH).map((take, t) => (t === 0 ? take : { ...take, gainDb: -12 }));
    const level = measureGroups(takes, groupEvents(takes))[0]!;
    expect(Math.abs(level.overLeadDb! - 1.59)).toBeLessThan(noiseToleranceDb(8) + 0.005);
  });
});

describe('measureGroups', () => {
  it('gives each member its level with list gain and fader, over the group and over its own noise', () => {
    const noise = evenNoise(1, 9600);
    const draft = { kind: 'sibilant' as const, startSample: 0, endSample: 9600 };
    const lead = takeOf('lead', noise, [draft]);
    const high = takeOf('high', noise, [{ ...draft, gainDb: -6 }], { offsetSamples: 2400, gainDb: -3 });
    const level = measureGroups([lead, high], groupEvents([lead, high]))[0]!;
    const ownDbfs = 20 * Math.log10(0.05);
    // The group lasts 12000 samples, each noise 9600: 0.97 dB less over the group. Six places: the noise is held in 32 bits.
    const shareDb = 10 * Math.log10(9600 / 12_000);
    expect(level.members[0]!.ownDbfs).toBeCloseTo(ownDbfs, 5);
    expect(level.members[0]!.levelDbfs).toBeCloseTo(ownDbfs + shareDb, 5);
    expect(level.members[1]!.ownDbfs).toBeCloseTo(ownDbfs - 9, 5);
    expect(level.leadDbfs).toBe(level.members[0]!.levelDbfs);
  });

  it('hears each of several regions of a take with its own gain', () => {
    const noise = evenNoise(1, 9600);
    const twice = Float32Array.from({ length: 96_000 }, (_, i) => noise[i % 48_000] ?? 0);
    const drafts = [-6, -2].map((gainDb, i) => ({
      kind: 'sibilant' as const,
      startSample: 48_000 * i,
      endSample: 48_000 * i + 9600,
      gainDb,
    }));
    const take = takeOf('lead', twice, drafts);
    // The noise has an RMS of 0.05, to the rounding of 32 bits.
    const levels = measureGroups([take], groupEvents([take])).map(({ leadDbfs }) => leadDbfs!);
    expect(levels[0]).toBeCloseTo(20 * Math.log10(0.05) - 6, 5);
    expect(levels[1]).toBeCloseTo(20 * Math.log10(0.05) - 2, 5);
  });

  it('measures what whole rendered clips add up to, gains and fades and a band among it', () => {
    const LENGTH = 24_000;
    const draft = {
      kind: 'sibilant' as const,
      startSample: 2400,
      endSample: 21_600,
      fadeInSamples: 480,
      fadeOutSamples: 960,
    };
    // The noises fill the regions and nothing else, so that the whole clips hold what the group holds.
    const noise = (seed: number): Samples =>
      evenNoise(seed, LENGTH).map((x, i) => (i < 2400 || i >= 21_600 ? 0 : x));
    const plain = [1, 2, 3].map((t) =>
      takeOf(t, noise(t), [{ ...draft, gainDb: -2 * t }], { gainDb: t, offsetSamples: 700 * t }),
    );
    const takes = plain.map((take) =>
      take.id === 2 ? { ...take, list: setBand(take.list, 1, { lowHz: 4000, highHz: 12_000 }) } : take,
    );
    const groups = groupEvents(takes);
    expect(groups[0]?.members).toHaveLength(3);
    const level = measureGroups(takes, groups, { leadId: 3 })[0]!;
    // renderGain rounds to 32 bits, 2^−24 of each sample: far below the sixth place.
    expect(level.overLeadDb).toBeCloseTo(overLeadDb(takes, 0, 30_000, 3), 5);
  });

  it('adds a mono take to both channels of a wide one', () => {
    const noise = evenNoise(1, 9600);
    const draft = { kind: 'sibilant' as const, startSample: 0, endSample: 9600 };
    const wide = takeOf('lead', [noise, noise.map((x) => -x)], [draft]);
    const mono = takeOf('double', noise, [draft]);
    // Left doubles (4 times the power), right cancels: half of 4, which is twice the lead's power.
    expect(measureGroups([wide, mono], groupEvents([wide, mono]))[0]?.overLeadDb).toBeCloseTo(
      10 * Math.log10(2),
      9,
    );
  });

  it('has no ratio without a lead or with a silent one', () => {
    const draft = { kind: 'sibilant' as const, startSample: 0, endSample: 9600 };
    const silent = takeOf('lead', new Float32Array(9600), [draft]);
    const bare = takeOf('lead', new Float32Array(9600), []);
    const high = takeOf('high', evenNoise(1, 9600), [draft]);
    const levelOf = (takes: readonly (typeof high)[]) => measureGroups(takes, groupEvents(takes))[0]!;
    expect(levelOf([silent, high])).toMatchObject({ leadDbfs: Number.NEGATIVE_INFINITY, overLeadDb: null });
    expect(levelOf([bare, high])).toMatchObject({ leadDbfs: null, overLeadDb: null });
  });

  it('lifts nothing but levels when all faders move, and nothing at all when all offsets do', () => {
    const { takes: sung } = makeDemonstration({ sampleRateHz: 16_000 });
    const takes = sung.map(({ name, samples, truth }) => {
      const drafts = truth
        .filter(({ kind }) => kind === 'sibilant')
        .map(({ startSample, endSample }) => ({ kind: 'sibilant' as const, startSample, endSample }));
      return takeOf(name, samples, drafts);
    });
    const groups = groupEvents(takes);
    const levels = measureGroups(takes, groups);
    const louder = measureGroups(
      takes.map((take) => ({ ...take, gainDb: 5 })),
      groups,
    );
    const moved = takes.map((take) => ({ ...take, offsetSamples: -777 }));
    expect(measureGroups(moved, groupEvents(moved))).toEqual(levels);
    levels.forEach((level, g) => {
      expect(louder[g]!.sumDbfs).toBeCloseTo(level.sumDbfs + 5, 9);
      expect(louder[g]!.overLeadDb ?? 0).toBeCloseTo(level.overLeadDb ?? 0, 9);
      // Other singers' noise has nothing in common: estimate and sum agree within a decibel or so, but never by copy.
      expect(Math.abs(level.sumDbfs - level.estimateDbfs)).toBeLessThan(1.5);
    });
  });

  it('reads the lead alone as rmsDbfs does', () => {
    const take = takeOf('lead', evenNoise(3, 9600), [
      { kind: 'sibilant', startSample: 960, endSample: 4800 },
    ]);
    const cut = { ...take, list: setGain(take.list, 1, -6) };
    const rendered = renderGain(cut.channels, cut.list) as Samples;
    const level = measureGroups([cut], groupEvents([cut]))[0]!;
    expect(level.sumDbfs).toBeCloseTo(rmsDbfs(rendered.subarray(960, 4800)), 5);
    expect(level.overLeadDb).toBe(0);
  });
});
