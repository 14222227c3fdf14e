import { describe, expect, test } from 'vitest';
import { readWav, type Wav } from '../../examples/lib/read-wav.js';
import { roundHalfEven } from '../../examples/lib/sample-codec.js';
import { patchedPieces, treatWav } from '../../examples/lib/treat-wav.js';
import { decodeWave } from '../../examples/lib/wave-file.js';
import { bandTransitionHz } from '../../src/gain/band-kernel.js';
import { renderGain } from '../../src/gain/render-gain.js';
import type { RegionBand, RegionList } from '../../src/regions/region.js';
import { setBand } from '../../src/regions/set-band.js';
import { referenceKernel, referencePart } from '../gain/band-reference.js';
import { codes, listOf, makeWav, text } from './make-wav.js';

function readGood(bytes: Uint8Array): Wav {
  const result = readWav(bytes);
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
}

function treated(bytes: Uint8Array, list: RegionList): Buffer {
  return Buffer.concat([...patchedPieces(bytes, treatWav(readGood(bytes), list).patches)]);
}

/** The gain of one sample by the stated formula: amplitude 10^(dB/20), straight fades from 1 and to 1. */
function statedGain(list: RegionList, sample: number): number {
  const region = list.regions.find((r) => sample >= r.startSample && sample < r.endSample);
  if (region === undefined || region.bypassed) return 1;
  const full = 10 ** (region.gainDb / 20);
  const fromStart = sample - region.startSample;
  const intoFadeOut = sample - (region.endSample - region.fadeOutSamples);
  if (fromStart < region.fadeInSamples) return 1 + ((full - 1) * fromStart) / region.fadeInSamples;
  if (intoFadeOut >= 0) return full + ((1 - full) * intoFadeOut) / region.fadeOutSamples;
  return full;
}

const FRAMES = 301;
const LIST = listOf(
  [
    [0, 40, -6, 10],
    [60, 61, -12],
    [80, 120, -6, 5, true],
    [130, 150, 0],
    [200, FRAMES, -6, 30],
  ],
  FRAMES,
);
const FORMATS = [
  [1, 16],
  [1, 24],
  [1, 32],
  [3, 32],
] as const;

/** Chunks as a recorder and an editor leave them, with an unknown one of odd length on both sides of the data. */
const BEFORE = [
  ['bext', Uint8Array.from({ length: 602 + 33 }, (_, i) => (i * 7) & 255)],
  ['zzzz', text('odd')],
] as const;
const AFTER = [
  [
    'cue ',
    Uint8Array.from([
      1, 0, 0, 0, 1, 0, 0, 0, 9, 0, 0, 0, 100, 97, 116, 97, 0, 0, 0, 0, 0, 0, 0, 0, 9, 0, 0, 0,
    ]),
  ],
  ['LIST', Buffer.concat([text('INFOINAM'), Uint8Array.of(5, 0, 0, 0), text('take1\0')])],
  ['iXML', text('<?xml version="1.0"?><BWFXML><NOTE>ä</NOTE></BWFXML>')],
  ['?!-~', Uint8Array.of(1, 2, 3)],
] as const;

