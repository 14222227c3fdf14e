import { describe, expect, it } from 'vitest';
import { BAND_EDGES_HZ, INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import { pushContext } from '../../src/detection/event-context.js';
import { EVENT_MEASURE_COUNT, eventMeasures, gapFrames } from '../../src/detection/event-measures.js';
import type { FrameTables } from '../../src/detection/frame-tables.js';

const BURST = 4;
const HOP = 256 / 48_000;
const power = (dB: number): number => 10 ** (dB / 10);
const level = (value: number): number => 10 * Math.log10(value);

/** What differs from a quiet frame. */
interface Frame {
  readonly high?: number;
  readonly low?: number;
  /** Probabilities of voice, silence, s, f, burst and breath. */
  readonly kinds?: readonly number[];
  /** Added to the place of each input, which makes its value. */
  readonly input?: number;
}

/** Share of a frame's high power that lies in the upper one of the two bands that carry it. */
const upperShare = (t: number): number => 0.1 + 0.01 * t;
/** Power between the low and the high bands, in every frame. */
const MIDDLE = power(-50);

/** High and low power in dB, as far as a logarithm can hold them apart from LEAST_POWER: above −120 dB. */
function tablesOf(rowCount: number, frames: Readonly<Record<number, Frame>>): FrameTables {
  const bands = new Float64Array(rowCount * ROW_BANDS);
  const track = new Float64Array(rowCount * 6);
  const inputs = new Float64Array(rowCount * INPUT_COUNT);
  for (let t = 0; t < rowCount; t++) {
    const { high = -60, low = -50, kinds = [0.3, 0.7, 0, 0, 0, 0], input = 1000 } = frames[t] ?? {};
    bands[t * ROW_BANDS + 1] = power(low);
    bands[t * ROW_BANDS + 6] = MIDDLE;
    bands[t * ROW_BANDS + 12] = (1 - upperShare(t)) * power(high);
    bands[t * ROW_BANDS + 14] = upperShare(t) * power(high);
    track.set(kinds, t * 6);
    for (let i = 0; i < INPUT_COUNT; i++) inputs[t * INPUT_COUNT + i] = i + input;
  }
  return { rowCount, bands, track, inputs };
}

/** A burst of ten frames from frame 20 on, loudest at frame 23, with a core of frames 21 to 25. */
const HIGH = { 17: -58, 18: -55, 19: -50, 20: -40, 21: -36, 22: -31, 23: -30, 24: -33, 25: -36, 26: -39 };
const FALL = { 27: -44, 28: -46, 29: -52, 30: -57, 31: -59, 37: -55, 38: -45 };
/** The first and the last frame that are read for what stands before and after, and those just beyond. */
const BESIDE = { 9: -70, 10: -65, 39: -64, 40: -75 };
const LOW: Readonly<Record<number, number>> = {
  9: -20,
  20: -41,
  21: -15,
  23: -45,
  28: -12,
  39: -5,
  40: 5,
};

function burst(changes: Readonly<Record<number, Frame>> = {}): FrameTables {
  const frames: Record<number, Frame> = {};
  for (const [t, high] of Object.entries({ ...HIGH, ...FALL, ...BESIDE })) frames[Number(t)] = { high };
  for (const [t, low] of Object.entries(LOW)) frames[Number(t)] = { ...frames[Number(t)], low };
  for (let i = 0; i < 10; i++)
    frames[20 + i] = {
      ...frames[20 + i],
      kinds: [0.02, 0.03, 0.1 + 0.01 * i, 0.2, 0.7 - 0.02 * i, 0.01 * i],
      ...(i >= 1 && i <= 5 ? { input: 0.1 * i } : {}),
    };
  // More of an s than any frame of the event, but beside it.
  for (const t of [19, 30]) frames[t] = { ...frames[t], kinds: [0.3, 0.7, 0.5, 0, 0.9, 0] };
  frames[13] = { kinds: [0.2, 0.2, 0, 0, 0, 0.6] };
  frames[40] = { ...frames[40], kinds: [0.25, 0.25, 0.5, 0, 0, 0] };
  for (const [t, change] of Object.entries(changes)) frames[Number(t)] = { ...frames[Number(t)], ...change };
  return tablesOf(60, frames);
}

const SPAN = { start: 20, end: 30, class: BURST };
// Sums of under a hundred numbers and logarithms to a few roundings of a double, of numbers up to 65: 1e-11.
const close = (actual: ArrayLike<number>, from: number, expected: readonly number[]): void => {
  expected.forEach((value, i) => {
    expect(Math.abs((actual[from + i] as number) - value), `measure ${from + i}`).toBeLessThan(1e-11);
  });
};

describe('the measures of an event', () => {
  const measured = () => eventMeasures(burst(), SPAN);

  it('are as many as they say', () => {
    expect(measured()).toHaveLength(EVENT_MEASURE_COUNT);
  });

  it('begin with three times the mean of each kind, over the event and over its core, and twice the most of s and burst', () => {
    // Of 0 to 9 the mean is 4.5, of 1 to 5 it is 3.
    close(measured(), 0, [0.06, 0.09, 3 * 0.145, 0.6, 3 * 0.61, 3 * 0.045]);
    close(measured(), 6, [3 * 0.13, 0.6, 3 * 0.64, 3 * 0.03]);
    close(measured(), 10, [2 * 0.19, 2 * 0.7]);
  });

  it('tell both lengths in octaves, how far the core lies under its peak, and how it wavers', () => {
    close(measured(), 12, [Math.log2((10 * HOP) / 0.08), Math.log2((5 * HOP) / 0.06)]);
    // Under the peak by 6, 1, 0, 3 and 6 dB; steps of 5, 1, 3 and 3 dB.
    close(measured(), 14, [16 / 5 / 3, 12 / 4 / 2]);
  });

  it('tell the steepest rise and fall over two frames', () => {
    // From frame 18 to frame 20 it rises from −55 to −40, from 28 to 30 it falls from −46 to −57.
    close(measured(), 16, [1.5, 1.1]);
    // The first and the last rise and fall that are looked at, and those just beyond.
    const early = burst({ 14: { high: -90 }, 15: { high: -82 }, 16: { high: -78 } });
    close(eventMeasures(early, SPAN), 16, [(-58 + 82) / 10]);
    const late = burst({ 32: { high: -57 }, 33: { high: -50 }, 34: { high: -77 }, 35: { high: -100 } });
    close(eventMeasures(late, SPAN), 17, [(-57 + 77) / 10]);
    // No more than 30 dB count.
    close(eventMeasures(burst({ 21: { high: -90 }, 25: { high: -90 } }), SPAN), 16, [3, 3]);
  });

  it('compare the peak with what stands up to ten frames before and after', () => {
    const whole = (high: number, low: number): number => level(power(high) + power(low) + MIDDLE);
    close(measured(), 18, [
      35 / 15,
      (whole(-30, -45) - whole(-65, -50)) / 15,
      34 / 15,
      (-41 + 30) / 15,
      (-5 + 30) / 15,
    ]);
    // No more than 50 dB of the high bands, nor than 40 of the low ones, count.
    const deep = eventMeasures(
      burst({ 10: { high: -90 }, 39: { high: -90, low: 15 }, 20: { low: 15 } }),
      SPAN,
    );
    close(deep, 18, [50 / 15]);
    close(deep, 20, [50 / 15, 40 / 15, 40 / 15]);
  });

  it('tell the spectrum of the core, by groups of bands and by its centre', () => {
    // Inputs are their places and 0.1 to 0.5 more: 0.3 on the mean.
    close(
      measured(),
      23,
      [0.5, 3, 6, 9, 12, 14.5].map((middle) => middle + 0.3),
    );
    const centre = (band: number): number => Math.sqrt(BAND_EDGES_HZ[band]! * BAND_EDGES_HZ[band + 1]!);
    let weighted = 0;
    let total = 0;
    for (const [t, dB] of [
      [21, -36],
      [22, -31],
      [23, -30],
      [24, -33],
      [25, -36],
    ] as const) {
      const [upper, lower] = [upperShare(t) * power(dB), (1 - upperShare(t)) * power(dB)];
      weighted += MIDDLE * centre(6) + lower * centre(12) + upper * centre(14);
      total += MIDDLE + power(dB);
    }
    close(measured(), 29, [(weighted / total - 4500) / 1000]);
  });

  it('tell where the peak lies, and the noise against what follows', () => {
    // No voice follows: the release is the whole event, 10 frames. Behind it −55 dB is the most, in the low bands −12.
    close(measured(), 30, [0.3, Math.log2((10 * HOP) / 0.04), 2.5, -3.3]);
  });

  it('end a release where the voice begins, and compare it with the hiss of that voice', () => {
    // Voice from frame 30 on, as loud in the low bands from frame 24 on: the release is frames 18 to 23 (two frames before the event count).
    const voiced = { kinds: [0.9, 0.1, 0, 0, 0, 0] };
    const changes: Record<number, Frame> = { 21: { low: -50 } };
    for (let t = 24; t < 40; t++) changes[t] = { ...(t >= 30 ? voiced : {}), low: -5 };
    const tables = burst(changes);
    for (let t = 24; t < 40; t++) tables.bands[t * ROW_BANDS] = power(-5);
    // Its hiss is that of frame 24 at −33 dB; the voice is 40 dB over the low bands of the peak.
    close(eventMeasures(tables, SPAN), 31, [Math.log2((6 * HOP) / 0.04), 0.3, -4]);
  });

  it('tell the gaps to the next noise and the ceilings over the core', () => {
    close(measured(), 34, [7 / 20, 11 / 20]);
    close(measured(), 36, [24.3, 25.3, 26.3, 27.3]);
  });

  it('end with what stands beside the event', () => {
    const context: number[] = [];
    pushContext(context, burst(), SPAN);
    close(measured(), 40, context);
  });

  it('look at nothing beyond the ends of what there is', () => {
    // One frame in four, with a core of that frame alone; what lies beyond the ends is as the end.
    const noise = { kinds: [0, 0, 0, 0, 1, 0] };
    const low = -99;
    const tables = tablesOf(4, {
      0: { high: -99, low },
      1: { high: -20, low, ...noise },
      2: { high: -99, low, ...noise },
      3: { high: -99, low },
    });
    const short = eventMeasures(tables, { start: 1, end: 3, class: BURST });
    close(short, 12, [Math.log2((2 * HOP) / 0.08), Math.log2(HOP / 0.06), 0, 0, 3, 3]);
    // In the whole band the middle stands at −50 dB: the peak rises by 30 dB and what the middle adds to it.
    const wholeRise = level(power(-20) + MIDDLE + power(low)) - level(power(-99) + MIDDLE + power(low));
    close(short, 18, [50 / 15, wholeRise / 15, 50 / 15, -40 / 15, -40 / 15]);
    close(short, 30, [0, Math.log2((2 * HOP) / 0.04), 3, 0, 1, 1]);
  });
});

describe('the gap beside an edge', () => {
  const at = (noises: readonly number[]) =>
    tablesOf(50, Object.fromEntries(noises.map((t) => [t, { kinds: [0.2, 0.3, 0.5, 0, 0, 0] }])));

  it('is counted up to the nearest frame that is as likely noise as not, and to twenty', () => {
    expect(gapFrames(at([25, 24, 40]), 20, 1)).toBe(4);
    expect(gapFrames(at([25]), 26, -1)).toBe(1);
    expect(gapFrames(at([39]), 20, 1)).toBe(19);
    expect(gapFrames(at([40]), 20, 1)).toBe(20);
    expect(gapFrames(at([0]), 5, -1)).toBe(5);
    expect(gapFrames(at([]), 2, -1)).toBe(20);
    expect(gapFrames(at([]), 48, 1)).toBe(20);
    const less = tablesOf(50, { 22: { kinds: [0.3, 0.3, 0.4, 0, 0, 0] } });
    expect(gapFrames(less, 20, 1)).toBe(20);
  });
});
