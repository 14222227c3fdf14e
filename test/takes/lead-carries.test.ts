import { describe, expect, it } from 'vitest';
import { editRegions } from '../../src/regions/edit-regions.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { LEAST_GAIN_DB, type Region, type RegionList } from '../../src/regions/region.js';
import { setBypassed, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { shiftRegions } from '../../src/regions/shift-regions.js';
import { splitRegion } from '../../src/regions/split-region.js';
import { stretchRegions } from '../../src/regions/stretch-regions.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { type LeadCarriesOptions, leadCarries } from '../../src/takes/lead-carries.js';
import type { Take } from '../../src/takes/take.js';
import { takeOf } from './stacks.js';

// At 48 kHz the fade of 40 ms is 1920 samples.
const SILENCE = new Float32Array(48_000);
const of = (id: string, draft: Partial<RegionDraft> = {}): Take =>
  takeOf(id, SILENCE, [{ kind: 'sibilant', startSample: 9000, endSample: 14_600, ...draft }]);
const carry = (take: Take, options: LeadCarriesOptions = {}): Take => {
  const { startSample, endSample } = take.list.regions[0]!;
  const takes = [of('lead', { startSample, endSample }), take];
  const carried = leadCarries(takes, groupEvents(takes), options);
  expect(carried[0]).toBe(takes[0]);
  return carried[1]!;
};
const fade = (take: Take, fadeSeconds = 0.04): Region =>
  carry(take, { how: 'fade', fadeSeconds }).list.regions[0]!;

describe('leadCarries by a cut', () => {
  it('adds to the gain that is there, down to the least one', () => {
    expect(carry(of('high', { gainDb: -3 })).list.regions[0]).toMatchObject({
      gainDb: -15,
      reason: { rule: 'leadCarries', numbers: { baseGainDb: -3, cutDb: 12, gainDb: -15 } },
    });
    expect(carry(of('high', { gainDb: -115 })).list.regions[0]!.reason.numbers).toEqual({
      baseGainDb: -115,
      cutDb: 12,
      gainDb: LEAST_GAIN_DB,
    });
  });

  it('starts from the gain that is there where a reason of its own keeps none', () => {
    const reason = { rule: 'leadCarries', numbers: { gainDb: -3 } };
    expect(carry(of('high', { gainDb: -3, reason })).list.regions[0]!.gainDb).toBe(-15);
    const kept = { rule: 'leadCarries', numbers: { gainDb: -3, baseGainDb: -1 } };
    expect(carry(of('high', { gainDb: -3, reason: kept })).list.regions[0]!.gainDb).toBe(-13);
    // Changed by hand since, or by another rule: the gain counts as it is.
    expect(carry(of('high', { gainDb: -4, reason: kept })).list.regions[0]!.gainDb).toBe(-16);
    const other = { ...kept, rule: 'holdSum' };
    expect(carry(of('high', { gainDb: -3, reason: other })).list.regions[0]!.gainDb).toBe(-15);
  });

  it('leaves alone what is muted, locked or bypassed', () => {
    const muted = of('high', { gainDb: LEAST_GAIN_DB });
    expect(carry(muted)).toBe(muted);
    for (const flag of [setLocked, setBypassed]) {
      const high = of('high');
      const held = { ...high, list: flag(high.list, 1, true) };
      expect(carry(held)).toBe(held);
    }
  });

  it('cuts every piece of a split noise, and none where one is locked', () => {
    const high = of('high', { gainDb: -1 });
    const split = { ...high, list: setGain(splitRegion(high.list, 1, 12_000), 2, -2) };
    expect(carry(split).list.regions.map(({ gainDb }) => gainDb)).toEqual([-13, -14]);
    const locked = { ...split, list: setLocked(split.list, 2, true) };
    expect(carry(locked)).toBe(locked);
  });
});

describe('leadCarries by a fade', () => {
  it('begins 40 ms before the region where no onset was measured, and not before the take', () => {
    expect(fade(of('high'))).toMatchObject({ startSample: 7080, endSample: 14_600, fadeInSamples: 1920 });
    expect(fade(of('high', { startSample: 1000 }))).toMatchObject({ startSample: 0, fadeInSamples: 1000 });
  });

  it('has its fade end at the onset, wherever in the region that lies', () => {
    // 3000 samples after the start: more than the fade, which then takes all of them.
    const late = fade(of('high', { onsetSample: 12_000 }));
    expect(late).toMatchObject({ startSample: 9000, fadeInSamples: 3000 });
    const near = fade(of('high', { onsetSample: 9500 }));
    expect(near).toMatchObject({ startSample: 7580, fadeInSamples: 1920 });
  });

  it('shortens the fade where a short noise has no room for it beside its fade-out', () => {
    const short = { startSample: 9100, endSample: 9300, onsetSample: 9250, fadeOutSamples: 144 };
    // From 9250 − 1920 to 9300 − 144 are 1826 samples.
    expect(fade(of('high', short))).toMatchObject({ startSample: 7330, fadeInSamples: 1826 });
  });

  it('mutes and moves nothing where it has no length', () => {
    expect(fade(of('high', { fadeInSamples: 144 }), 0)).toMatchObject({
      startSample: 9000,
      fadeInSamples: 144,
      gainDb: LEAST_GAIN_DB,
    });
  });

  it('keeps in its reason where it began, and starts from there with another length', () => {
    const once = carry(of('high', { gainDb: -2, fadeInSamples: 144 }), { how: 'fade' });
    expect(once.list.regions[0]!.reason).toEqual({
      rule: 'leadCarries',
      numbers: {
        baseGainDb: -2,
        leadInSamples: 0,
        baseFadeInSamples: 144,
        fadeSeconds: 0.04,
        gainDb: LEAST_GAIN_DB,
      },
    });
    const takes = [of('lead'), once];
    const groups = groupEvents(takes);
    expect(leadCarries(takes, groups, { how: 'fade' })).toBe(takes);
    const again = (fadeSeconds: number): Region =>
      leadCarries(takes, groups, { how: 'fade', fadeSeconds })[1]!.list.regions[0]!;
    expect(again(0.02)).toMatchObject({ startSample: 8040, fadeInSamples: 960 });
    expect(again(0)).toMatchObject({ startSample: 9000, fadeInSamples: 144 });
    // The same place by another length: the reason says which.
    expect(again(0.04 + 1e-9).reason.numbers).toMatchObject({ fadeSeconds: 0.04 + 1e-9 });
  });

  it('gives way to a cut, which puts start, fade and gain back where they were', () => {
    const start = of('high', { gainDb: -2, fadeInSamples: 144 });
    const takes = [of('lead'), carry(start, { how: 'fade' })];
    const cut = leadCarries(takes, groupEvents(takes), { how: 'cut', cutDb: 5 })[1]!;
    const atOnce = carry(start, { how: 'cut', cutDb: 5 });
    expect(cut.list.regions).toEqual(atOnce.list.regions);
    expect(cut.list.regions[0]).toMatchObject({ startSample: 9000, fadeInSamples: 144, gainDb: -7 });
  });

  it('gives way to a cut where the take was moved or stretched in between', () => {
    const high = of('high', { onsetSample: 9100, offsetSample: 14_600, fadeInSamples: 144 });
    const faded = carry(high, { how: 'fade' });
    const cutAfter = (list: RegionList): Region => {
      // Moved back by its offset, the take stands in the stack as before.
      const offsetSamples = 9100 - list.regions[0]!.onsetSample!;
      const takes = [
        of('lead'),
        { ...faded, list, channels: new Float32Array(list.lengthSamples), offsetSamples },
      ];
      return leadCarries(takes, groupEvents(takes))[1]!.list.regions[0]!;
    };
    for (const by of [5000, -5000])
      expect(cutAfter(shiftRegions(faded.list, by).list)).toMatchObject({
        startSample: 9000 + by,
        endSample: 14_600 + by,
        fadeInSamples: 144,
        gainDb: -12,
      });
    // 100 samples before the onset as they were: what stretches is the time between sounds.
    const { list } = stretchRegions(faded.list, 1.5);
    expect(cutAfter(list)).toMatchObject({ startSample: 13_650 - 100, fadeInSamples: 144 });
  });

  it('takes the pieces of a noise that was split after a fade, where they are', () => {
    const faded = carry(of('high', { onsetSample: 9000, offsetSample: 14_600 }), { how: 'fade' });
    const split = { ...faded, list: splitRegion(faded.list, 1, 12_000) };
    const starts = (how: 'cut' | 'fade'): number[] =>
      carry(split, { how }).list.regions.map(({ startSample }) => startSample);
    expect(starts('cut')).toEqual([9000, 12_000]);
    expect(starts('fade')).toEqual([7080, 12_000]);
  });

  it('is done again where somebody has changed its gain or its place since', () => {
    // What was measured tells where it began, whatever hands do.
    const once = carry(of('high', { onsetSample: 9000, offsetSample: 14_600 }), { how: 'fade' });
    const takes = [of('lead'), once];
    const groups = groupEvents(takes);
    for (const change of [{ gainDb: -3 }, { startSample: 7000 }, { fadeInSamples: 100 }]) {
      const list = editRegions(once.list, () => change);
      const again = leadCarries([takes[0]!, { ...once, list }], groups, { how: 'fade' })[1]!;
      expect(again.list.regions[0]).toMatchObject({
        startSample: 7080,
        fadeInSamples: 1920,
        gainDb: LEAST_GAIN_DB,
      });
    }
  });

  it('mutes the later pieces of a split noise where they are', () => {
    const high = of('high', { fadeOutSamples: 96 });
    const split = { ...high, list: splitRegion(high.list, 1, 12_000) };
    const { regions } = carry(split, { how: 'fade' }).list;
    expect(regions.map(({ startSample, endSample }) => [startSample, endSample])).toEqual([
      [7080, 12_000],
      [12_000, 14_600],
    ]);
    expect(regions.map(({ fadeInSamples }) => fadeInSamples)).toEqual([1920, 0]);
    expect(regions.map(({ gainDb }) => gainDb)).toEqual([LEAST_GAIN_DB, LEAST_GAIN_DB]);
  });

  it('leaves alone what is muted by hand, locked or bypassed', () => {
    const muted = of('high', { gainDb: LEAST_GAIN_DB });
    expect(carry(muted, { how: 'fade' })).toBe(muted);
    for (const flag of [setLocked, setBypassed]) {
      const high = of('high');
      const held = { ...high, list: flag(high.list, 1, true) };
      expect(carry(held, { how: 'fade' })).toBe(held);
    }
  });
});
