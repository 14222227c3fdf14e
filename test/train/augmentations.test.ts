import { describe, expect, it } from 'vitest';
import { augment } from '../../bench/train/augment.js';
import {
  addNoise,
  addRoom,
  changeBalance,
  type Equaliser,
  equalise,
  limitBand,
  warpBands,
} from '../../bench/train/augmentations.js';
import { BAND_CENTRES_HZ, BAND_WIDTHS_HZ } from '../../bench/train/band-scale.js';
import { classNumber } from '../../bench/train/labelled-frames.js';
import { createRandom } from '../../bench/train/random.js';
import { BAND_COUNT, HOP_SECONDS, ROW_BANDS, TOP_BAND } from '../../src/detection/detection-scale.js';

const table = (frames: number, power: (band: number, frame: number) => number) =>
  Float64Array.from({ length: frames * ROW_BANDS }, (_, i) =>
    power(i % ROW_BANDS, Math.floor(i / ROW_BANDS)),
  );
const dB = (after: number, before: number): number => 10 * Math.log10(after / before);
const FLAT: Equaliser = {
  tiltDbPerOctave: 0,
  shelfDb: 0,
  shelfHz: 1000,
  topShelfDb: 0,
  topShelfHz: 5000,
  highPassHz: 0,
  bellDb: 0,
  bellHz: 1000,
};

describe('warpBands', () => {
  it('leaves white noise white: equal density is equal at any frequency', () => {
    const powers = table(2, (band) => 3 * BAND_WIDTHS_HZ[band]!);
    warpBands(powers, 1.2);
    for (let i = 0; i < powers.length; i++)
      expect(powers[i]! / BAND_WIDTHS_HZ[i % ROW_BANDS]!).toBeCloseTo(3, 10);
  });

  it('takes nothing from the top band into another', () => {
    const powers = table(1, (band) => (band === TOP_BAND ? 1e6 : BAND_WIDTHS_HZ[band]!));
    warpBands(powers, 1.2);
    for (let band = 0; band < TOP_BAND; band++)
      expect(powers[band]! / BAND_WIDTHS_HZ[band]!).toBeCloseTo(1, 9);
  });

  it('changes nothing at a ratio of 1 and moves a peak down at a ratio above', () => {
    const same = table(1, (band) => band + 1);
    warpBands(same, 1);
    expect([...same].map((p) => Math.round(1e9 * p) / 1e9)).toEqual([...same.keys()].map((band) => band + 1));
    const peak = table(1, (band) => (band === 8 ? 1 : 0));
    warpBands(peak, BAND_CENTRES_HZ[8]! / BAND_CENTRES_HZ[7]!);
    expect(peak.indexOf(Math.max(...peak))).toBe(7);
  });
});

describe('addRoom', () => {
  it('lets an impulse die away by 60 dB in the decay time below 3.5 kHz', () => {
    const powers = table(120, (_, frame) => (frame === 0 ? 1 : 0));
    addRoom(powers, { decaySeconds: 0.4, directDb: 10 });
    const frames = Math.round(0.4 / HOP_SECONDS);
    // The decay time is a whole number of frames (75), so the fall is exact.
    expect(dB(powers[(1 + frames) * ROW_BANDS]!, powers[ROW_BANDS]!)).toBeCloseTo(-60, 6);
    expect(dB(powers[30 * ROW_BANDS + 15]!, powers[30 * ROW_BANDS]!)).toBeLessThan(-10);
  });

  it('adds to a steady sound what the ratio says', () => {
    const powers = table(600, () => 1);
    addRoom(powers, { decaySeconds: 0.2, directDb: 10 });
    expect(powers.at(-ROW_BANDS)).toBeCloseTo(1 + 0.1, 6);
  });
});

describe('changeBalance', () => {
  const targets = Int8Array.from({ length: 60 }, (_, t) =>
    t < 20 ? classNumber('voiced') : t < 40 ? classNumber('sibilant') : classNumber('silence'),
  );
  const powers = table(60, () => 1);
  changeBalance(powers, targets, { vowelDb: 10, cornerHz: 2000, consonantDb: -6 });
  const change = (frame: number, band: number): number => dB(powers[frame * ROW_BANDS + band]!, 1);

  it('brightens vowels above the corner alone, and softens consonants in all bands', () => {
    expect(change(10, 0)).toBeLessThan(0.01);
    expect(change(10, 15)).toBeGreaterThan(9.5);
    for (const band of [0, 8, 15]) expect(change(30, band)).toBeCloseTo(-6, 6);
  });

  it('leaves the rest as it is, and fades over two frames', () => {
    expect(change(50, 15)).toBeCloseTo(0, 12);
    expect(change(42, 5)).toBeCloseTo(0, 12);
    expect(change(40, 5)).toBeLessThan(0);
    expect(change(40, 5)).toBeGreaterThan(-6);
  });
});

