import type { CueLength, CuePointChunks } from '../../src/exchange/cue-point-chunks.js';
import { readWav } from './read-wav.js';
import { type Result, refuse } from './result.js';
import { fourLetters, riffChunks } from './riff-chunks.js';

/**
 * A WAV file with cue points behind its chunks, as pieces to be written one after another. Every byte of the input stays as it is and
 * where it is, but for the length in its head; where its last chunk lacks the pad byte, it gets one. wavefile itself would
 * drop chunks that it does not know, loses cue points behind data of odd length, and needs a time in the square of their number.
 *
 * Refused: what readWav refuses, a file that has cue points already (they are somebody's, and a file holds one set), and a
 * result over 4 GB. Never throws.
 */
export function withCuePoints(bytes: Uint8Array, chunks: CuePointChunks): Result<readonly Uint8Array[]> {
  const wav = readWav(bytes);
  if (!wav.ok) return wav;
  let end = 12;
  for (const { id, startByte, sizeBytes } of riffChunks(bytes)) {
    if (startByte + sizeBytes > bytes.length) return refuse('file', `is truncated in its chunk ${id}`);
    if (id === 'cue ' || (id === 'LIST' && fourLetters(bytes, startByte) === 'adtl'))
      return refuse('file', 'has cue points already');
    end = startByte + sizeBytes + (sizeBytes % 2);
  }
  const added = cueChunkBytes(chunks);
  const body = bytes.subarray(8, Math.min(end, bytes.length));
  const pad = new Uint8Array(end - 8 - body.length);
  const riffBytes = end - 8 + added.length;
  if (riffBytes >= 2 ** 32) return refuse('file', 'would grow over 4 GB', `${riffBytes} bytes`);
  const head = new Uint8Array(bytes.subarray(0, 8));
  new DataView(head.buffer).setUint32(4, riffBytes, true);
  return { ok: true, value: [head, body, pad, added, bytes.subarray(Math.min(end, bytes.length))] };
}

/**
 * The chunks `cue ` and `LIST` as bytes. Source: IBM and Microsoft, Multimedia Programming Interface and Data
 * Specifications 1.0, 1991, pages 56 to 65.
 */
export function cueChunkBytes({ cue, LIST }: CuePointChunks): Uint8Array {
  const sizes = [cue, ...LIST].map(({ chunkSize }) => 8 + chunkSize);
  const view = new DataView(new ArrayBuffer(sizes.reduce((a, b) => a + b, 0)));
  let at = 0;
  const letters = (text: string): void => {
    for (let i = 0; i < text.length; i++) view.setUint8(at++, text.charCodeAt(i));
  };
  const words = (...values: readonly number[]): void => {
    for (const value of values) {
      view.setUint32(at, value, true);
      at += 4;
    }
  };
  letters(cue.chunkId);
  words(cue.chunkSize, cue.dwCuePoints);
  for (const point of cue.points) {
    words(point.dwName, point.dwPosition);
    letters(point.fccChunk);
    words(point.dwChunkStart, point.dwBlockStart, point.dwSampleOffset);
  }
  for (const { chunkId, chunkSize, format, subChunks } of LIST) {
    letters(chunkId);
    words(chunkSize);
    letters(format);
    for (const chunk of subChunks) {
      letters(chunk.chunkId);
      words(chunk.chunkSize, chunk.dwName);
      if (chunk.chunkId === 'ltxt') lengthFields(chunk, words);
      else letters(chunk.value);
      // The zero behind a text, and the pad byte of an odd size: the buffer holds zeros already.
      at += chunk.chunkId === 'labl' ? 1 + (chunk.chunkSize % 2) : 0;
    }
  }
  return new Uint8Array(view.buffer);
}

function lengthFields(chunk: CueLength, words: (...values: number[]) => void): void {
  words(chunk.dwSampleLength, chunk.dwPurposeID);
  words(chunk.dwCountry + chunk.dwLanguage * 65536, chunk.dwDialect + chunk.dwCodePage * 65536);
}
