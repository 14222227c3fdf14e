import { describe, expect, it } from 'vitest';
import { synthesiseBreath } from '../../examples/lib/demo/pieces.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { DEFAULT_SOFTEN_BREATHS_OPTIONS, softenBreaths } from '../../src/gain/soften-breaths.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import { kWeighting } from '../../src/signal/k-weighting.js';
import type { Samples } from '../../src/signal/samples.js';
import { whiteNoise } from '../lib/random.js';

const RATE = 48_000;
const at = (seconds: number): number => Math.round(seconds * RATE);

/** Room at −70 dBFS for 2 s, and a breath at 0.8 s that is `breathDb` loud; its half amplitudes lie at 0.87 and 1.25 s. */
function clip(breathDb: number, roomDb = -70): Samples {
  const samples = whiteNoise(1, at(2), 10 ** (roomDb / 20)) as Samples;
  const breath = synthesiseBreath({ durationSeconds: 0.5, sampleRateHz: RATE, seed: 4, rmsDb: breathDb });
  for (const [i, x] of breath.entries()) samples[at(0.8) + i] = samples[at(0.8) + i]! + x;
  return samples;
}

const BREATH = {
  kind: 'breath',
  startSample: at(0.87),
  endSample: at(1.25),
  onsetSample: at(0.87),
  offsetSample: at(1.25),
} as const;

function listOf(...drafts: readonly RegionDraft[]): RegionList {
  return insertRegions(createRegionList({ sampleRateHz: RATE, lengthSamples: at(2) }), drafts);
}

/** Level as heard (K-weighted) of a stretch, in dB; the filter's first 0.1 s are kept out by the caller. */
function heardDb(samples: Samples, fromSeconds: number, toSeconds: number): number {
  const heard = filterSamples(samples, kWeighting({ sampleRateHz: RATE }));
  let sum = 0;
  for (let i = at(fromSeconds); i < at(toSeconds); i++) sum += heard[i]! ** 2;
  return 10 * Math.log10(sum / (at(toSeconds) - at(fromSeconds)));
}

