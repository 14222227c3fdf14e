import { closeSync, createReadStream, fstatSync, openSync, readSync } from 'node:fs';
import type { Samples } from '../../src/signal/samples.js';
import { type Result, refuse } from './result.js';
import { fourLetters } from './riff-chunks.js';
import { sampleCodec } from './sample-codec.js';
import { systemProblem } from './system-problem.js';
import { readWavFormat, type WavFormat } from './wav-format.js';

/** A WAV file that is read piece by piece. */
export interface WavStream {
  readonly format: WavFormat;
  /** Everything before the samples, as it is in the file: a copy with as many samples begins with it. */
  readonly head: Uint8Array;
  /** Samples per channel. */
  readonly lengthSamples: number;
  /** The samples in order, as many at a time as the disk gives and about `blockSamples`; one array a channel. */
  blocks(blockSamples: number): AsyncGenerator<Samples[]>;
}

/** Reads what a WAV file says about itself; its samples are left on the disk. Never throws. */
export function openWavStream(path: string): Result<WavStream> {
  let file: number | undefined;
  try {
    file = openSync(path, 'r');
    return readHead(path, file);
  } catch (error) {
    return { ok: false, problems: [systemProblem('file', error)] };
  } finally {
    if (file !== undefined) closeSync(file);
  }
}

function readHead(path: string, file: number): Result<WavStream> {
  const read = (startByte: number, length: number): Uint8Array => {
    const bytes = new Uint8Array(length);
    return bytes.subarray(0, readSync(file, bytes, 0, length, startByte));
  };
  const container = read(0, 12);
  if (container.length < 12 || fourLetters(container, 0) !== 'RIFF' || fourLetters(container, 8) !== 'WAVE')
    return refuse('file', 'is not a WAV file');
  let format: WavFormat | undefined;
  for (let at = 12; ; ) {
    const header = read(at, 8);
    if (header.length < 8) return refuse('file', 'is truncated or damaged: it has no format or data chunk');
    const sizeBytes = new DataView(header.buffer).getUint32(4, true);
    const id = fourLetters(header, 0);
    if (id === 'fmt ' && format === undefined) {
      const bytes = read(at + 8, Math.min(sizeBytes, 40));
      const result = readWavFormat(bytes, { id, startByte: 0, sizeBytes: bytes.length });
      if (!result.ok) return result;
      format = result.value;
    }
    if (id === 'data' && format !== undefined) {
      const frameBytes = (format.channelCount * format.bitsPerSample) / 8;
      if (fstatSync(file).size < at + 8 + sizeBytes || sizeBytes % frameBytes !== 0)
        return refuse('data chunk', 'is cut off', `${sizeBytes} bytes stated`);
      return { ok: true, value: wavStream(path, format, read(0, at + 8), sizeBytes / frameBytes) };
    }
    at += 8 + sizeBytes + (sizeBytes % 2);
  }
}

function wavStream(path: string, format: WavFormat, head: Uint8Array, lengthSamples: number): WavStream {
  const frameBytes = (format.channelCount * format.bitsPerSample) / 8;
  return {
    format,
    head,
    lengthSamples,
    async *blocks(blockSamples) {
      if (lengthSamples === 0) return;
      const start = head.length;
      const end = start + lengthSamples * frameBytes - 1;
      const chunks = createReadStream(path, { start, end, highWaterMark: blockSamples * frameBytes });
      for await (const bytes of wholeFrames(chunks, frameBytes)) yield decodeFrames(bytes, format);
    },
  };
}

/** The same bytes in pieces of whole frames: a disk may give fewer bytes than it was asked for. */
export async function* wholeFrames(
  chunks: AsyncIterable<Uint8Array>,
  frameBytes: number,
): AsyncGenerator<Uint8Array> {
  let rest: Uint8Array = new Uint8Array(0);
  for await (const chunk of chunks) {
    const bytes = rest.length === 0 ? chunk : Buffer.concat([rest, chunk]);
    const whole = bytes.length - (bytes.length % frameBytes);
    if (whole > 0) yield bytes.subarray(0, whole);
    rest = bytes.subarray(whole);
  }
}

/** Stored frames as samples, one array a channel. */
function decodeFrames(bytes: Uint8Array, format: WavFormat): Samples[] {
  const { bytesPerSample, fullScale, read } = sampleCodec(bytes, format);
  const frameBytes = format.channelCount * bytesPerSample;
  return Array.from({ length: format.channelCount }, (_, c) => {
    const channel = new Float32Array(bytes.length / frameBytes);
    for (let i = 0; i < channel.length; i++)
      channel[i] = read(i * frameBytes + c * bytesPerSample) / fullScale;
    return channel;
  });
}

/** Samples as stored frames, the way back; codes are rounded to the nearest and held at full scale. */
export function encodeFrames(channels: readonly Samples[], format: WavFormat): Uint8Array {
  const length = (channels[0] as Samples).length;
  const bytes = new Uint8Array((length * format.channelCount * format.bitsPerSample) / 8);
  const { bytesPerSample, fullScale, write } = sampleCodec(bytes, format);
  for (const [c, channel] of channels.entries())
    for (let i = 0; i < length; i++)
      write((i * format.channelCount + c) * bytesPerSample, (channel[i] as number) * fullScale);
  return bytes;
}
