import { describe, expect, it } from 'vitest';
import { DEFAULT_LOWER_NOISE_OPTIONS, lowerNoise } from '../../src/gain/lower-noise.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';

const RATE = 48_000;

function listOf(...drafts: readonly RegionDraft[]): RegionList {
  return insertRegions(createRegionList({ sampleRateHz: RATE, lengthSamples: 2 * RATE }), drafts);
}

const NOISE = { kind: 'noise', startSample: 0, endSample: RATE } as const;
const THUMP = {
  kind: 'noise',
  label: 'thump',
  startSample: 50_000,
  endSample: 54_800,
  band: { lowHz: 0, highHz: 90 },
} as const;
const CLICK = { kind: 'click', startSample: 60_000, endSample: 60_144 } as const;
const VOICE = [
  { kind: 'breath', startSample: 70_000, endSample: 80_000 },
  { kind: 'sibilant', startSample: 80_000, endSample: 84_000 },
  { kind: 'cymbal', startSample: 85_000, endSample: 86_000 },
] as const;

describe('lowerNoise', () => {
  it('lowers noises, thumps and clicks by 12 dB, each with fades of its own, and says why', () => {
    const list = lowerNoise(listOf(NOISE, THUMP, CLICK, ...VOICE));
    expect(list.regions.map(({ gainDb }) => gainDb)).toEqual([-12, -12, -12, 0, 0, 0]);
    // 80 ms, 10 ms, 0.5 ms; a fade to either side.
    expect(list.regions.map(({ fadeInSamples }) => fadeInSamples)).toEqual([3840, 480, 24, 0, 0, 0]);
    expect(list.regions.map(({ fadeOutSamples }) => fadeOutSamples)).toEqual([3840, 480, 24, 0, 0, 0]);
    expect(list.regions[0]!.reason).toEqual({ rule: 'lowerNoise', numbers: { gainDb: -12 } });
    expect(list.regions[1]!.band).toEqual(THUMP.band);
    checkRegionList(list);
  });

  it('lowers by as much as asked, the kinds that are asked for', () => {
    const list = lowerNoise(listOf(NOISE, CLICK), { cutDb: 20, kinds: ['click'], clickFadeSeconds: 0 });
    expect(list.regions.map(({ gainDb }) => gainDb)).toEqual([0, -20]);
    expect(list.regions[1]!.fadeInSamples).toBe(0);
    const none = lowerNoise(listOf(NOISE), { cutDb: 0 }).regions[0]!;
    expect(Object.is(none.gainDb, 0)).toBe(true);
  });

  it('renders to a quarter of the amplitude between the fades: 10^(−12/20)', () => {
    const samples = new Float32Array(2 * RATE).fill(0.5);
    const out = renderGain(samples, lowerNoise(listOf(NOISE)));
    // 32-bit rounding.
    expect(out[RATE / 2]! / 0.5).toBeCloseTo(10 ** (-12 / 20), 6);
    expect(out[RATE]).toBe(0.5);
  });

  it('sets both fades where one of them is right already', () => {
    for (const own of [{ fadeInSamples: 3840 }, { fadeOutSamples: 3840 }]) {
      const [region] = lowerNoise(listOf({ ...NOISE, ...own })).regions;
      expect(region).toMatchObject({ fadeInSamples: 3840, fadeOutSamples: 3840 });
    }
  });

  it('ends a fade where the noise begins, if there is room before it', () => {
    const roomy = { ...NOISE, onsetSample: 2400, offsetSample: RATE - 300 };
    const [region] = lowerNoise(listOf(roomy)).regions;
    expect(region!.fadeInSamples).toBe(2400);
    // 300 samples are 6 ms: the noise goes on beyond, and the fade lies on it.
    expect(region!.fadeOutSamples).toBe(3840);
  });

  it('holds fades to a third of a short region', () => {
    const [region] = lowerNoise(listOf({ kind: 'noise', startSample: 0, endSample: 301 })).regions;
    expect([region!.fadeInSamples, region!.fadeOutSamples]).toEqual([100, 100]);
    const [sample] = lowerNoise(listOf({ kind: 'noise', startSample: 0, endSample: 1 })).regions;
    expect([sample!.fadeInSamples, sample!.fadeOutSamples]).toEqual([0, 0]);
  });

  it('changes nothing more the second time', () => {
    const once = lowerNoise(listOf(NOISE, THUMP, CLICK, ...VOICE));
    expect(lowerNoise(once)).toBe(once);
  });

  it('leaves locked and bypassed regions and the unchosen as they are', () => {
    const list = listOf({ ...NOISE, locked: true }, { ...CLICK, bypassed: true });
    expect(lowerNoise(list)).toBe(list);
    const two = listOf({ ...NOISE, confidence: 0.4 }, CLICK);
    expect(lowerNoise(two, { minConfidence: 0.5 }).regions[0]).toBe(two.regions[0]);
    expect(lowerNoise(two, { ids: [1] }).regions[1]).toBe(two.regions[1]);
    const empty = listOf();
    expect(lowerNoise(empty)).toBe(empty);
  });

  it('refuses what it cannot use', () => {
    for (const [name, value] of [
      ['cutDb', -1],
      ['cutDb', 121],
      ['fadeSeconds', Number.NaN],
      ['bandFadeSeconds', 2],
      ['clickFadeSeconds', -0.1],
    ] as const)
      expect(() => lowerNoise(listOf(NOISE), { [name]: value })).toThrow(`lowerNoise: ${name}`);
    expect(() => lowerNoise(listOf(NOISE), { cutDb: '12' as never })).toThrow(TypeError);
    expect(() => lowerNoise(listOf(NOISE), { kinds: ['hum' as never] })).toThrow(RangeError);
    expect(Object.isFrozen(DEFAULT_LOWER_NOISE_OPTIONS)).toBe(true);
    expect(Object.isFrozen(DEFAULT_LOWER_NOISE_OPTIONS.kinds)).toBe(true);
  });
});
