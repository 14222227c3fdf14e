import { type Result, refuse } from './result.js';
import type { Chunk } from './riff-chunks.js';

/** How a WAV file stores its samples. */
export interface WavFormat {
  readonly encoding: 'integer' | 'float';
  /** Size of a stored sample. */
  readonly bitsPerSample: 16 | 24 | 32;
  /** Bits that carry signal, counted from the top; the bits below them are zero in the file and stay so. */
  readonly validBits: number;
  readonly channelCount: number;
  readonly sampleRateHz: number;
  /** True for the extensible form of the format chunk (tag 65534). */
  readonly extensible: boolean;
}

const INTEGER_TAG = 1;
const FLOAT_TAG = 3;
const EXTENSIBLE_TAG = 65534;

/** What follows the two-byte tag in a subformat identifier: {0000xxxx-0000-0010-8000-00AA00389B71}. */
const SUBFORMAT_TAIL = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];

/**
 * Reads the `fmt ` chunk of a WAV file: plain integer (tag 1), plain float (tag 3), or either as the subformat of the
 * extensible form (tag 65534). Source: Microsoft, Multiple Channel Audio Data and WAVE Files, 2007 (from memory).
 */
export function readWavFormat(bytes: Uint8Array, chunk: Chunk): Result<WavFormat> {
  if (chunk.sizeBytes < 16 || chunk.startByte + chunk.sizeBytes > bytes.length)
    return refuse('format chunk', 'is cut off');
  const view = new DataView(bytes.buffer, bytes.byteOffset + chunk.startByte, chunk.sizeBytes);
  const outerTag = view.getUint16(0, true);
  const channelCount = view.getUint16(2, true);
  const sampleRateHz = view.getUint32(4, true);
  const frameBytes = view.getUint16(12, true);
  const bits = view.getUint16(14, true);

  const extensible = outerTag === EXTENSIBLE_TAG;
  if (extensible) {
    if (chunk.sizeBytes < 40) return refuse('format chunk', 'is cut off');
    if (SUBFORMAT_TAIL.some((byte, i) => view.getUint8(26 + i) !== byte))
      return refuse('subformat', 'must be integer or float samples', 'an unknown identifier');
  }
  const tag = extensible ? view.getUint16(24, true) : outerTag;
  const encoding = tag === INTEGER_TAG ? 'integer' : tag === FLOAT_TAG ? 'float' : undefined;
  const supported = 'must be 16-, 24- or 32-bit integer or 32-bit float';
  if (encoding === undefined) return refuse('sample format', supported, `format tag ${tag}`);
  if ((bits !== 16 && bits !== 24 && bits !== 32) || (encoding === 'float' && bits !== 32))
    return refuse('sample format', supported, `${bits}-bit ${encoding}`);
  if (channelCount < 1 || channelCount > 8)
    return refuse('channel count', 'must lie within 1 to 8', String(channelCount));
  if (sampleRateHz < 8000 || sampleRateHz > 192000)
    return refuse('sample rate', 'must lie within 8000 to 192000 Hz', String(sampleRateHz));
  if (frameBytes !== (channelCount * bits) / 8)
    return refuse(
      'bytes per frame',
      `must be ${(channelCount * bits) / 8} by the other fields`,
      String(frameBytes),
    );
  const statedBits = extensible && encoding === 'integer' ? view.getUint16(18, true) : bits;
  if (statedBits > bits) return refuse('valid bits', `must be at most ${bits}`, String(statedBits));
  // Some writers leave the field 0 to say "all of them".
  const validBits = statedBits === 0 ? bits : statedBits;
  return {
    ok: true,
    value: { encoding, bitsPerSample: bits, validBits, channelCount, sampleRateHz, extensible },
  };
}

/** The format in words: "24-bit", "32-bit float". */
export function describeFormat(format: WavFormat): string {
  return `${format.bitsPerSample}-bit${format.encoding === 'float' ? ' float' : ''}`;
}
