import { describe, expect, it } from 'vitest';
import { detectCymbals } from '../../src/detection/detect-cymbals.js';
import { DEFAULT_TAME_CYMBALS_OPTIONS } from '../../src/gain/cymbal-options.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { tameCymbals } from '../../src/gain/tame-cymbals.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { setBypassed, setLocked } from '../../src/regions/set-flags.js';
import type { Samples } from '../../src/signal/samples.js';

const RATE = 48_000;
/** Gain in dB at a sample. */
const dbAt = (of: RegionList, sample: number): number => 20 * Math.log10(gainAt(of, sample));
const at = (seconds: number): number => Math.round(seconds * RATE);

interface Tone {
  readonly atSeconds: number;
  readonly levelDb: number;
  /** Decay in dB a second. */
  readonly slopeDb: number;
}

/** Decaying sines at 8 kHz, whose levels are known in closed form. Silence lies between them where they are cut off. */
function tones(list: readonly Tone[], seconds: number): Samples {
  const out = new Float32Array(at(seconds));
  for (const { atSeconds, levelDb, slopeDb } of list)
    for (let i = at(atSeconds); i < out.length; i++) {
      const db = levelDb - slopeDb * (i / RATE - atSeconds);
      // Then silence, so that no stroke hears the one before.
      if (db < levelDb - 50) break;
      out[i] = out[i]! + 10 ** (db / 20) * Math.sin((Math.PI / 3) * i + 0.1);
    }
  return out;
}

function listOf(drafts: readonly RegionDraft[], seconds: number): RegionList {
  const empty = createRegionList({ sampleRateHz: RATE, lengthSamples: at(seconds) });
  const more = drafts.map((draft) => ({
    kind: 'cymbal' as const,
    onsetSample: draft.startSample,
    offsetSample: draft.endSample,
    ...draft,
  }));
  return insertRegions(empty, more);
}

/** Four strokes half a second apart that fall by 100 dB a second, so that none reaches the next. */
const LEVELS = [-20, -26, -14, -20, -29] as const;
const samples = tones(
  LEVELS.map((levelDb, k) => ({ atSeconds: 0.5 + 0.5 * k, levelDb, slopeDb: 120 })),
  3.5,
);
const list = listOf(
  LEVELS.map((_, k) => ({ startSample: at(0.5 + 0.5 * k), endSample: at(0.75 + 0.5 * k) })),
  3.5,
);
const gains = ({ regions }: RegionList): number[] => regions.map(({ gainDb }) => Number(gainDb.toFixed(2)));

describe('how much each stroke is cut', () => {
  // Strokes of one shape differ in level by exactly what they were made to differ by; only rounding to 32 bits is between.
  it('the loud ones down to the median, the others not at all', () => {
    expect(gains(tameCymbals(list, samples))).toEqual([0, 0, -6, 0, 0]);
    expect(gains(tameCymbals(list, samples, { targetDb: -3 }))).toEqual([-3, 0, -6, -3, 0]);
    expect(gains(tameCymbals(list, samples, { targetDb: 2 }))).toEqual([0, 0, -4, 0, 0]);
  });

  it('never by more than the most and never by less than the least', () => {
    expect(gains(tameCymbals(list, samples, { mostCutDb: 4 }))).toEqual([0, 0, -4, 0, 0]);
    expect(gains(tameCymbals(list, samples, { leastCutDb: 2 }))).toEqual([-2, -2, -6, -2, -2]);
  });

  it('at any level of the clip, and in either polarity, the same', () => {
    const expected = gains(tameCymbals(list, samples));
    expect(
      gains(
        tameCymbals(
          list,
          samples.map((x) => -x / 100),
        ),
      ),
    ).toEqual(expected);
    expect(gains(tameCymbals(list, [samples, samples.map((x) => x * 0.3)]))).toEqual(expected);
  });

  it('with a reason that gives its numbers', () => {
    const { reason } = tameCymbals(list, samples).regions[2]!;
    expect(reason.rule).toBe('tameCymbals');
    const { levelDbfs, medianDbfs, cutDb, gainDb, carriedDb } = reason.numbers;
    expect(levelDbfs! - medianDbfs!).toBeCloseTo(6, 3);
    // A sine's power is 3.01 dB under its amplitude; over the first 4 ms of a fall of 120 dB a second the mean is 0.24 dB
    // under the crest, and a filter at 4 kHz (two sections) takes 0.5 dB at 8 kHz at most.
    expect(levelDbfs!).toBeGreaterThan(-14 - 3.01 - 0.24 - 0.55);
    expect(levelDbfs!).toBeLessThan(-14 - 3.01);
    expect([cutDb, gainDb, carriedDb]).toEqual([-gainDb!, gainDb, 0]);
  });

  it('only where it is chosen: not locked, not bypassed, not of another kind, not without being named', () => {
    const loud = list.regions[2]!.id;
    // Without it the median of −20, −26, −20 and −29 is −23.
    for (const left of [setLocked(list, loud, true), setBypassed(list, loud, true)]) {
      const tamed = tameCymbals(left, samples);
      expect(gains(tamed)).toEqual([-3, 0, 0, -3, 0]);
      expect(tamed.regions[2]).toBe(left.regions[2]);
    }
    expect(tameCymbals(list, samples, { kinds: ['sibilant'] })).toBe(list);
    // Of the first two alone the median lies between them.
    const ids = list.regions.slice(0, 2).map(({ id }) => id);
    expect(gains(tameCymbals(list, samples, { ids }))).toEqual([-3, 0, 0, 0, 0]);
  });
});