describe('addNoise', () => {
  it('adds noise so far below the loudest frame, white where the slope is 0', () => {
    const powers = table(4000, (_, frame) => (frame === 7 ? 1 / BAND_COUNT : 0));
    addNoise(powers, { belowPeakDb: 30, slope: 0 }, createRandom(4));
    const sums = BAND_WIDTHS_HZ.map((_, band) => {
      let sum = 0;
      for (let frame = 10; frame < 4000; frame++) sum += powers[frame * ROW_BANDS + band]!;
      return sum / 3990;
    });
    // Level and loudest frame are those of the bands below the top one, which half of all clips lack.
    const total = sums.slice(0, BAND_COUNT).reduce((a, b) => a + b, 0);
    // 0.1 dB: the mean of 3990 frames errs by about 1 %, and holding fluctuations above 0.05 lifts them by 2 % at most.
    expect(Math.abs(dB(total, 0.001))).toBeLessThan(0.1);
    for (let band = 8; band < ROW_BANDS; band++)
      expect(Math.abs(dB(sums[band]! / BAND_WIDTHS_HZ[band]!, total / 7520))).toBeLessThan(0.25);
  });
});

describe('equalise', () => {
  const gain = (eq: Partial<Equaliser>, band: number): number => {
    const powers = table(1, () => 1);
    equalise(powers, { ...FLAT, ...eq });
    return dB(powers[band]!, 1);
  };

  it('does nothing when flat', () => {
    for (let band = 0; band < ROW_BANDS; band++) expect(gain({}, band)).toBe(0);
  });

  it('tilts by the decibels per octave', () => {
    const octaves = Math.log2(BAND_CENTRES_HZ[14]! / BAND_CENTRES_HZ[3]!);
    expect(gain({ tiltDbPerOctave: 2 }, 14) - gain({ tiltDbPerOctave: 2 }, 3)).toBeCloseTo(2 * octaves, 9);
  });

  it('has shelves of half their gain at the corner, a high-pass of 3 dB there, and a bell with its peak there', () => {
    const f = BAND_CENTRES_HZ[6]!;
    expect(gain({ shelfDb: 8, shelfHz: f }, 6)).toBeCloseTo(4, 9);
    expect(gain({ topShelfDb: 8, topShelfHz: f }, 6)).toBeCloseTo(4, 9);
    expect(gain({ highPassHz: f }, 6)).toBeCloseTo(-10 * Math.log10(2), 9);
    expect(gain({ bellDb: 5, bellHz: f }, 6)).toBeCloseTo(5, 9);
  });

  it('never changes a band by more than 20 dB', () => {
    expect(gain({ tiltDbPerOctave: 40 }, 15)).toBeCloseTo(20, 9);
  });
});

describe('limitBand', () => {
  it('takes away what lies above the corner and nothing below', () => {
    const powers = table(1, () => 1);
    limitBand(powers, 3400, () => 50);
    const changes = [...powers].map((power) => dB(power, 1));
    expect(changes.filter((_, band) => BAND_CENTRES_HZ[band]! <= 3400).every((change) => change === 0)).toBe(
      true,
    );
    expect(changes.at(-1)).toBeCloseTo(-50, 9);
  });
});

describe('augment', () => {
  const clip = { powers: table(200, (band, frame) => 1 + band + (frame % 7)), targets: new Int8Array(200) };

  it('leaves the clip as it is and gives finite powers of the same number', () => {
    const before = clip.powers.slice();
    const random = createRandom(2);
    for (let k = 0; k < 50; k++) {
      const changed = augment(clip, random);
      expect(changed).toHaveLength(before.length);
      expect(changed.every((power) => power > 0 && Number.isFinite(power))).toBe(true);
    }
    expect(clip.powers).toEqual(before);
  });

  it('gives the same for the same seed', () => {
    expect(augment(clip, createRandom(9))).toEqual(augment(clip, createRandom(9)));
  });
});