describe('treatWav', () => {
  for (const [tag, bits] of FORMATS) {
    for (const extensible of [false, true]) {
      for (const count of [1, 2, 3, 8]) {
        const name = `${bits}-bit ${tag === 3 ? 'float' : 'integer'}${extensible ? ' extensible' : ''}, ${count} channels`;
        const channels = Array.from({ length: count }, (_, c) => codes(tag, bits, FRAMES, c + 1));
        const bytes = makeWav({ tag, bits, channels, extensible, before: BEFORE, after: AFTER });
        const output = treated(bytes, LIST);
        const frameBytes = (count * bits) / 8;
        const start = readGood(bytes).dataStartByte;

        test(`changes no byte outside active regions: ${name}`, () => {
          expect(output.length).toBe(bytes.length);
          const touched = new Set<number>();
          for (const { startSample, endSample, bypassed, gainDb } of LIST.regions) {
            if (bypassed || gainDb === 0) continue;
            for (let i = startSample * frameBytes; i < endSample * frameBytes; i++) touched.add(start + i);
          }
          expect(touched.size).toBe((40 + 1 + 101) * frameBytes);
          const changed = Array.from(bytes.keys()).filter((i) => bytes[i] !== output[i]);
          expect(changed.length).toBeGreaterThan(100);
          expect(changed.filter((i) => !touched.has(i))).toEqual([]);
        });

        test(`stores the nearest code to gain times code inside them: ${name}`, () => {
          const decoded = decodeWave(output);
          expect(decoded.channels.length).toBe(count);
          for (const [c, channel] of channels.entries()) {
            for (let i = 0; i < FRAMES; i++) {
              const exact = statedGain(LIST, i) * (channel[i] as number);
              const stored = decoded.channels[c]?.[i] as number;
              // Integers: half a step, and 1e-5 of one for two roundings of a double at 2^31. Floats: half a unit in
              // the last place of 24 bits, and as much again for a double on a tie.
              const bound = tag === 3 ? Math.abs(exact) * 2 ** -24 * 1.001 : 0.5 + 1e-5;
              expect(Math.abs(stored - exact)).toBeLessThanOrEqual(bound);
            }
          }
        });
      }
    }
  }

  test('float data gets the very samples that renderGain gives', () => {
    const channels = [codes(3, 32, FRAMES, 5), codes(3, 32, FRAMES, 6)];
    const bytes = makeWav({ tag: 3, bits: 32, channels });
    const rendered = renderGain(readGood(bytes).channels, LIST);
    const wav = readGood(treated(bytes, LIST));
    expect(wav.channels).toEqual(rendered);
  });

  test('regions that touch go from gain to gain, to the last sample of 24-bit data', () => {
    const list = listOf(
      [
        [10, 30, -6],
        [30, 50, -12, 8],
      ],
      60,
    );
    const channel = codes(1, 24, 60, 3);
    const decoded = decodeWave(treated(makeWav({ tag: 1, bits: 24, channels: [channel] }), list));
    const [first, second] = [10 ** (-6 / 20), 10 ** (-12 / 20)];
    for (let i = 10; i < 42; i++) {
      const gain = i < 30 ? first : i < 38 ? first + ((second - first) * (i - 30)) / 8 : second;
      expect(
        Math.abs((decoded.channels[0]?.[i] as number) - gain * (channel[i] as number)),
      ).toBeLessThanOrEqual(0.50001);
    }
  });

  test('bits below the valid ones stay zero', () => {
    const channel = codes(1, 20, 100, 4).map((code) => code * 16);
    const bytes = makeWav({ tag: 1, bits: 24, channels: [channel], extensible: true, validBits: 20 });
    const output = readGood(treated(bytes, listOf([[0, 100, -6]], 100)));
    const values = Array.from(output.channels[0] as Float32Array, (x) => x * 2 ** 19);
    expect(values.every(Number.isInteger)).toBe(true);
    const gain = 10 ** (-6 / 20);
    for (const [i, x] of values.entries())
      expect(Math.abs(x - (gain * (channel[i] as number)) / 16)).toBeLessThanOrEqual(0.50001);
  });

  test('a boost past full scale is held there and counted, never wrapped around', () => {
    const bytes = makeWav({ tag: 1, bits: 16, channels: [[30000, -30000, 100, 20000]] });
    const list = listOf([[0, 4, 6]], 4);
    expect(treatWav(readGood(bytes), list).overSamples).toBe(3);
    expect(Array.from(decodeWave(treated(bytes, list)).channels[0] as Float64Array)).toEqual([
      32767, -32768, 200, 32767,
    ]);
  });

  test('a cut of float data beyond full scale counts as no fault, a boost beyond it does', () => {
    const bytes = makeWav({ tag: 3, bits: 32, channels: [[4, 0.9]] });
    expect(treatWav(readGood(bytes), listOf([[0, 2, -6]], 2)).overSamples).toBe(0);
    expect(treatWav(readGood(bytes), listOf([[0, 2, 6]], 2)).overSamples).toBe(2);
  });

  test('the bytes passed in stay as they are, a Buffer too', () => {
    const buffer = Buffer.from(makeWav({ tag: 1, bits: 16, channels: [codes(1, 16, 100, 1)] }));
    const before = Buffer.alloc(buffer.length, buffer);
    expect(treated(buffer, listOf([[0, 100, -6]], 100)).equals(before)).toBe(false);
    expect(buffer.equals(before)).toBe(true);
  });

  test('without active regions there is nothing to change', () => {
    const bytes = makeWav({ tag: 1, bits: 16, channels: [[1, 2, 3]] });
    expect(treatWav(readGood(bytes), listOf([[0, 3, 0]], 3)).patches).toEqual([]);
    expect(treated(bytes, listOf([], 3))).toEqual(Buffer.from(bytes));
  });
});

