import { describe, expect, it } from 'vitest';
import { addNoise, DEFAULT_NOISE_OPTIONS } from '../../src/detection/find-noise.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { analysisOf, HOP, levelsOf, phrasesOf, RATE } from './take-tables.js';

/** Frames of a take with phrases in the first and the last second of five, and power in one band between. */
const COUNT = 500;
const PHRASES = [
  [0, 100],
  [400, 500],
] as const;
const FLOOR = 1e-6;

interface Case {
  readonly regions?: readonly (readonly [number, number])[];
  readonly floor?: number;
  readonly options?: Partial<typeof DEFAULT_NOISE_OPTIONS>;
}

function noises(powerAt: (t: number) => number, { regions = [], floor = FLOOR, options = {} }: Case = {}) {
  const list = insertRegions(
    createRegionList({ sampleRateHz: RATE, lengthSamples: COUNT * HOP }),
    regions.map(([from, to]) => ({
      kind: 'sibilant' as const,
      startSample: from * HOP,
      endSample: to * HOP,
    })),
  );
  const take = analysisOf(
    levelsOf(COUNT, (t) => ({ powers: { 3: powerAt(t) } })),
    phrasesOf(COUNT, PHRASES),
    floor,
  );
  const found = addNoise(list, take, { ...DEFAULT_NOISE_OPTIONS, ...options }).regions;
  return found
    .filter(({ kind }) => kind === 'noise')
    .map(({ startSample, endSample, onsetSample, offsetSample, confidence, reason }) => ({
      frames: [startSample, onsetSample!, offsetSample!, endSample].map((sample) => sample / HOP),
      confidence,
      reason,
    }));
}
const frames = (...of: Parameters<typeof noises>): number[][] => noises(...of).map((noise) => noise.frames);
/** 30 dB over the floor in some frames. */
const within =
  (...spans: readonly (readonly [number, number])[]) =>
  (t: number): number =>
    spans.some(([from, to]) => t >= from && t < to) ? 1e-3 : 0;

describe('a noise between phrases', () => {
  it('has its onset and offset where it stands out, 0.1 s for fades beside them, and what it stands over', () => {
    const [noise, ...more] = noises(within([200, 250]), { options: { aboveDb: 20 } });
    expect(more).toEqual([]);
    expect(noise!.frames).toEqual([190, 200, 250, 260]);
    const { rule, numbers } = noise!.reason;
    expect([rule, Object.keys(numbers)]).toEqual(['findNoise', ['aboveDb']]);
    expect(Object.values(numbers)[0]).toBeCloseTo(30, 9);
    // 10 of the 20 dB that lead from 0.5 to 0.95.
    expect(noise!.confidence).toBeCloseTo(0.725, 9);
    expect(noises(within([200, 250]), { options: { aboveDb: 6 } })[0]!.confidence).toBeCloseTo(0.95, 9);
    expect(noises(within([200, 250]), { options: { aboveDb: 31 } })).toEqual([]);
    expect(Object.values(noises(within([200, 250]), { floor: 0 })[0]!.reason.numbers)[0]).toBe(200);
  });

  it('lasts for what is asked, and goes over gaps of what is asked', () => {
    const options = { leastSeconds: 0.2, joinSeconds: 0.05 };
    expect(frames(within([200, 219]), { options })).toEqual([]);
    expect(frames(within([200, 220]), { options })).toEqual([[190, 200, 220, 230]]);
    expect(frames(within([200, 210], [215, 230]), { options })).toEqual([[190, 200, 230, 240]]);
    expect(frames(within([200, 220], [226, 250]), { options }).map(([, on, off]) => [on, off])).toEqual([
      [200, 220],
      [226, 250],
    ]);
  });

  it('leaves its neighbours their room: it ends where another begins, and fades where none does', () => {
    const options = { leastSeconds: 0.1, joinSeconds: 0.05 };
    // Fifteen frames apart: ten for the first, five for the second. Six apart: all for the first.
    expect(frames(within([200, 220], [235, 250]), { options })).toEqual([
      [190, 200, 220, 230],
      [230, 235, 250, 260],
    ]);
    expect(frames(within([200, 220], [226, 250]), { options })).toEqual([
      [190, 200, 220, 226],
      [226, 226, 250, 260],
    ]);
  });

  it('leaves alone what phrases hold before and after them, and regions with a margin', () => {
    const options = { holdAfterSeconds: 0.3, holdBeforeSeconds: 0.25, marginSeconds: 0.05 };
    const all = within([100, 400]);
    expect(frames(all, { options })).toEqual([[130, 130, 375, 375]]);
    expect(frames(all, { options, regions: [[200, 210]] })).toEqual([
      [130, 130, 195, 195],
      [215, 215, 375, 375],
    ]);
  });

  it('is none where it is the skirt of what is left alone: short, and loudest beside that', () => {
    const options = { holdAfterSeconds: 0.2, holdBeforeSeconds: 0.2, leastSeconds: 0.05 };
    /** A noise with its peak in one frame. */
    const peaked =
      (from: number, to: number, peak: number) =>
      (t: number): number =>
        t === peak ? 2e-3 : within([from, to])(t);
    const count = (...of: [number, number, number]): number => frames(peaked(...of), { options }).length;
    expect([120, 121, 122].map((peak) => count(120, 130, peak))).toEqual([0, 0, 1]);
    expect([377, 378, 379].map((peak) => count(370, 380, peak))).toEqual([1, 0, 0]);
    // From 0.15 s on it is a noise of its own, and so is one that touches nothing.
    expect([134, 135].map((to) => count(120, to, 120))).toEqual([0, 1]);
    expect(count(121, 131, 121)).toBe(1);
    expect(count(369, 379, 378)).toBe(1);
    expect(frames(peaked(120, 130, 120), { options: { ...options, wholePauses: true } })).toHaveLength(1);
  });

  it('is the whole pause where that is asked for, but nothing without a phrase', () => {
    const options = { holdAfterSeconds: 0.2, holdBeforeSeconds: 0.2, wholePauses: true };
    expect(frames(() => 0, { options })).toEqual([[120, 120, 380, 380]]);
    const list = createRegionList({ sampleRateHz: RATE, lengthSamples: COUNT * HOP });
    const take = analysisOf(
      levelsOf(COUNT, () => ({ powers: { 3: 1 } })),
      phrasesOf(COUNT),
      FLOOR,
    );
    expect(addNoise(list, take, { ...DEFAULT_NOISE_OPTIONS, ...options })).toBe(list);
  });
});
