import { beforeAll, describe, expect, test } from 'vitest';
import { decideGains } from '../../examples/lib/decide-gains.js';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { sibilanceLines } from '../../examples/lib/sibilance-lines.js';
import { parseTameOptions, type TameOptions } from '../../examples/lib/tame-options.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import { sibilanceSpread } from '../../src/levels/sibilance-spread.js';
import type { RegionKind, RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';

let takes: { samples: Samples; found: RegionList }[] = [];
beforeAll(() => {
  const { sampleRateHz, takes: sung } = makeDemonstration();
  takes = sung.map(({ samples }) => ({ samples, found: detectConsonants(samples, { sampleRateHz }) }));
});

function options(...args: string[]): TameOptions {
  const result = parseTameOptions([...args, 'a.wav']);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

const gains = (list: RegionList, kind: RegionKind): number[] =>
  list.regions.filter((region) => region.kind === kind).map(({ gainDb }) => gainDb);

describe('decideGains', () => {
  test('gives every sibilant the fixed cut, and other kinds none', () => {
    for (const { samples, found } of takes) {
      const list = decideGains(found, [samples], options('--cut', '4'));
      expect(new Set(gains(list, 'sibilant'))).toEqual(new Set([-4]));
      expect(list.regions.filter(({ kind, gainDb }) => kind !== 'sibilant' && gainDb !== 0)).toEqual([]);
    }
  });

  // A third: what levelledCut says of its defaults.
  for (const decision of ['level', 'even'])
    test(`--decide ${decision} takes at least a third off the spread of every take, by at most 6 dB, without a flag`, () => {
      for (const { samples, found } of takes) {
        const list = decideGains(found, [samples], options('--decide', decision));
        const levels = measureLevels([samples], list);
        const flat = { ...list, regions: list.regions.map((region) => ({ ...region, gainDb: 0 })) };
        const before = sibilanceSpread(levels, flat);
        const after = sibilanceSpread(levels, list);
        expect(after!.spreadDb).toBeLessThanOrEqual((before!.spreadDb * 2) / 3);
        expect(Math.min(...gains(list, 'sibilant'))).toBeGreaterThanOrEqual(-6);
        expect(Math.max(...gains(list, 'sibilant'))).toBe(0);
        expect(overCutFlags(list, levels)).toEqual([]);
        // The louder of two sibilants of one sound is never cut less.
        const measured = list.regions.flatMap((region) => {
          const level = levels.byId.get(region.id);
          return level?.kind === 'sibilant' && level.sound === 's-like' && level.sibilanceDb !== null
            ? [{ sibilanceDb: level.sibilanceDb, gainDb: region.gainDb }]
            : [];
        });
        measured.sort((a, b) => a.sibilanceDb - b.sibilanceDb);
        for (let i = 1; i < measured.length; i++)
          expect(measured[i]!.gainDb).toBeLessThanOrEqual(measured[i - 1]!.gainDb + 1e-9);
      }
    });

  test('levels to the target and within the limit that were given', () => {
    const { samples, found } = takes[0]!;
    const list = decideGains(
      found,
      [samples],
      options('--decide', 'level', '--target', '-4', '--max-cut', '2'),
    );
    const levels = measureLevels([samples], list);
    for (const { id, kind, gainDb } of list.regions) {
      if (kind !== 'sibilant') continue;
      const above = levels.byId.get(id)!.sibilanceDb! + 4;
      expect(gainDb).toBeCloseTo(-Math.min(2, Math.max(0, above)), 9);
    }
  });

  test('turns breaths down when asked, and leaves the sibilants to their own decision', () => {
    const { samples, found } = takes[0]!;
    const list = decideGains(found, [samples], options('--breaths', '9'));
    const breaths = gains(list, 'breath');
    // The song has four lines, each with a breath before it.
    expect(breaths.length).toBe(4);
    for (const gain of breaths) {
      expect(gain).toBeLessThan(0);
      expect(gain).toBeGreaterThanOrEqual(-9);
    }
    expect(new Set(gains(list, 'sibilant'))).toEqual(new Set([-6]));
  });

  test('keeps a cut to the band of the noise when asked', () => {
    const { samples, found } = takes[0]!;
    const list = decideGains(found, [samples], options('--band'));
    for (const { kind, gainDb, band } of list.regions) {
      if (kind !== 'sibilant') {
        expect([gainDb, band]).toEqual([0, undefined]);
        continue;
      }
      // The demonstration's s and sh hiss from 2 kHz up (examples/lib/demo/noise-spectrum.ts).
      expect(band!.lowHz).toBeGreaterThanOrEqual(1000);
      expect(band!.highHz).toBeGreaterThan(4000);
    }
  });
});

describe('sibilanceLines', () => {
  test('says the spread before and after, and whether a cut may make an s sound like th', () => {
    const { samples, found } = takes[0]!;
    const levelled = sibilanceLines([samples], decideGains(found, [samples], options('--decide', 'level')));
    expect(levelled).toHaveLength(2);
    expect(levelled[0]).toMatch(/a spread of [\d.]+ dB, now [\d.]+\)$/);
    expect(levelled[1]).toMatch(/no cut goes below/);
    // Twelve decibels are more than any published listening result lets pass for the soft ones of this take.
    const deep = sibilanceLines([samples], decideGains(found, [samples], options('--cut', '18')));
    expect(deep[1]).toMatch(/listen for a lisp: \d+ cuts may make an s sound like th, at 0:/);
  });

  test('says nothing of a take without sibilants', () => {
    const { samples, found } = takes[0]!;
    expect(sibilanceLines([samples], { ...found, regions: [] })).toEqual([]);
  });
});
