import { freezeList } from '../../src/regions/freeze-region.js';
import type { RegionList } from '../../src/regions/region.js';

export type ChunkParts = readonly (readonly [id: string, content: Uint8Array])[];

export interface MadeWav {
  /** 1 integer, 3 float. */
  readonly tag: number;
  readonly bits: number;
  /** Codes (or float values), one array a channel. */
  readonly channels: readonly (readonly number[])[];
  readonly sampleRateHz?: number;
  readonly extensible?: boolean;
  readonly validBits?: number;
  readonly before?: ChunkParts;
  readonly after?: ChunkParts;
}

export const text = (value: string): Uint8Array => new TextEncoder().encode(value);

const TAIL = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];

/** A WAV file byte by byte, written without the code under test. */
export function makeWav(made: MadeWav): Uint8Array {
  const { tag, bits, channels, sampleRateHz = 48000, extensible = false } = made;
  const frameBytes = (channels.length * bits) / 8;
  const fmt = new DataView(new ArrayBuffer(extensible ? 40 : 16));
  fmt.setUint16(0, extensible ? 65534 : tag, true);
  fmt.setUint16(2, channels.length, true);
  fmt.setUint32(4, sampleRateHz, true);
  fmt.setUint32(8, sampleRateHz * frameBytes, true);
  fmt.setUint16(12, frameBytes, true);
  fmt.setUint16(14, bits, true);
  if (extensible) {
    fmt.setUint16(16, 22, true);
    fmt.setUint16(18, made.validBits ?? bits, true);
    fmt.setUint16(24, tag, true);
    for (const [i, byte] of TAIL.entries()) fmt.setUint8(26 + i, byte);
  }
  const frames = channels[0]?.length ?? 0;
  const data = Buffer.alloc(frames * frameBytes);
  let at = 0;
  for (let i = 0; i < frames; i++) {
    for (const channel of channels) {
      if (tag === 3 && bits === 32) data.writeFloatLE(channel[i] as number, at);
      else if (tag === 3) data.writeDoubleLE(channel[i] as number, at);
      else if (bits === 8) data.writeUInt8(channel[i] as number, at);
      else data.writeIntLE(channel[i] as number, at, bits / 8);
      at += bits / 8;
    }
  }
  return riff([
    ...(made.before ?? []),
    ['fmt ', new Uint8Array(fmt.buffer)],
    ['data', data],
    ...(made.after ?? []),
  ]);
}

/** A RIFF WAVE file of the given chunks, each of odd length followed by a pad byte. */
export function riff(chunks: ChunkParts, container = 'RIFF'): Uint8Array {
  const parts = chunks.map(([id, content]) => {
    const head = Buffer.alloc(8);
    head.write(id, 'latin1');
    head.writeUInt32LE(content.length, 4);
    return Buffer.concat([head, content, Buffer.alloc(content.length % 2)]);
  });
  const body = Buffer.concat([Buffer.from('WAVE'), ...parts]);
  const head = Buffer.alloc(8);
  head.write(container, 'latin1');
  head.writeUInt32LE(body.length, 4);
  return new Uint8Array(Buffer.concat([head, body]));
}

/** Repeatable numbers in [0, 1): a linear congruence (Numerical Recipes' constants), enough to fill a file. */
export function noise(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Codes over the whole range of a format, both ends included; floats may exceed full scale a little. */
export function codes(tag: number, bits: number, frames: number, seed: number): number[] {
  const next = noise(seed);
  const full = 2 ** (bits - 1);
  return Array.from({ length: frames }, (_, i) => {
    if (tag === 3) return Math.fround((next() - 0.5) * 2.2);
    if (i % 50 === 0) return -full;
    if (i % 50 === 1) return full - 1;
    return Math.floor(next() * 2 * full) - full;
  });
}

/** Regions by hand: [start, end, gain in dB, fade length, bypassed]. */
export type Span = readonly [start: number, end: number, gainDb: number, fade?: number, bypassed?: boolean];

export function listOf(spans: readonly Span[], lengthSamples: number, sampleRateHz = 48000): RegionList {
  const regions = spans.map(([startSample, endSample, gainDb, fade = 0, bypassed = false], i) => ({
    id: i + 1,
    kind: 'sibilant' as const,
    onsetSample: null,
    offsetSample: null,
    startSample,
    endSample,
    gainDb,
    confidence: 1,
    bypassed,
    locked: false,
    fadeInSamples: fade,
    fadeOutSamples: fade,
    fadeShape: 'linear' as const,
    label: '',
    reason: { rule: 'byHand', numbers: {} },
  }));
  return freezeList({ sampleRateHz, lengthSamples, nextId: spans.length + 1, regions });
}
