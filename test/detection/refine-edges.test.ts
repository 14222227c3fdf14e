import { describe, expect, it } from 'vitest';
import { createNoiseEnvelope } from '../../src/detection/noise-envelope.js';
import { type BlockEdges, type NoiseKind, refineEdges } from '../../src/detection/refine-edges.js';
import { createRowStore } from '../../src/detection/row-store.js';
import { quantile } from '../../src/evaluation/quantile.js';
import type { Doubles, Samples } from '../../src/signal/samples.js';
import { gaussian, mulberry32 } from '../lib/random.js';

const RATE = 48_000;
const BLOCK = 48;
const KINDS = ['sibilant', 'fricative', 'burst', 'breath'] as const;
/** Half-width of the triangle that smooths the envelope, by kind, in blocks. */
const SMOOTHING: Readonly<Record<NoiseKind, number>> = { sibilant: 3, fricative: 4, burst: 2, breath: 6 };
type Shape = 'linear' | 'raisedCosine';

/** Gain of a fade at x, 0 to 1: both shapes pass one half, −6.02 dB, at x = ½. */
function fadeAt(shape: Shape, x: number): number {
  const held = Math.max(0, Math.min(1, x));
  return shape === 'linear' ? held : (1 - Math.cos(Math.PI * held)) / 2;
}

/** Where a fade passes a gain, 0 to 1. */
function placeOf(shape: Shape, gain: number): number {
  return shape === 'linear' ? gain : Math.acos(1 - 2 * gain) / Math.PI;
}

interface Burst {
  readonly seed: number;
  readonly shape: Shape;
  readonly fadeBlocks: number;
  readonly lengthBlocks: number;
  /** RMS of what sounds beside the noise at its end, re the noise; 0 for silence. */
  readonly neighbour: number;
}

/** −6 dB points of the noise, in blocks: not on whole blocks. */
const START = 150.37;

/** White noise between two fades, and from the middle of it on a steady tone of 6 kHz. */
function samplesOf({ seed, shape, fadeBlocks, lengthBlocks, neighbour }: Burst): Samples {
  const normal = gaussian(mulberry32(seed));
  const middle = START + lengthBlocks / 2;
  return Float32Array.from({ length: (2 * START + lengthBlocks) * BLOCK }, (_, i) => {
    const at = i / BLOCK;
    const rise = fadeAt(shape, (at - START) / fadeBlocks + 0.5);
    const fall = fadeAt(shape, (START + lengthBlocks - at) / fadeBlocks + 0.5);
    const tone = at > middle ? neighbour * Math.SQRT2 * Math.sin((2 * Math.PI * 6000 * i) / RATE) : 0;
    return 0.1 * (rise * fall * normal() + tone);
  });
}

function envelopeOf(samples: Samples): Doubles {
  const rows = createRowStore(1);
  const envelope = createNoiseEnvelope(RATE, 1);
  envelope.push([samples], rows);
  envelope.flush(rows);
  return rows.data.slice(0, rows.at(rows.end));
}

/** Edges as a detector would ask for them: from coarse edges that err by up to 4 blocks, core 4 blocks further in. */
function edgesOf(burst: Burst, envelope: Doubles, kind: NoiseKind, reach = 40): BlockEdges {
  const random = mulberry32(burst.seed + 99);
  const start = START + 8 * random() - 4;
  const end = START + burst.lengthBlocks + 8 * random() - 4;
  return refineEdges(
    envelope,
    { start, end },
    { start: start + 4, end: end - 4 },
    { before: reach, after: reach },
    kind,
  );
}

interface Errors {
  readonly start: readonly number[];
  readonly end: readonly number[];
}