describe('the shape of a cut', () => {
  const tamed = tameCymbals(list, samples);
  const cut = tamed.regions[2]!;
  const onset = at(1.5);

  it('is complete where the attack begins, and begins 3 ms before', () => {
    expect([cut.startSample, cut.fadeInSamples]).toEqual([onset - 144, 144]);
    expect(dbAt(tamed, onset - 145)).toBe(0);
    expect(dbAt(tamed, onset)).toBeCloseTo(cut.gainDb, 9);
  });

  it('is held for 20 ms, then comes back straight in decibels until the end', () => {
    const held = onset + at(0.02);
    expect(cut.endSample - cut.fadeOutSamples).toBe(held);
    expect(cut.endSample).toBe(list.regions[2]!.endSample);
    expect(cut.fadeShape).toBe('decibel');
    expect(dbAt(tamed, held)).toBeCloseTo(cut.gainDb, 9);
    // Halfway, half of it: 10^(x/20) is straight in dB.
    expect(dbAt(tamed, (held + cut.endSample) / 2)).toBeCloseTo(cut.gainDb / 2, 3);
    expect(dbAt(tamed, cut.endSample)).toBe(0);
  });

  it('leaves everything else as it was, to the bit', () => {
    const out = renderGain(samples, tamed);
    const strayed = out.findIndex(
      (x, i) => (i < cut.startSample || i >= cut.endSample) && !Object.is(x, samples[i]),
    );
    expect(strayed).toBe(-1);
  });

  it('is the same when it is asked for again', () => {
    expect(tameCymbals(tamed, samples)).toEqual(tamed);
  });

  it('is the same when it is asked for again, where hands have moved the region off its stroke', () => {
    const moved = listOf(
      [{ startSample: at(0.1), endSample: at(0.2), onsetSample: at(0.5), offsetSample: at(0.75) }],
      3.5,
    );
    const two = [
      { atSeconds: 0.1, levelDb: -30, slopeDb: 120 },
      { atSeconds: 0.5, levelDb: -20, slopeDb: 120 },
    ];
    const softer = tones(two, 3.5);
    const once = tameCymbals(moved, softer, { leastCutDb: 3 });
    expect(once.regions[0]).toMatchObject({ startSample: at(0.1), endSample: at(0.2), gainDb: -3 });
    expect(tameCymbals(once, softer, { leastCutDb: 3 })).toEqual(once);
  });

  it('ends where the region does, if no offset was measured', () => {
    const draft = { startSample: at(0.5), endSample: at(0.75) };
    const measured = tameCymbals(listOf([draft], 3.5), samples, { leastCutDb: 3 }).regions[0]!;
    const open = tameCymbals(listOf([{ ...draft, offsetSample: null }], 3.5), samples, { leastCutDb: 3 });
    expect(open.regions[0]).toEqual({ ...measured, offsetSample: null });
  });

  it('outlasts a region that ends before the sound has fallen twice as far as the gain comes back', () => {
    // 40 dB a second: 12 dB take 0.3 s, but the region is 0.1 s long.
    const slow = tones([{ atSeconds: 0.5, levelDb: -10, slopeDb: 40 }], 2);
    const short = listOf([{ startSample: at(0.5), endSample: at(0.6) }], 2);
    const [region] = tameCymbals(short, slow, { leastCutDb: 6 }).regions;
    // The level is read over 4 ms at the crest and 8 ms before the place: the fall is 40 dB a second of 2 ms less, to 1 ms.
    expect(region!.endSample / RATE).toBeGreaterThan(0.8);
    expect(region!.endSample / RATE).toBeLessThan(0.81);
  });
});

