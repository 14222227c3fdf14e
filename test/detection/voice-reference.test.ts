import { describe, expect, it } from 'vitest';
import {
  AHEAD_SLOTS,
  BAND_COUNT,
  FIRST_CEILING_INPUT,
  INPUT_COUNT,
  PAST_SLOTS,
  SLOT_FRAMES,
} from '../../src/detection/detection-scale.js';
import { createRowStore, type RowStore } from '../../src/detection/row-store.js';
import { createVoiceReference } from '../../src/detection/voice-reference.js';
import { gaussian, mulberry32 } from '../lib/random.js';

type Rows = readonly (readonly number[])[];

/** Inputs of all rows, the reference advanced after every `step` rows; rows no longer needed are dropped at once. */
function inputsOf(rows: Rows, step = rows.length, usableBands = BAND_COUNT): number[][] {
  const bands = createRowStore(BAND_COUNT);
  const inputs = createRowStore(INPUT_COUNT);
  const reference = createVoiceReference(usableBands);
  rows.forEach((row, k) => {
    add(bands, row);
    if ((k + 1) % step !== 0) return;
    reference.advance(bands, false, inputs);
    bands.dropBefore(reference.neededBand);
  });
  reference.advance(bands, true, inputs);
  return Array.from({ length: inputs.end }, (_, row) => [
    ...inputs.data.subarray(inputs.at(row), inputs.at(row) + INPUT_COUNT),
  ]);
}

function add(store: RowStore, row: readonly number[]): void {
  const at = store.add();
  store.data.set(row, at);
}

/** Powers of −20 to −90 dB in stretches of loud and soft, like phrases: all of them over 100 dB above the absolute floor of −200 dB. */
function phrases(rowCount: number, seed = 1): number[][] {
  const normal = gaussian(mulberry32(seed));
  return Array.from({ length: rowCount }, (_, row) => {
    const soft = Math.floor(row / 40) % 3 === 0;
    return Array.from(
      { length: BAND_COUNT },
      (_, band) => 10 ** ((-35 - band - (soft ? 30 : 0) + Math.max(-2.5, Math.min(2.5, normal())) * 6) / 10),
    );
  });
}

function greatestDifference(a: Rows, b: Rows, from = 0, to = INPUT_COUNT): number {
  expect(a.length).toBe(b.length);
  let most = 0;
  a.forEach((row, k) => {
    for (let i = from; i < to; i++) most = Math.max(most, Math.abs(row[i]! - b[k]![i]!));
  });
  return most;
}

