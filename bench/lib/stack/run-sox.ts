import { spawnSync } from 'node:child_process';
import type { Chain } from '../../../src/forecast/chain.js';
import type { Samples } from '../../../src/signal/samples.js';
import { soxEffects } from './sox-effects.js';

/** Room above full scale: sox's samples end at ±1, and a chain with make-up goes beyond. Its integers of 32 bits leave 160 dB below. */
const HEADROOM_DB = 24;

/** Whether sox can be run here. */
export function hasSox(): boolean {
  return spawnSync('sox', ['--version']).status === 0;
}

/** The clip as sox makes it with the same chain. Throws where sox fails or clips. */
export function runSox(samples: Samples, chain: Chain, sampleRateHz: number): Samples {
  const scale = 10 ** (HEADROOM_DB / 20);
  const input = samples.map((x) => x / scale);
  const raw = ['-t', 'raw', '-e', 'floating-point', '-b', '32', '-L', '-c', '1', '-r', String(sampleRateHz)];
  const run = spawnSync('sox', ['-D', ...raw, '-', ...raw, '-', ...soxEffects(chain, HEADROOM_DB)], {
    input: new Uint8Array(input.buffer, input.byteOffset, input.byteLength),
    maxBuffer: 2 ** 30,
  });
  const complaint = run.stderr?.toString() ?? String(run.error);
  if (run.status !== 0 || /clipped/.test(complaint)) throw new Error(`sox: ${complaint}`);
  const { buffer, byteOffset, byteLength } = run.stdout;
  const out = new Float32Array(buffer.slice(byteOffset, byteOffset + byteLength));
  if (out.length !== samples.length) throw new Error(`sox gave ${out.length} samples of ${samples.length}`);
  return out.map((x) => x * scale);
}