describe('treatWav, where a region has a band', () => {
  const BAND: RegionBand = { lowHz: 4000, highHz: 24000 };
  const BANDED = setBand(LIST, [1, 3, 5], BAND);
  // Bands of bypassed regions and of those at 0 dB change nothing; region 2 keeps plain gain.
  const KERNEL = referenceKernel(BAND, bandTransitionHz(BAND, 48000), 48000);

  for (const [tag, bits] of FORMATS)
    for (const count of [1, 2]) {
      const name = `${bits}-bit ${tag === 3 ? 'float' : 'integer'}, ${count} channels`;
      const channels = Array.from({ length: count }, (_, c) => codes(tag, bits, FRAMES, c + 1));
      const bytes = makeWav({ tag, bits, channels, before: BEFORE, after: AFTER });
      const output = treated(bytes, BANDED);

      test(`stores the nearest code to code + (g − 1) times the band's part, filtered from the codes as they are: ${name}`, () => {
        const decoded = decodeWave(output);
        const most = tag === 3 ? Number.POSITIVE_INFINITY : 2 ** (bits - 1) - 1;
        for (const [c, channel] of channels.entries())
          for (let i = 0; i < FRAMES; i++) {
            const code = channel[i] as number;
            const gain = statedGain(BANDED, i);
            const exact = i === 60 ? gain * code : code + (gain - 1) * referencePart(KERNEL, channel, i);
            const held = Math.min(Math.max(exact, -most - 1), most);
            // As above; the transform adds 1e-13 of the loudest code, 2^31 · 1e-13 = 2e-4 of a step of 32 bits. A float's
            // half step, with the loudest values near 1, is 2^-24 of that, and its transform's error far below.
            const bound = tag === 3 ? Math.max(Math.abs(exact), 1e-3) * 2 ** -24 * 1.001 : 0.5 + 1e-3;
            expect(Math.abs((decoded.channels[c]?.[i] as number) - held)).toBeLessThanOrEqual(bound);
          }
      });

      test(`changes no byte outside active regions: ${name}`, () => {
        const frameBytes = (count * bits) / 8;
        const start = readGood(bytes).dataStartByte;
        const inside = (i: number): boolean => {
          const frame = Math.floor((i - start) / frameBytes);
          return (frame >= 0 && frame < 40) || frame === 60 || (frame >= 200 && frame < FRAMES);
        };
        const changed = Array.from(bytes.keys()).filter((i) => bytes[i] !== output[i]);
        expect(changed.length).toBeGreaterThan(100);
        expect(changed.every(inside)).toBe(true);
      });
    }

  test('float data gets the very samples that renderGain gives', () => {
    const channels = [codes(3, 32, FRAMES, 5), codes(3, 32, FRAMES, 6)];
    const bytes = makeWav({ tag: 3, bits: 32, channels });
    const rendered = renderGain(readGood(bytes).channels, BANDED);
    expect(readGood(treated(bytes, BANDED)).channels).toEqual(rendered);
  });

  test('a cut that raises a peak past full scale holds it there and counts it, never wraps it around', () => {
    // What the filter of the cut raises most in the middle: full-scale samples with the signs of its response.
    const middle = 200;
    const signs = Array.from({ length: 2 * middle + 1 }, (_, i) => {
      const h = KERNEL[i - middle + (KERNEL.length - 1) / 2] ?? 0;
      return Math.sign((i === middle ? 1 : 0) + (10 ** (-6 / 20) - 1) * h) || 1;
    });
    const list = setBand(listOf([[0, signs.length, -6]], signs.length), 1, BAND);
    const bytes = makeWav({ tag: 1, bits: 16, channels: [signs.map((s) => s * 32767)] });
    const { overSamples } = treatWav(readGood(bytes), list);
    const stored = decodeWave(treated(bytes, list)).channels[0] as Float64Array;
    const exact = signs.map(
      (s, i) => s * 32767 - (1 - 10 ** (-6 / 20)) * 32767 * referencePart(KERNEL, signs, i),
    );
    expect(stored[middle]).toBe(32767);
    expect(exact[middle]).toBeGreaterThan(40000);
    expect(overSamples).toBe(exact.filter((x) => x >= 32767.5 || x < -32768.5).length);
    expect(stored.every((x, i) => Math.sign(x) === Math.sign(Math.round(exact[i] as number)))).toBe(true);

    const floats = makeWav({ tag: 3, bits: 32, channels: [signs] });
    expect(treatWav(readGood(floats), list).overSamples).toBe(
      exact.filter((x) => Math.abs(x) > 32767).length,
    );
  });
});

test('roundHalfEven sends halves to the even neighbour and the rest to the nearest', () => {
  const cases = [
    [0.5, 0],
    [1.5, 2],
    [2.5, 2],
    [-0.5, -0],
    [-1.5, -2],
    [-2.5, -2],
    [2.4999, 2],
    [2.5001, 3],
    [-2.5001, -3],
    [-7, -7],
    [2 ** 31 - 0.5, 2 ** 31],
  ] as const;
  for (const [value, rounded] of cases) expect(roundHalfEven(value) + 0).toBe(rounded + 0);
});