describe('the voice reference', () => {
  it('takes no notice of gain: a clip 40 dB louder or softer gives the same inputs within 1e-6', () => {
    // The absolute floor, 1e-20, adds at most 4.3e-20/p dB to a power p; here p ≥ 1e-9·1e-4.
    const rows = phrases(1500);
    const inputs = inputsOf(rows);
    for (const gainDb of [-40, -13.7, 6, 40]) {
      const gain = 10 ** (gainDb / 10);
      const louder = inputsOf(rows.map((row) => row.map((power) => power * gain)));
      expect(greatestDifference(inputs, louder), `${gainDb} dB`).toBeLessThan(1e-6);
    }
    // It does see what is not a gain of the whole clip.
    const later = inputsOf(rows.map((row, k) => row.map((power) => power * (k > 700 ? 4 : 1))));
    expect(greatestDifference(inputs, later)).toBeGreaterThan(0.1);
  });

  it('lets a filter over the whole clip cancel, where the frames of the voice share one spectrum', () => {
    // Each frame is one spectrum times a level: a filter then scales the weight of every frame alike.
    const levels = phrases(900).map((row) => row[0]!);
    const shape = Array.from({ length: BAND_COUNT }, (_, band) => 10 ** (-0.2 * band));
    const filter = Array.from({ length: BAND_COUNT }, (_, band) => 10 ** (1.2 * Math.sin(band)));
    const rows = levels.map((level) => shape.map((share) => level * share));
    const filtered = rows.map((row) => row.map((power, band) => power * filter[band]!));
    const inputs = inputsOf(rows);
    const after = inputsOf(filtered);
    expect(greatestDifference(inputs, after, 0, 16)).toBeLessThan(1e-6);
    expect(greatestDifference(inputs, after, 20, INPUT_COUNT)).toBeLessThan(1e-6);
    // The colour of the voice is told to the classifier, and is what the filter changed.
    expect(greatestDifference(inputs, after, 16, 20)).toBeGreaterThan(0.1);
  });

  it('lets a shelf above 3 kHz cancel for frames of any spectrum, since it does not touch what weighs them', () => {
    // Bands 9 to 15 are also exactly the highest group of noise floors.
    const rows = phrases(900, 3);
    const shelved = rows.map((row) => row.map((power, band) => (band >= 9 ? power * 10 ** 1.2 : power)));
    const inputs = inputsOf(rows);
    const after = inputsOf(shelved);
    expect(greatestDifference(inputs, after, 0, 16)).toBeLessThan(1e-6);
    // Of the groups of loudest noise, input 25 is 2.5 to 4 kHz: the shelf turns part of it.
    expect(greatestDifference(inputs, after, 20, 25)).toBeLessThan(1e-6);
    expect(greatestDifference(inputs, after, 26, INPUT_COUNT)).toBeLessThan(1e-6);
  });

  it('compares with the loudest 32 ms of noise near by, which a click is too short to be', () => {
    // A steady −60 dB in every band, 20 frames of hiss at −20 dB in bands 13 to 15 (5.2 to 7.6 kHz), and one frame at 0 dB there.
    const inGroup = (band: number): boolean => band >= 13;
    const rows = Array.from({ length: 640 }, (_, k) =>
      Array.from({ length: BAND_COUNT }, (_, band) => {
        if (!inGroup(band)) return 1e-6;
        return k >= 100 && k < 120 ? 1e-2 : 1e-6;
      }),
    );
    const input = FIRST_CEILING_INPUT + 3;
    const inputs = inputsOf(rows);
    // The hiss is its own measure: six whole frames of it, so 0 dB; what is 40 dB softer is held at −40 dB.
    expect(inputs[110]![input]).toBeCloseTo(0, 9);
    expect(inputs[300]![input]).toBeCloseTo(-4, 9);
    // Other groups of bands have measures of their own: there the steady sound is the loudest.
    expect(inputs[300]![input - 1]).toBeCloseTo(0, 9);
    // One frame at 0 dB counts by a sixth: the mean of it and of five at −60 dB, below −7 dB.
    const clicked = rows.map((row, k) => row.map((power, band) => (k === 200 && inGroup(band) ? 1 : power)));
    const measure = 10 * Math.log10((1 + 5e-6) / 6);
    expect(inputsOf(clicked)[110]![input]).toBeCloseTo((-20 - measure) / 10, 9);
    expect(inputsOf(clicked)[200]![input]).toBeCloseTo(-measure / 10, 9);
    // Beyond the reach of the references it is forgotten.
    const far = (100 / SLOT_FRAMES + PAST_SLOTS + 3) * SLOT_FRAMES;
    const longer = [...rows, ...Array.from({ length: 1200 }, () => new Array<number>(BAND_COUNT).fill(1e-6))];
    expect(inputsOf(longer)[Math.ceil(far)]![input]).toBeCloseTo(0, 9);
  });

  it('gives a steady sound 0 in every band, and its floor as its level', () => {
    const steady = Array.from({ length: 200 }, () =>
      Array.from({ length: BAND_COUNT }, (_, band) => 10 ** (-4 - band / 5)),
    );
    for (const row of inputsOf(steady)) {
      for (const i of [0, 5, 15, 20, 21, 22, 23]) expect(Math.abs(row[i]!)).toBeLessThan(1e-9);
      // Bands fall by 2 dB each: the mean of the first two stands 7·2 dB over the mean of all sixteen, by hand.
      expect(row[16]).toBeCloseTo(1.4, 9);
      expect(row[19]).toBeCloseTo(-(12.5 - 7.5) * 0.2, 9);
    }
  });

  it('averages levels by amplitude between 300 Hz and 2.5 kHz, so that vowels count and silence does not', () => {
    // Two kinds of frames by hand: voice at 0 dB and a hush at −80 dB, in equal number. Weights 1 : 1e-4.
    const rows = Array.from({ length: 320 }, (_, k) =>
      new Array<number>(BAND_COUNT).fill(k % 2 === 0 ? 1 : 1e-8),
    );
    const reference = (0 * 1 + -80 * 1e-4) / (1 + 1e-4);
    const inputs = inputsOf(rows);
    expect(inputs[100]![7]).toBeCloseTo((0 - reference) / 10, 7);
    // −80 dB is held at −50 dB.
    expect(inputs[101]![7]).toBe(-5);
    // Band 12 alone loud: no voice, so almost no weight.
    const hissing = rows.map((row, k) => row.map((power, band) => (k % 2 === 1 && band === 12 ? 10 : power)));
    const hissReference = (0 * 1 + 10 * 1e-4) / (1 + 1e-4);
    expect(inputsOf(hissing)[101]![12]).toBeCloseTo((10 - hissReference) / 10, 7);
  });

  it('is at any time the weighted mean, worked out anew, of all frames of its slots, and of no other', () => {
    // By the definition: levels in dB of 70 slots back to 22 ahead, weighted by the amplitude of bands 1 to 7. The order of adding costs
    // 1e-12 at most.
    const rows = phrases(SLOT_FRAMES * 260 + 5, 3);
    const weights = rows.map((row) => Math.sqrt(row.slice(1, 8).reduce((sum, power) => sum + power, 0)));
    const inputs = inputsOf(rows, 40);
    const meanLevel = (slot: number, band: number): number => {
      const from = Math.max(0, slot - PAST_SLOTS) * SLOT_FRAMES;
      const to = Math.min(rows.length, (slot + AHEAD_SLOTS + 1) * SLOT_FRAMES);
      let weight = 0;
      let sum = 0;
      for (let t = from; t < to; t++) {
        weight += weights[t]!;
        sum += weights[t]! * 10 * Math.log10(rows[t]![band]!);
      }
      return sum / weight;
    };
    for (let slot = 0; slot <= 260; slot++)
      for (const band of [0, 9, BAND_COUNT - 1]) {
        const t = slot * SLOT_FRAMES + (slot % 5);
        const relative = (10 * Math.log10(rows[t]![band]!) - meanLevel(slot, band)) / 10;
        const held = Math.max(-5, Math.min(4, relative));
        expect(inputs[t]![band], `slot ${slot}, band ${band}`).toBeCloseTo(held, 9);
      }
  });

  it('looks 70 slots back and 22 ahead, and no further', () => {
    const rows = phrases(16 * 130, 9);
    const inputs = inputsOf(rows);
    const slot = 80;
    const changed = (atSlot: number): boolean => {
      const other = rows.map((row, k) =>
        Math.floor(k / SLOT_FRAMES) === atSlot ? row.map((power) => power * 50) : row,
      );
      return greatestDifference([inputs[slot * SLOT_FRAMES]!], [inputsOf(other)[slot * SLOT_FRAMES]!]) > 0;
    };
    expect(changed(slot - PAST_SLOTS)).toBe(true);
    expect(changed(slot - PAST_SLOTS - 1)).toBe(false);
    expect(changed(slot + AHEAD_SLOTS)).toBe(true);
    expect(changed(slot + AHEAD_SLOTS + 1)).toBe(false);
  });

  it('gives the same inputs however the rows arrive, bit for bit, for longer than it remembers', () => {
    // Over 32 s, when what lies before the last 6 s has long been forgotten.
    const rows = phrases(6003, 5);
    const whole = inputsOf(rows);
    expect(whole.length).toBe(6003);
    for (const step of [1, 7, 16, 250])
      expect(greatestDifference(inputsOf(rows, step), whole), `${step} rows at a time`).toBe(0);
  });

  it('repeats the highest band that the sample rate reaches', () => {
    const rows = phrases(300, 6).map((row) => row.map((power, band) => (band < 10 ? power : 0)));
    for (const row of inputsOf(rows, 300, 10))
      for (let band = 10; band < BAND_COUNT; band++) expect(row[band]).toBe(row[9]);
  });

  it('stays finite in silence', () => {
    for (const row of inputsOf(Array.from({ length: 50 }, () => new Array<number>(BAND_COUNT).fill(0))))
      expect(row.every(Number.isFinite)).toBe(true);
  });
});
