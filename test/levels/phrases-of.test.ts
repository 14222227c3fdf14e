import { describe, expect, it } from 'vitest';
import { DEFAULT_PHRASE_OPTIONS, phrasesOf } from '../../src/levels/phrases-of.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import type { Samples } from '../../src/signal/samples.js';
import { mulberry32 } from '../lib/random.js';

const RATE = 48_000;
const at = (seconds: number): number => Math.round(seconds * RATE);

/** A room at about −75 dBFS in which a voice of 220 Hz with nine overtones, 1/n each, sounds from one second to another. */
function take(
  lengthSeconds: number,
  notes: readonly (readonly [number, number])[],
  level = 0.1,
): Float32Array<ArrayBuffer> {
  const uniform = mulberry32(7);
  const samples = Float32Array.from({ length: at(lengthSeconds) }, () => 6e-4 * level * (uniform() - 0.5));
  for (const [from, to] of notes)
    for (let i = at(from); i < at(to); i++)
      for (let n = 1; n <= 10; n++)
        samples[i] = samples[i]! + (level / n) * Math.sin((2 * Math.PI * 220 * n * i) / RATE);
  return samples;
}

const listFor = (samples: Samples) => createRegionList({ sampleRateHz: RATE, lengthSamples: samples.length });
const seconds = (samples: Samples, options = {}) =>
  phrasesOf(samples, listFor(samples), options).map(({ startSample, endSample }) => [
    startSample / RATE,
    endSample / RATE,
  ]);

describe('phrasesOf', () => {
  it('finds the stretches of voice between pauses, with a margin of 50 ms', () => {
    const found = seconds(
      take(5, [
        [0.5, 1.5],
        [2.5, 4],
      ]),
    );
    expect(found).toHaveLength(2);
    for (const [i, [from, to]] of [
      [0.5, 1.5],
      [2.5, 4],
    ].entries()) {
      // The margin, and 22 ms: half a frame of 43 ms, in which a sound is seen before it begins.
      expect(Math.abs(found[i]![0]! - (from! - 0.05))).toBeLessThan(0.022);
      // An end may come late, by the 85 ms in which a tail is looked for and half a frame, and never early.
      expect(found[i]![1]).toBeGreaterThanOrEqual(to! + 0.05 - 0.022);
      expect(found[i]![1]).toBeLessThan(to! + 0.05 + 0.085 + 0.022);
    }
  });

  it('lets short stops pass, and parts at what is told', () => {
    const samples = take(5, [
      [0.5, 1.5],
      [1.8, 2.5],
      [3.1, 4],
    ]);
    // Pauses of 0.3 and 0.6 s, less up to 0.11 s of tail.
    expect(seconds(samples)).toHaveLength(2);
    expect(seconds(samples, { pauseSeconds: 0.15 })).toHaveLength(3);
    expect(seconds(samples, { pauseSeconds: 1 })).toHaveLength(1);
  });

  it('gives each phrase at most half of the pause, so that none overlap', () => {
    const found = seconds(
      take(4, [
        [0.5, 1.5],
        [2, 3],
      ]),
      { marginSeconds: 1 },
    );
    expect(found[0]?.[0]).toBe(0);
    expect(found[0]?.[1]).toBe(found[1]?.[0]);
    // The middle of the pause, or of what a tail of up to 0.11 s leaves of it.
    expect(Math.abs(found[0]![1]! - 1.75 - 0.055 / 2)).toBeLessThan(0.055);
    expect(found[1]?.[1]).toBe(4);
  });

  it('does not hang on the level of the take', () => {
    const notes = [
      [0.5, 1.5],
      [2.5, 4],
    ] as const;
    const loud = take(5, notes);
    // A power of two: every sample keeps its digits.
    const soft = loud.map((x) => x / 256);
    expect(phrasesOf(soft, listFor(soft))).toEqual(phrasesOf(loud, listFor(loud)));
    expect(phrasesOf([loud, loud], listFor(loud))).toEqual(phrasesOf(loud, listFor(loud)));
  });

  it('takes the consonants of the list along', () => {
    const samples = take(3, [[1, 2]]);
    const hiss = mulberry32(3);
    for (let i = at(0.8); i < at(1); i++) samples[i] = 0.05 * (hiss() - 0.5);
    const edges = { startSample: at(0.8), endSample: at(1) };
    const withS = insertRegion(listFor(samples), { kind: 'sibilant', ...edges });
    const start = phrasesOf(samples, withS, { marginSeconds: 0 })[0]!.startSample / RATE;
    // A hop of 11 ms.
    expect(Math.abs(start - 0.8)).toBeLessThan(0.012);
  });

  it('finds none where there is no voice', () => {
    expect(seconds(new Float32Array(RATE))).toEqual([]);
    expect(seconds(new Float32Array(0))).toEqual([]);
    const found = phrasesOf(take(2, [[0.5, 1.5]]), listFor(take(2, [])));
    expect(Object.isFrozen(found) && Object.isFrozen(found[0])).toBe(true);
  });

  it('refuses clips of another length, samples that are no numbers and options out of range', () => {
    const samples = take(1, [[0.2, 0.8]]);
    const list = listFor(samples);
    expect(() => phrasesOf(samples.slice(1), list)).toThrow(/phrasesOf: channels.length must equal/);
    expect(() => phrasesOf(samples, list, { pauseSeconds: -1 })).toThrow(/pauseSeconds must lie within/);
    expect(() => phrasesOf(samples, list, { marginSeconds: 2 })).toThrow(/marginSeconds/);
    expect(() => phrasesOf([1, 2] as never, list)).toThrow(TypeError);
    samples[100] = Number.NaN;
    expect(() => phrasesOf(samples, list)).toThrow(/channels\[100\] must be finite/);
    expect(Object.isFrozen(DEFAULT_PHRASE_OPTIONS)).toBe(true);
  });
});