/** Signed errors over many seeds; the true end is where the whole passes the middle between inside and outside. */
function errorsOf(shape: Shape, fadeBlocks: number, neighbour: number): Record<NoiseKind, Errors> {
  // White noise through the envelope's 3.5 kHz Butterworth keeps the mean of |H|² over the band; H as in noise-envelope.test.ts.
  const beside = neighbour * Math.sqrt(powerGain(6000) / meanPowerGain());
  // Inside √(1 + a²) and outside a: the middle of the two, and the noise's own gain there.
  const level = (Math.hypot(1, beside) + beside) / 2;
  const gain = Math.sqrt(level ** 2 - beside ** 2);
  const errors = Object.fromEntries(
    KINDS.map((kind) => [kind, { start: [] as number[], end: [] as number[] }]),
  ) as unknown as Record<NoiseKind, { start: number[]; end: number[] }>;
  for (let seed = 1; seed <= 60; seed++) {
    const burst = { seed, shape, fadeBlocks, lengthBlocks: 100.5, neighbour };
    const envelope = envelopeOf(samplesOf(burst));
    for (const kind of KINDS) {
      const edges = edgesOf(burst, envelope, kind);
      errors[kind].start.push(edges.start - START);
      errors[kind].end.push(edges.end - (START + 100.5 + (0.5 - placeOf(shape, gain)) * fadeBlocks));
    }
  }
  return errors;
}

function powerGain(frequencyHz: number): number {
  const warp = (f: number): number => Math.tan((Math.PI * f) / RATE);
  return 1 / (1 + (warp(3500) / warp(frequencyHz)) ** 4);
}

function meanPowerGain(): number {
  let sum = 0;
  for (let f = 5; f < RATE / 2; f += 10) sum += powerGain(f) / (RATE / 20);
  return sum;
}

const absolute = (errors: readonly number[]): number[] => errors.map(Math.abs);

/**
 * What noise allows. A block of 1 ms of white noise above 3.5 kHz has about 2·20.5 kHz·1 ms = 41 degrees of freedom, and a triangle of
 * half-width h weighs w = h²/Σd² ≈ 1.5·h blocks of them: its amplitude scatters by σ = ½·√(2/(41·1.5·h)), 5 % for h = 3. Across a
 * linear fade of T blocks, at half its height, that is 0.5·σ·T blocks; a raised cosine is π/2 steeper there. The last of several crossings
 * is taken, which at most doubles it on the outer side, and a block's own grain adds half a block.
 */
function scatter(shape: Shape, fadeBlocks: number, half: number): number {
  const sigma = 0.5 * Math.sqrt(2 / (41 * 1.5 * half));
  return (0.5 * sigma * fadeBlocks) / (shape === 'linear' ? 1 : Math.PI / 2);
}

