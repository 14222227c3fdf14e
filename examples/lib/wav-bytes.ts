import type { Samples } from '../../src/signal/samples.js';
import { type Result, refuse } from './result.js';
import { type Chunk, fourLetters, riffChunks } from './riff-chunks.js';
import { sampleCodec } from './sample-codec.js';
import { readWavFormat, type WavFormat } from './wav-format.js';

/** A WAV file: its bytes as they are, where its samples lie in them, and the samples as channels of floats. */
export interface Wav {
  readonly bytes: Uint8Array;
  readonly format: WavFormat;
  /** First byte of the sample data. */
  readonly dataStartByte: number;
  /** Samples per channel. */
  readonly lengthSamples: number;
  /** For listening by the library; 24- and 32-bit codes do not all fit a float, so gain is applied to the bytes. */
  readonly channels: readonly Samples[];
}

/** Reads the bytes of a WAV file: 16-, 24-, 32-bit integer or 32-bit float, plain or extensible. Never throws. */
export function readWav(bytes: Uint8Array): Result<Wav> {
  if (bytes.length === 0) return refuse('file', 'is empty');
  const container = fourLetters(bytes, 0);
  if (container === 'RF64' || container === 'BW64')
    return refuse('file', 'is a 64-bit WAV, which is not read; save it as a plain WAV below 4 GB', container);
  if (bytes.length < 12 || container !== 'RIFF' || fourLetters(bytes, 8) !== 'WAVE')
    return refuse('file', 'is not a WAV file', `first bytes ${JSON.stringify(container)}`);

  let formatChunk: Chunk | undefined;
  let data: Chunk | undefined;
  for (const chunk of riffChunks(bytes)) {
    if (chunk.id === 'fmt ') formatChunk ??= chunk;
    if (chunk.id === 'data') data ??= chunk;
    if (formatChunk !== undefined && data !== undefined) break;
  }
  if (formatChunk === undefined) return refuse('file', 'is truncated or damaged: it has no format chunk');
  const format = readWavFormat(bytes, formatChunk);
  if (!format.ok) return format;
  if (data === undefined) return refuse('file', 'is truncated or damaged: it has no data chunk');
  const there = bytes.length - data.startByte;
  if (there < data.sizeBytes)
    return refuse('file', `is truncated: its data chunk says ${data.sizeBytes} bytes`, `${there} bytes`);
  const frameBytes = (format.value.channelCount * format.value.bitsPerSample) / 8;
  if (data.sizeBytes === 0) return refuse('file', 'holds no samples');
  if (data.sizeBytes % frameBytes !== 0)
    return refuse('data chunk', `must be whole frames of ${frameBytes} bytes`, `${data.sizeBytes} bytes`);
  return decode(bytes, format.value, data);
}

function decode(bytes: Uint8Array, format: WavFormat, data: Chunk): Result<Wav> {
  const { channelCount } = format;
  const codec = sampleCodec(bytes, format);
  const frameBytes = channelCount * codec.bytesPerSample;
  const lengthSamples = data.sizeBytes / frameBytes;
  const channels: Samples[] = [];
  for (let c = 0; c < channelCount; c++) {
    const channel = new Float32Array(lengthSamples);
    let at = data.startByte + c * codec.bytesPerSample;
    for (let i = 0; i < lengthSamples; i++, at += frameBytes) {
      const value = codec.read(at);
      // Only float data can fail this: x − x is NaN for NaN and for the infinities.
      if (value - value !== 0)
        return refuse(`sample ${i} of channel ${c + 1}`, 'is not a finite number', String(value));
      channel[i] = value / codec.fullScale;
    }
    channels.push(channel);
  }
  return { ok: true, value: { bytes, format, dataStartByte: data.startByte, lengthSamples, channels } };
}
