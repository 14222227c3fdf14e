import type { PairMeter } from '../signal/engine.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { createAllocator, type KernelArea } from './kernel-memory.js';
import type { Twiddles } from './twiddles.js';

/** Points of the smallest and largest transform that the kernels take: 8 kHz frames of 10 ms have 128, 192 kHz frames of 20 ms 4096. */
export const LEAST_POINTS = 16;
export const MOST_POINTS = 4096;

/** Samples that are copied to the kernels at a time, or two frames where that is more. */
const CHUNK_SAMPLES = 4096;

/** Doubles that a meter of the largest size lays out: tables and four work arrays, two powers, samples; and slack. */
export const PAIR_AREA_DOUBLES: number = 8 * MOST_POINTS + (3 * MOST_POINTS) / 2 + 1024;

/** `createPairMeter` in the kernels: a radix-4 transform without bit reversal, two points to a vector. */
export function createSimdPairMeter(
  area: KernelArea,
  window: Doubles,
  twiddles: Twiddles,
  points: number,
  binCount: number,
): PairMeter {
  const { pairPowers } = area.kernels;
  const allocate = createAllocator(area);
  // Window, factors, and four work arrays; two vectors of the last pass may reach one point beyond.
  const tables = allocate(3 * points + 4 * (points + 2));
  const first = allocate(points / 2 + 4);
  const second = allocate(points / 2 + 4);
  // What lies behind the samples is multiplied by 0 where a frame is shorter than the transform, and must be finite.
  const room = Math.max(CHUNK_SAMPLES, 2 * points);
  const chunk = allocate((room + points) / 2);
  const floatsAt = (chunk.byteOffset - area.start) / 4;
  const [tablesAt, firstAt, secondAt, chunkAt] = [tables, first, second, chunk].map(
    ({ byteOffset }) => byteOffset,
  ) as [number, number, number, number];
  let samples = new Float32Array(0) as Samples;
  // The samples that are there.
  let from = 0;
  let to = 0;
  const user = {
    // Nothing is remembered from one pair to the next.
    leave: () => {},
    enter: () => {
      tables.fill(0);
      tables.set(window);
      tables.set(twiddles.first, points);
      let at = points + twiddles.first.length;
      for (const { factors } of twiddles.middle) {
        tables.set(factors, at);
        at += factors.length;
      }
      chunk.fill(0);
      to = 0;
      from = 0;
    },
  };

  return {
    first: first.subarray(0, binCount),
    second: second.subarray(0, binCount),
    begin(next) {
      samples = next;
      to = 0;
      from = 0;
    },
    measure(firstStart, secondStart) {
      area.claim(user);
      const end = secondStart + window.length;
      if (secondStart - firstStart > points) {
        // Too far apart for one piece.
        copy(firstStart, firstStart + window.length, 0);
        copy(secondStart, end, points);
        to = 0;
        run(0, points);
        return;
      }
      if (firstStart < from || end > to) {
        from = firstStart;
        to = Math.min(samples.length, from + room);
        copy(from, to, 0);
      }
      run(firstStart - from, secondStart - from);
    },
  };

  function copy(start: number, end: number, at: number): void {
    area.floats.set(samples.subarray(start, end), floatsAt + at);
  }

  function run(a: number, b: number): void {
    pairPowers(chunkAt + 4 * a, chunkAt + 4 * b, tablesAt, points, firstAt, secondAt, binCount);
  }
}
