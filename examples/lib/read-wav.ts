import { readFileSync, statSync } from 'node:fs';
import { type Result, refuse } from './result.js';
import { systemProblem } from './system-problem.js';
import { readWav, type Wav } from './wav-bytes.js';

// Bytes are read in a browser too, which has no files: that part stands by itself.
export { readWav, type Wav };

/** Reads a WAV file from disk. Never throws. */
export function readWavFile(path: string): Result<Wav> {
  let bytes: Uint8Array;
  try {
    if (statSync(path).isDirectory()) return refuse('file', 'is a directory');
    bytes = readFileSync(path);
  } catch (error) {
    return { ok: false, problems: [systemProblem('file', error)] };
  }
  return readWav(bytes);
}
