import type { WavFormat } from './wav-format.js';

/** Reads and writes stored samples at byte offsets: integer codes or float values, as doubles, so no bit is lost. */
export interface SampleCodec {
  readonly bytesPerSample: number;
  /** Code that stands for 1.0; 1 for float data. */
  readonly fullScale: number;
  readonly read: (atByte: number) => number;
  /**
   * Rounds to the nearest code, ties to even, without dither. Returns false where the value lies beyond full scale:
   * integers are then held at full scale, floats are stored as they are.
   */
  readonly write: (atByte: number, value: number) => boolean;
}

/** The nearest whole number; halves go to the even neighbour, so rounding has no bias. */
export function roundHalfEven(value: number): number {
  const below = Math.floor(value);
  const rest = value - below;
  if (rest !== 0.5) return rest < 0.5 ? below : below + 1;
  return below % 2 === 0 ? below : below + 1;
}

/** The codec of a format over a stretch of bytes. */
export function sampleCodec(bytes: Uint8Array, format: WavFormat): SampleCodec {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const bytesPerSample = format.bitsPerSample / 8;
  if (format.encoding === 'float') {
    const read = (at: number): number => view.getFloat32(at, true);
    const write = (at: number, value: number): boolean => {
      view.setFloat32(at, value, true);
      return Math.abs(value) <= 1;
    };
    return { bytesPerSample, fullScale: 1, read, write };
  }

  const fullScale = 2 ** (format.bitsPerSample - 1);
  const step = 2 ** (format.bitsPerSample - format.validBits);
  const integer = integerAccess(view, format.bitsPerSample);
  const write = (at: number, value: number): boolean => {
    const code = roundHalfEven(value / step) * step;
    const clipped = Math.min(Math.max(code, -fullScale), fullScale - step);
    integer.set(at, clipped);
    return clipped === code;
  };
  return { bytesPerSample, fullScale, read: integer.get, write };
}

interface IntegerAccess {
  readonly get: (at: number) => number;
  readonly set: (at: number, code: number) => void;
}

function integerAccess(view: DataView, bits: 16 | 24 | 32): IntegerAccess {
  if (bits === 16)
    return { get: (at) => view.getInt16(at, true), set: (at, code) => view.setInt16(at, code, true) };
  if (bits === 32)
    return { get: (at) => view.getInt32(at, true), set: (at, code) => view.setInt32(at, code, true) };
  return {
    get: (at) => (view.getInt8(at + 2) << 16) | view.getUint16(at, true),
    set: (at, code) => {
      view.setUint16(at, code & 0xffff, true);
      view.setInt8(at + 2, code >> 16);
    },
  };
}
