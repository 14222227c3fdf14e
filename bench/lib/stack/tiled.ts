import type { Samples } from '../../../src/signal/samples.js';

/** A clip again and again, `length` samples of it, from sample `from` on. */
export function tiled(clip: Samples, length: number, from: number = 0): Samples {
  const out = new Float32Array(length);
  for (let at = 0, read = from % clip.length; at < length; read = 0) {
    const piece = clip.subarray(read, Math.min(clip.length, read + length - at));
    out.set(piece, at);
    at += piece.length;
  }
  return out;
}
