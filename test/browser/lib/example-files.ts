import { SINGERS } from '../../../examples/lib/demo/singers.js';
import { renderTake } from '../../../examples/lib/demo/take.js';
import { type OwnChunk, writeOwnWav } from './own-wav.js';

/** A file as a page is handed it. */
export interface PageFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** What an editor may have put before the samples, and a text of odd length, which is padded, behind them. */
export const BEFORE: OwnChunk = {
  id: 'bext',
  body: Buffer.from(Array.from({ length: 602 }, (_, i) => (i * 7) % 256)),
};
export const AFTER: OwnChunk = { id: 'note', body: Buffer.from('odd', 'latin1') };

/** A stereo take at 44.1 kHz in 16 bits, other than the one that the page has: the second singer, one channel softer. */
export function stereoTake(): PageFile {
  const { samples } = renderTake(SINGERS[1]!, 44_100);
  const softer = samples.map((x) => 0.7 * x);
  const buffer = writeOwnWav([samples, softer], {
    sampleRateHz: 44_100,
    bits: 16,
    before: [BEFORE],
    after: [AFTER],
  });
  return { name: 'second singer.wav', mimeType: 'audio/wav', buffer };
}

/** Five minutes of one channel at 48 kHz in 24 bits: the song over and over. */
export function longTake(): PageFile {
  const { samples } = renderTake(SINGERS[0]!, 48_000);
  const long = new Float32Array(300 * 48_000);
  for (let at = 0; at < long.length; at += samples.length)
    long.set(samples.subarray(0, Math.min(samples.length, long.length - at)), at);
  return {
    name: 'five minutes.wav',
    mimeType: 'audio/wav',
    buffer: writeOwnWav([long], { sampleRateHz: 48_000, bits: 24 }),
  };
}
