/** What must not matter, does not: level, polarity, channels, place on the frame grid, sample rate. On the invented song of the demonstration. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { HOP_SECONDS } from '../../src/detection/detection-scale.js';
import type { Region } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { type DemoLead, demoLead, excerpt } from '../lib/demo-lead.js';
import { whiteNoise } from '../lib/random.js';
import { resample } from '../lib/resample.js';

const RATE = 48_000;
/** Edges are read from an envelope of 1 ms blocks, which may fall elsewhere: two of them. */
const EDGE_SECONDS = 0.002;
let lead: DemoLead;
let phrase: Samples;
let before: readonly Region[];
let whole: readonly Region[];

beforeAll(() => {
  lead = demoLead(RATE);
  phrase = excerpt(lead, 5, 12);
  before = find(phrase);
  whole = find(lead.samples);
});

function find(channels: Samples | readonly Samples[], sampleRateHz = RATE): readonly Region[] {
  return detectConsonants(channels, { sampleRateHz }).regions;
}

interface Comparison {
  /** Regions of both sides that have their like, of all: one of the same kind that overlaps by half of the shorter. */
  readonly kept: number;
  readonly regions: number;
  /** Edges of these that lie within the tolerance, of all. */
  readonly close: number;
  readonly edges: number;
  /** Greatest distance of an edge within the tolerance, in seconds, and greatest change of a confidence. */
  readonly worstSeconds: number;
  readonly worstConfidence: number;
  /** What was lost and which edges moved, for a person. */
  readonly moved: readonly string[];
}

/** Pairs regions as `Comparison` says. What lies `shiftSeconds` later in `after` is at the same place. */
function compare(
  a: readonly Region[],
  b: readonly Region[],
  toleranceSeconds: number,
  { afterHz = RATE, shiftSeconds = 0 } = {},
): Comparison {
  const span = ({ startSample, endSample }: Region, rateHz: number, shift: number): [number, number] => [
    startSample / rateHz - shift,
    endSample / rateHz - shift,
  ];
  let [kept, close, worstSeconds, worstConfidence] = [0, 0, 0, 0];
  const moved: string[] = [];
  for (const x of a) {
    const [start, end] = span(x, RATE, 0);
    const what = `${x.kind} at ${start.toFixed(2)} s (${x.confidence.toFixed(2)})`;
    const like = b.find((y) => {
      const [from, to] = span(y, afterHz, shiftSeconds);
      const shorter = Math.min(end - start, to - from);
      return y.kind === x.kind && Math.min(end, to) - Math.max(start, from) >= 0.5 * shorter;
    });
    if (like === undefined) {
      moved.push(`${what} lost`);
      continue;
    }
    kept++;
    worstConfidence = Math.max(worstConfidence, Math.abs(x.confidence - like.confidence));
    const [from, to] = span(like, afterHz, shiftSeconds);
    for (const [edge, by] of [
      ['start', from - start],
      ['end', to - end],
    ] as const)
      if (Math.abs(by) <= toleranceSeconds) {
        close++;
        worstSeconds = Math.max(worstSeconds, Math.abs(by));
      } else moved.push(`${edge} of ${what} by ${(1000 * by).toFixed(0)} ms`);
  }
  const regions = a.length + b.length;
  return { kept: 2 * kept, regions, close, edges: 2 * kept, worstSeconds, worstConfidence, moved };
}

function pooled(all: readonly Comparison[]): Comparison {
  const sum = (pick: (one: Comparison) => number): number => all.reduce((total, one) => total + pick(one), 0);
  return {
    kept: sum((one) => one.kept),
    regions: sum((one) => one.regions),
    close: sum((one) => one.close),
    edges: sum((one) => one.edges),
    worstSeconds: Math.max(...all.map((one) => one.worstSeconds)),
    worstConfidence: Math.max(...all.map((one) => one.worstConfidence)),
    moved: all.flatMap((one) => one.moved),
  };
}

const percent = (part: number, whole: number): string => `${((100 * part) / whole).toFixed(1)} %`;

function report(what: string, one: Comparison): void {
  const counts = new Map<string, number>();
  for (const text of one.moved) counts.set(text, (counts.get(text) ?? 0) + 1);
  const lines = [...counts].map(([text, count]) => `\n  ${count} × ${text}`);
  console.info(
    `${what}: ${percent(one.kept, one.regions)} of ${one.regions} regions kept, ${percent(one.close, one.edges)} of their edges close (to ${(1000 * one.worstSeconds).toFixed(2)} ms), confidence to ${one.worstConfidence.toFixed(4)}${lines.join('')}`,
  );
}

/**
 * Frames that lie elsewhere see the sound a little differently, so a frame near a threshold may fall on its other side. A region near the
 * least confidence may then come or go: one in twenty. An edge beside a vowel that is as bright as the noise has no half-amplitude point
 * that stands out, and may be read from the envelope once and from the frames the other time: one in ten.
 */
function expectAlike(what: string, one: Comparison): void {
  report(what, one);
  expect(one.regions).toBeGreaterThan(30);
  expect(one.kept / one.regions, 'regions kept').toBeGreaterThanOrEqual(0.95);
  expect(one.close / one.edges, 'edges close').toBeGreaterThanOrEqual(0.9);
}