describe('refineEdges', () => {
  for (const shape of ['linear', 'raisedCosine'] as const)
    for (const fadeBlocks of [1, 10, 24])
      for (const neighbour of [0, 0.3])
        it(`finds the half-amplitude points of ${shape} fades of ${fadeBlocks} ms beside ${neighbour === 0 ? 'silence' : 'silence and a tone 10 dB under the noise'}`, () => {
          const errors = errorsOf(shape, fadeBlocks, neighbour);
          for (const kind of KINDS) {
            const { start, end } = errors[kind];
            const half = SMOOTHING[kind];
            const median = quantile(absolute([...start, ...end]), 0.5);
            const worst = Math.max(...absolute([...start, ...end]));
            const sigma = scatter(shape, fadeBlocks, half);
            console.info(
              `edge errors in ms, ${kind}: median ${median.toFixed(2)}, worst ${worst.toFixed(2)}, bias ${quantile(start, 0.5).toFixed(2)} and ${quantile(end, 0.5).toFixed(2)}, expected scatter ${sigma.toFixed(2)}`,
            );
            // Smoothing power over a steep edge moves its half-amplitude point outwards: a step of power smoothed by a triangle of
            // half-width h reaches ¼ at h·(1 − √½) = 0.29·h outside it.
            expect(median, kind).toBeLessThan(0.5 + sigma + 0.29 * half);
            // 120 draws stay within 3.3 of their scatter, 6.6 with the doubling.
            expect(worst, kind).toBeLessThan(1 + 6.6 * sigma + 0.29 * half);
          }
        });

  it('takes no notice of gain', () => {
    const burst: Burst = { seed: 5, shape: 'linear', fadeBlocks: 20, lengthBlocks: 90, neighbour: 0.1 };
    const envelope = envelopeOf(samplesOf(burst));
    const edges = edgesOf(burst, envelope, 'sibilant');
    for (const gain of [1e-4, 1e4]) {
      const other = edgesOf(
        burst,
        envelope.map((power) => power * gain),
        'sibilant',
      );
      expect(other.start).toBeCloseTo(edges.start, 9);
      expect(other.end).toBeCloseTo(edges.end, 9);
    }
  });

  it('leaves the coarse edge where the sound beside is nearly as strong', () => {
    // 0.8 of the noise's amplitude: above the 0.6 from which on there is no edge to read.
    const burst: Burst = { seed: 6, shape: 'linear', fadeBlocks: 10, lengthBlocks: 100, neighbour: 0.9 };
    const envelope = envelopeOf(samplesOf(burst));
    const coarse = { start: START + 2, end: START + 97 };
    const edges = refineEdges(
      envelope,
      coarse,
      { start: START + 6, end: START + 93 },
      { before: 40, after: 40 },
      'sibilant',
    );
    expect(edges.end).toBeCloseTo(coarse.end, 9);
    expect(Math.abs(edges.start - START)).toBeLessThan(2);
  });

  it('never moves an edge further outwards than its reach', () => {
    const burst: Burst = { seed: 7, shape: 'linear', fadeBlocks: 4, lengthBlocks: 120, neighbour: 0 };
    const envelope = envelopeOf(samplesOf(burst));
    for (const reach of [0, 3, 11]) {
      const coarse = { start: START + 25, end: START + 95 };
      const edges = refineEdges(
        envelope,
        coarse,
        { start: START + 30, end: START + 90 },
        { before: reach, after: reach },
        'sibilant',
      );
      // Positions are whole blocks inside: a half of one in rounding.
      expect(edges.start).toBeGreaterThanOrEqual(coarse.start - reach - 1);
      expect(edges.start).toBeLessThanOrEqual(coarse.start - reach + 1);
      expect(edges.end).toBeLessThanOrEqual(coarse.end + reach + 1);
      expect(edges.end).toBeGreaterThanOrEqual(coarse.end + reach - 1);
    }
  });

  it('moves an edge inwards as far as the noise is', () => {
    const burst: Burst = { seed: 8, shape: 'linear', fadeBlocks: 4, lengthBlocks: 100, neighbour: 0 };
    const edges = refineEdges(
      envelopeOf(samplesOf(burst)),
      { start: START - 15, end: START + 115 },
      { start: START + 5, end: START + 95 },
      { before: 0, after: 0 },
      'sibilant',
    );
    expect(Math.abs(edges.start - START)).toBeLessThan(2);
    expect(Math.abs(edges.end - START - 100)).toBeLessThan(2);
  });

  it('is not ended by a dip shorter than 8 ms, and is by a longer one', () => {
    const flat = new Float64Array(200).fill(1e-6);
    const noisy = (dip: number): Doubles =>
      flat.map((power, b) => (b >= 50 && b < 150 && !(b >= 80 && b < 80 + dip) ? 0.01 : power));
    const from = (dip: number): number =>
      refineEdges(
        noisy(dip),
        { start: 100, end: 150 },
        { start: 105, end: 145 },
        { before: 80, after: 40 },
        'burst',
      ).start;
    expect(Math.abs(from(4) - 50)).toBeLessThan(1);
    expect(Math.abs(from(20) - 100)).toBeLessThan(1);
  });

  it('gives the coarse edges of silence', () => {
    const coarse = { start: 10.5, end: 20.25 };
    expect(
      refineEdges(new Float64Array(40), coarse, { start: 12, end: 18 }, { before: 5, after: 5 }, 'breath'),
    ).toEqual(coarse);
  });
});
