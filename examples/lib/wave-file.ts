// The package must be taken by its default export: in an ES module its named exports are not seen.
import wavefile from 'wavefile';

/** Depth codes of the encoder. */
export type WaveDepth = '16' | '24' | '32' | '32f';

/** What a decoded WAV file holds: integer codes as they are stored, or float values. */
export interface DecodedWave {
  readonly sampleRateHz: number;
  readonly depth: string;
  readonly channels: readonly Float64Array[];
}

/** A WAV file from integer codes (or float values for '32f'), one array a channel. */
export function encodeWave(
  channels: readonly ArrayLike<number>[],
  options: { readonly sampleRateHz: number; readonly depth: WaveDepth },
): Uint8Array {
  const file = new wavefile.WaveFile();
  // One channel must be passed bare: a list of one is taken for samples.
  const samples = channels.length === 1 ? (channels[0] as ArrayLike<number>) : [...channels];
  file.fromScratch(channels.length, options.sampleRateHz, options.depth, samples);
  return withPadByte(file.toBuffer());
}

/** Decodes a WAV file without dither, scaling or clipping. */
export function decodeWave(bytes: Uint8Array): DecodedWave {
  const file = new wavefile.WaveFile(withPlainFloatTag(bytes));
  const { numChannels, sampleRate } = file.fmt as { numChannels: number; sampleRate: number };
  const samples = file.getSamples() as unknown as Float64Array | Float64Array[];
  const channels = numChannels === 1 ? [samples as Float64Array] : (samples as Float64Array[]);
  return { sampleRateHz: sampleRate, depth: file.bitDepth, channels };
}

/**
 * The package writes data of odd length (24-bit, odd channel and frame count) without the pad byte that RIFF asks for.
 * The data chunk is the last one here, so the byte goes at the end.
 */
function withPadByte(bytes: Uint8Array): Uint8Array {
  if (bytes.length % 2 === 0) return bytes;
  const padded = new Uint8Array(bytes.length + 1);
  padded.set(bytes);
  new DataView(padded.buffer).setUint32(4, padded.length - 8, true);
  return padded;
}

/**
 * The package reads extensible float data as integers: it looks at the outer tag alone (65534). The subformat's tag is
 * put in its place, in a copy.
 */
function withPlainFloatTag(bytes: Uint8Array): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let at = 12; at + 8 <= bytes.length; ) {
    const size = view.getUint32(at + 4, true);
    if (view.getUint32(at, false) === 0x666d7420 && size >= 40 && view.getUint16(at + 8, true) === 65534) {
      const subformat = view.getUint16(at + 8 + 24, true);
      if (subformat !== 3) return bytes;
      // Not slice(): on a Buffer that would be a view.
      const copy = new Uint8Array(bytes);
      new DataView(copy.buffer).setUint16(at + 8, subformat, true);
      return copy;
    }
    at += 8 + size + (size % 2);
  }
  return bytes;
}