function afterZeros(samples: Samples, zeros: number): Samples {
  const later = new Float32Array(zeros + samples.length);
  later.set(samples, zeros);
  return later;
}

describe('the same regions are found', () => {
  it('in a phrase that has some of most kinds', () => {
    expect(before.length).toBeGreaterThanOrEqual(8);
    expect(new Set(before.map(({ kind }) => kind)).size).toBeGreaterThanOrEqual(3);
  });

  it('at any level: 40 dB up or down moves no edge by 1 ms and no confidence by 0.02', () => {
    const all: Comparison[] = [];
    fc.assert(
      fc.property(fc.double({ min: -40, max: 40, noNaN: true }), (gainDb) => {
        const gain = 10 ** (gainDb / 20);
        const result = compare(before, find(phrase.map((x) => x * gain)), 0.001);
        all.push(result);
        expect(result.moved).toEqual([]);
        expect(result.kept).toBe(result.regions);
        expect(result.worstConfidence).toBeLessThanOrEqual(0.02);
      }),
      { numRuns: 12, examples: [[-40], [40]] },
    );
    report('gain of −40 to 40 dB', pooled(all));
  });

  it('in either polarity, bit for bit', () => {
    expect(find(phrase.map((x) => -x))).toEqual(before);
  });

  it('with two channels swapped, bit for bit, and with three in any order but for rounding', () => {
    const room = whiteNoise(77, phrase.length, 0.0005);
    const second = phrase.map((x, i) => 0.3 * x + room[i]!);
    expect(find([second, phrase])).toEqual(find([phrase, second]));
    const third = phrase.map((x) => x * 0.7);
    const rotated = compare(find([phrase, second, third]), find([third, phrase, second]), 1e-9);
    expect(rotated.kept).toBe(rotated.regions);
    expect(rotated.moved).toEqual([]);
    expect(rotated.worstConfidence).toBeLessThan(1e-9);
  });

  it('in mono and in two or four like channels, bit for bit', () => {
    // Sums of two or four equal powers, halved or quartered, are exact.
    expect(find([phrase])).toEqual(before);
    expect(find([phrase, phrase])).toEqual(before);
    expect(find([phrase, phrase, phrase, phrase])).toEqual(before);
  });

  it('with one channel the negative of the other, though their sum is silence', () => {
    expect(find([phrase, phrase.map((x) => -x)])).toEqual(before);
  });

  // One hop for the frames, which see the sound elsewhere on their grid, and two blocks of the envelope of 1 ms.
  const tolerance = HOP_SECONDS + EDGE_SECONDS;

  it('wherever the song lies on the frame grid, started up to 0.27 s later in the room tone before it', () => {
    const all: Comparison[] = [];
    // Steps of a prime, so that all phases of hops (256) and blocks (48) occur.
    for (let shift = 1009; shift <= 13 * 1009; shift += 1009)
      all.push(compare(whole, find(lead.samples.slice(shift)), tolerance, { shiftSeconds: -shift / RATE }));
    expectAlike('a later start', pooled(all));
  });

  it('after any number of zero samples', () => {
    const all: Comparison[] = [];
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 30_000 }), (zeros) => {
        all.push(compare(before, find(afterZeros(phrase, zeros)), tolerance, { shiftSeconds: zeros / RATE }));
      }),
      { numRuns: 25, examples: [[1], [48], [128], [255], [256], [4096], [30_000]] },
    );
    expectAlike('after zeros', pooled(all));
  });

  it('after whole slots of zeros, which leave every frame with the same numbers, with edges to 2 ms', () => {
    // Slots are 16 frames of 256 samples; blocks of 48 fall elsewhere. What differs is the noise floor: digital silence is lower than any
    // room, so room tone stands out against it, and is heard as breath or not.
    const all = [1, 2, 3].flatMap((slots) =>
      [
        [phrase, before],
        [lead.samples, whole],
      ].map(([samples, own]) => {
        const zeros = slots * 16 * 256;
        const later = find(afterZeros(samples as Samples, zeros));
        return compare(own as readonly Region[], later, EDGE_SECONDS, { shiftSeconds: zeros / RATE });
      }),
    );
    expectAlike('after whole slots of zeros', pooled(all));
  });

  for (const toHz of [22_050, 32_000, 44_100, 96_000, 192_000])
    it(`at ${toHz} Hz`, () => {
      // Frames, hops and blocks are rounded to samples (blocks to 0.2 %) and fall elsewhere.
      const there = find(resample(lead.samples, RATE, toHz), toHz);
      expectAlike(`${toHz} Hz`, compare(whole, there, tolerance, { afterHz: toHz }));
    });

  it('at 16 kHz, where noise ends at 8 kHz, with edges half a hop further off', () => {
    // The envelope above 3.5 kHz then holds a fifth of its band, and its grain is that much coarser.
    const there = find(resample(lead.samples, RATE, 16_000), 16_000);
    expectAlike('16000 Hz', compare(whole, there, tolerance + HOP_SECONDS / 2, { afterHz: 16_000 }));
  });
});