describe('softenBreaths', () => {
  it('lowers a loud breath by 9 dB in a lead and by 24 dB in a backing take', () => {
    const samples = clip(-30);
    const lead = softenBreaths(listOf(BREATH), samples).regions[0]!;
    expect(lead.gainDb).toBe(-9);
    expect(lead.reason.rule).toBe('softenBreaths');
    expect(lead.reason.numbers).toMatchObject({ wantedCutDb: 9, gainDb: -9 });
    // The breath was made 40 dB over the room; its bump lies where K-weighting lifts by 2 to 4 dB and the room's treble by 4.
    expect(Math.abs(Object.values(lead.reason.numbers)[1]! - 40)).toBeLessThan(6);
    expect(softenBreaths(listOf(BREATH), samples, { part: 'backing' }).regions[0]!.gainDb).toBe(-24);
  });

  it('lies within the 6 to 12 dB that leads are given (common practice, no source)', () => {
    const gainDb = softenBreaths(listOf(BREATH), null).regions[0]!.gainDb;
    expect(gainDb).toBeLessThanOrEqual(-6);
    expect(gainDb).toBeGreaterThanOrEqual(-12);
  });

  it.each([-60, -64, -67])('brings a breath of %i dBFS down to the room and no further', (breathDb) => {
    const samples = clip(breathDb);
    const list = softenBreaths(listOf(BREATH), samples, { part: 'backing' });
    const [region] = list.regions;
    expect(region!.gainDb).toBeGreaterThan(-24);
    expect(region!.gainDb).toBeLessThanOrEqual(0);
    const room = heardDb(samples, 0.2, 0.75);
    // The loud middle of the breath, half of it, lies at the room's level: the quietest 2 % of the room read up to 1.5 dB low.
    expect(heardDb(renderGain(samples, list), 0.95, 1.15)).toBeGreaterThan(room - 1.5);
    const anyway = softenBreaths(listOf(BREATH), samples, { part: 'backing', keepRoomTone: false });
    expect(anyway.regions[0]!.gainDb).toBe(-24);
    expect(heardDb(renderGain(samples, anyway), 0.95, 1.15)).toBeLessThan(room - 10);
  });

  it('leaves a breath that lies at the room alone', () => {
    const samples = clip(-95);
    const gainDb = softenBreaths(listOf(BREATH), samples).regions[0]!.gainDb;
    // The room against its own quietest 2 %: up to 1.5 dB.
    expect(gainDb).toBeGreaterThan(-1.5);
    expect(Object.is(gainDb, -0)).toBe(false);
  });

  it('takes digital silence for an edit and not for the room', () => {
    const samples = clip(-60);
    samples.fill(0, at(1.5));
    const kept = softenBreaths(listOf(BREATH), samples, { part: 'backing' }).regions[0]!.gainDb;
    const whole = softenBreaths(listOf(BREATH), clip(-60), { part: 'backing' }).regions[0]!.gainDb;
    // Fewer blocks of room to choose the quietest from.
    expect(Math.abs(kept - whole)).toBeLessThan(0.5);
  });

  it('mutes only when asked', () => {
    const muted = softenBreaths(listOf(BREATH), clip(-40), { cutDb: 120, keepRoomTone: false });
    expect(muted.regions[0]!.gainDb).toBe(-120);
    expect(softenBreaths(listOf(BREATH), clip(-40), { cutDb: 120 }).regions[0]!.gainDb).toBeGreaterThan(-40);
  });

  it('follows the skirts of the breath outwards, with fades on them', () => {
    const [region] = softenBreaths(listOf(BREATH), clip(-30)).regions;
    // The breath begins at 0.8 and ends at 1.3 s; a raised-cosine edge is 37 dB down (3 dB over the room) after 92 % of its length.
    expect(region!.startSample).toBeLessThan(at(0.835));
    expect(region!.startSample).toBeGreaterThanOrEqual(at(0.8) - 240);
    expect(region!.endSample).toBeGreaterThan(at(1.275));
    expect(region!.endSample).toBeLessThanOrEqual(at(1.3) + 240);
    // Fades are long: 30 ms or the whole skirt, and fit.
    expect(region!.fadeInSamples).toBeGreaterThanOrEqual(at(0.03));
    expect(region!.fadeOutSamples).toBeGreaterThanOrEqual(at(0.03));
    expect(region!.startSample + region!.fadeInSamples).toBeGreaterThanOrEqual(BREATH.onsetSample);
  });

  it('leaves an edge where hands have put it to make room for another region over what was measured', () => {
    const samples = clip(-45);
    const over = (draft: RegionDraft, edges: Partial<RegionDraft>): RegionList =>
      softenBreaths(listOf({ ...BREATH, ...edges }, draft), samples);
    const after = over({ startSample: at(1.1), endSample: at(1.5) }, { endSample: at(1.05) });
    expect(after.regions[0]).toMatchObject({ endSample: at(1.05) });
    expect(after.regions[0]!.startSample).toBeLessThan(at(0.87));
    const before = over({ startSample: at(0.6), endSample: at(0.95) }, { startSample: at(1) });
    expect(before.regions[1]).toMatchObject({ startSample: at(1) });
    expect(before.regions[1]!.endSample).toBeGreaterThan(at(1.25));
    // The end follows its skirt all the same, and the fade lies on that.
    const { endSample, fadeOutSamples } = before.regions[1]!;
    expect(fadeOutSamples).toBe(Math.max(at(0.03), endSample - at(1.25)));
    // A region that ends where the breath was measured to begin leaves it that edge.
    const beside = over({ startSample: at(0.6), endSample: at(0.87) }, { startSample: at(1) });
    expect(beside.regions[1]).toMatchObject({ startSample: at(0.87) });
    // Both measured edges lie under other regions.
    const between = softenBreaths(
      listOf(
        { startSample: at(0.6), endSample: at(0.95) },
        { ...BREATH, startSample: at(1), endSample: at(1.05) },
        { startSample: at(1.1), endSample: at(1.5) },
      ),
      samples,
    );
    expect(between.regions[1]).toMatchObject({ startSample: at(1), endSample: at(1.05), gainDb: -9 });
    for (const list of [after, before, between]) {
      checkRegionList(list);
      expect(softenBreaths(list, samples)).toEqual(list);
    }
  });

  it('never reaches into a neighbour, listed or not', () => {
    const samples = clip(-30);
    const s = {
      kind: 'sibilant',
      startSample: at(1.27),
      endSample: at(1.4),
      onsetSample: at(1.27),
      offsetSample: at(1.4),
    } as const;
    const listed = softenBreaths(listOf(BREATH, s), samples);
    expect(listed.regions[0]!.endSample).toBeLessThanOrEqual(at(1.27));
    expect(listed.regions[1]).toEqual(listOf(BREATH, s).regions[1]);
    // An s that nobody listed, 20 dB louder, from 1.28 s on: the level rises again, so the region ends before it (a block is 5 ms).
    const noise = whiteNoise(8, at(0.1), 0.3);
    for (const [i, x] of noise.entries()) samples[at(1.28) + i] = samples[at(1.28) + i]! + x;
    expect(softenBreaths(listOf(BREATH), samples).regions[0]!.endSample).toBeLessThanOrEqual(at(1.28));
  });

  it('keeps edges made by hand, and edges where there is no clip to look at', () => {
    const hand = { ...BREATH, onsetSample: null, offsetSample: null };
    const [byHand] = softenBreaths(listOf(hand), clip(-30)).regions;
    expect([byHand!.startSample, byHand!.endSample]).toEqual([BREATH.startSample, BREATH.endSample]);
    const [blind] = softenBreaths(listOf(BREATH), null).regions;
    expect([blind!.startSample, blind!.endSample]).toEqual([BREATH.startSample, BREATH.endSample]);
    expect(blind!.fadeInSamples).toBe(at(0.03));
    expect(blind!.reason.numbers).toEqual({ wantedCutDb: 9, gainDb: -9 });
  });

  it('holds fades to a third of a short breath', () => {
    const short = { kind: 'breath', startSample: 1000, endSample: 1000 + 900 } as const;
    const [region] = softenBreaths(listOf(short), null).regions;
    expect([region!.fadeInSamples, region!.fadeOutSamples]).toEqual([300, 300]);
  });

  it('changes nothing more the second time, and keeps every rule of a list', () => {
    for (const samples of [clip(-30), clip(-64), null])
      for (const part of ['lead', 'backing'] as const) {
        const next = {
          kind: 'breath',
          startSample: at(1.26),
          endSample: at(1.6),
          onsetSample: at(1.26),
          offsetSample: at(1.6),
        } as const;
        const once = softenBreaths(listOf(BREATH, next), samples, { part });
        checkRegionList(once);
        expect(softenBreaths(once, samples, { part })).toBe(once);
      }
  });

  it('leaves locked and bypassed breaths, other kinds and the unchosen as they are', () => {
    const samples = clip(-30);
    const list = listOf(
      { ...BREATH, locked: true },
      { kind: 'breath', startSample: 0, endSample: 4800, bypassed: true },
      { kind: 'sibilant', startSample: 9600, endSample: 14_400 },
    );
    expect(softenBreaths(list, samples)).toBe(list);
    const two = listOf(BREATH, { kind: 'breath', startSample: 0, endSample: 4800, confidence: 0.3 });
    expect(softenBreaths(two, samples, { minConfidence: 0.5 }).regions[0]).toBe(two.regions[0]);
    expect(softenBreaths(two, samples, { ids: [2] }).regions[1]).toBe(two.regions[1]);
    expect(softenBreaths(two, samples, { between: { startSample: 0, endSample: 100 } }).regions[1]).toBe(
      two.regions[1],
    );
  });

  it('gives the same at any level, in several channels, and does not change its input', () => {
    const samples = clip(-60);
    const copy = samples.slice();
    const plain = softenBreaths(listOf(BREATH), samples, { part: 'backing' });
    expect(samples).toEqual(copy);
    // Filtered samples are rounded to 32 bits: 1e-7 of each, far less in a mean.
    const soft = softenBreaths(listOf(BREATH), samples.map((x) => -x / 64) as Samples, { part: 'backing' });
    expect(soft.regions[0]!.gainDb).toBeCloseTo(plain.regions[0]!.gainDb, 4);
    const pair = softenBreaths(listOf(BREATH), [samples, samples], { part: 'backing' });
    expect(pair.regions[0]!.gainDb).toBeCloseTo(plain.regions[0]!.gainDb, 4);
    const empty = listOf();
    expect(softenBreaths(empty, samples)).toBe(empty);
    // Digital silence has no room to keep.
    expect(softenBreaths(listOf(BREATH), new Float32Array(at(2))).regions[0]!.gainDb).toBe(-9);
  });

  it('refuses what it cannot use', () => {
    const list = listOf(BREATH);
    const broken = clip(-30);
    broken[5] = Number.NaN;
    expect(() => softenBreaths(list, broken)).toThrow(/softenBreaths: channels\[0\]\[5\]/);
    expect(() => softenBreaths(list, new Float32Array(5))).toThrow(RangeError);
    expect(() => softenBreaths(list, undefined as never)).toThrow(TypeError);
    expect(() => softenBreaths(list, null, { part: 'solo' as never })).toThrow('part');
    expect(() => softenBreaths(list, null, { cutDb: -1 })).toThrow('cutDb');
    expect(() => softenBreaths(list, null, { cutDb: Number.NaN })).toThrow('cutDb');
    expect(() => softenBreaths(list, null, { fadeSeconds: 2 })).toThrow('fadeSeconds');
    expect(() => softenBreaths(list, null, { reachSeconds: -1 })).toThrow('reachSeconds');
    expect(() => softenBreaths(list, null, { keepRoomTone: 1 as never })).toThrow(TypeError);
    expect(() => softenBreaths(list, null, { ids: [0] })).toThrow('ids');
    expect(Object.isFrozen(DEFAULT_SOFTEN_BREATHS_OPTIONS)).toBe(true);
  });
});