describe('strokes that touch', () => {
  // A ring of 15 dB a second that the next stroke, equally loud, cuts off after 0.2 s, and so on.
  const ringing = tones(
    [0, 1, 2].map((k) => ({ atSeconds: 0.5 + 0.2 * k, levelDb: -20, slopeDb: 15 })),
    4,
  );
  const touching = (more: Partial<Region> = {}): RegionList =>
    listOf(
      [0, 1, 2].map((k) => ({
        startSample: at(0.5 + 0.2 * k),
        endSample: at(k < 2 ? 0.7 + 0.2 * k : 3),
        ...(k === 1 ? more : {}),
      })),
      4,
    );

  it('hand over what half the fall of the ring has not paid back, and swell nowhere', () => {
    const first = touching().regions[0]!.id;
    const only = { ids: touching().regions.map(({ id }) => id), targetDb: -60, mostCutDb: 6 };
    const tamed = tameCymbals(touching(), ringing, only);
    expect(gains(tamed)).toEqual([-6, -6, -6]);
    // A cut of the first alone; the others get what is left of it.
    const loud = ringing.map((x, i) => (i < at(0.7) ? 8 * x : x));
    const handed = tameCymbals(touching(), loud);
    const [a, b, c] = handed.regions as [Region, Region, Region];
    expect(a.id).toBe(first);
    // The rings add up, so the first is not 18 dB over the median, yet more than 6.
    expect(a.gainDb).toBe(-6);
    // The first falls by 15 dB a second over 0.2 s less the 8 + 4 ms that levels are read over: 2.9 dB, half of it 1.45.
    expect(b.gainDb).toBeGreaterThan(-6 + 1.3);
    expect(b.gainDb).toBeLessThan(-6 + 1.6);
    const { carriedDb } = b.reason.numbers;
    expect(carriedDb).toBe(b.gainDb);
    expect(c.gainDb).toBeGreaterThan(b.gainDb);
    expect(a.endSample).toBe(b.startSample);
    expect(b.fadeInSamples).toBe(0);
    // The gain arrives at the second's where the second begins, with no step.
    expect(dbAt(handed, at(0.7) - 1)).toBeCloseTo(b.gainDb, 3);
    expect(dbAt(handed, at(0.7))).toBeCloseTo(b.gainDb, 9);
  });

  it('come back whole before a region that is not theirs', () => {
    const other = setLocked(touching(), touching().regions[1]!.id, true);
    const loud = ringing.map((x, i) => (i < at(0.7) ? 8 * x : x));
    const tamed = tameCymbals(other, loud, { leastCutDb: 6 });
    expect(tamed.regions[1]).toEqual(other.regions[1]);
    expect(dbAt(tamed, at(0.7) - 1)).toBeCloseTo(0, 2);
    expect(() => checkRegionList(tamed)).not.toThrow();
  });

  it('give way to the fade of the next where they are not cut themselves', () => {
    const loud = ringing.map((x, i) => (i >= at(0.9) ? 8 * x : x));
    const tamed = tameCymbals(touching(), loud);
    const [, b, c] = tamed.regions as [Region, Region, Region];
    expect(b.gainDb).toBe(0);
    expect([c.startSample, c.fadeInSamples]).toEqual([at(0.9) - 144, 144]);
    expect(b.endSample).toBe(c.startSample);
    expect(tameCymbals(tamed, loud)).toEqual(tamed);
  });
});

describe('edges of what it takes', () => {
  it('an empty list, silence and a clip of a single stroke', () => {
    const empty = createRegionList({ sampleRateHz: RATE, lengthSamples: 0 });
    expect(tameCymbals(empty, new Float32Array(0))).toBe(empty);
    const silent = listOf([{ startSample: 0, endSample: 100 }], 1);
    expect(gains(tameCymbals(silent, new Float32Array(RATE)))).toEqual([0]);
    const one = tones([{ atSeconds: 0, levelDb: -10, slopeDb: 100 }], 1);
    const cut = tameCymbals(silent, one, { leastCutDb: 3 }).regions[0]!;
    expect([cut.startSample, cut.fadeInSamples, cut.gainDb]).toEqual([0, 0, -3]);
  });

  it('a region made by hand keeps its start and gets a short fade inside', () => {
    const byHand = listOf(
      [{ startSample: at(0.5), endSample: at(0.7), onsetSample: null, offsetSample: null }],
      3.5,
    );
    const tamed = tameCymbals(byHand, samples, { leastCutDb: 3 });
    expect([tamed.regions[0]!.startSample, tamed.regions[0]!.fadeInSamples]).toEqual([at(0.5), 48]);
    expect(tameCymbals(tamed, samples, { leastCutDb: 3 })).toEqual(tamed);
  });

  it('whatever the detector finds gives a sound list', () => {
    const found = detectCymbals(samples, { sampleRateHz: RATE });
    expect(found.regions.length).toBe(LEVELS.length);
    const tamed = tameCymbals(found, samples, { leastCutDb: 6, holdSeconds: 1, fadeInSeconds: 0.1 });
    expect(() => checkRegionList(tamed)).not.toThrow();
    for (const region of tamed.regions) expect(region.gainDb).toBe(-6);
  });

  it('and refuses clips of another length, NaN and settings out of range', () => {
    expect(() => tameCymbals(list, new Float32Array(3))).toThrow(/^tameCymbals: channels.length must equal/);
    expect(() =>
      tameCymbals(
        list,
        samples.map((x, i) => (i === 7 ? Number.NaN : x)),
      ),
    ).toThrow(/\[7\] must be finite/);
    for (const bad of [
      { mostCutDb: -1 },
      { leastCutDb: 7 },
      { targetDb: Number.NaN },
      { returnShare: 0 },
      { holdSeconds: 2 },
      { fadeInSeconds: 1 },
    ])
      expect(() => tameCymbals(list, samples, bad)).toThrow(/^tameCymbals: \w+ must/);
    expect(Object.isFrozen(DEFAULT_TAME_CYMBALS_OPTIONS)).toBe(true);
  });
});
