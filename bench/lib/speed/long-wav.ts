import { closeSync, openSync, writeSync } from 'node:fs';
import type { WavFormat } from '../../../examples/lib/wav-format.js';
import { encodeFrames } from '../../../examples/lib/wav-stream.js';
import { encodeWave } from '../../../examples/lib/wave-file.js';
import type { Samples } from '../../../src/signal/samples.js';

const BYTES_PER_SAMPLE = 3;

/** Writes a take over and over as a 24-bit WAV file of one channel, `seconds` long; never all of it in memory. */
export function writeLongWav(path: string, take: Samples, seconds: number, sampleRateHz: number): void {
  const length = Math.round(seconds * sampleRateHz);
  const format: WavFormat = {
    encoding: 'integer',
    bitsPerSample: 24,
    validBits: 24,
    channelCount: 1,
    sampleRateHz,
    extensible: false,
  };
  const bytes = encodeFrames([take], format);
  const file = openSync(path, 'w');
  writeSync(file, headOf(length, sampleRateHz));
  for (let written = 0; written < length; written += take.length) {
    const count = Math.min(take.length, length - written);
    writeSync(file, bytes, 0, count * BYTES_PER_SAMPLE);
  }
  // RIFF chunks have an even length.
  if ((length * BYTES_PER_SAMPLE) % 2 === 1) writeSync(file, new Uint8Array(1));
  closeSync(file);
}

/** The head of a file without samples, with the lengths of the long one. */
function headOf(lengthSamples: number, sampleRateHz: number): Uint8Array {
  const head = encodeWave([new Int32Array(0)], { sampleRateHz, depth: '24' });
  const dataBytes = lengthSamples * BYTES_PER_SAMPLE;
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  view.setUint32(4, head.length - 8 + dataBytes + (dataBytes % 2), true);
  view.setUint32(head.length - 4, dataBytes, true);
  return head;
}
