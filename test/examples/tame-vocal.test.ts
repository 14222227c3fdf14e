import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readWav } from '../../examples/lib/read-wav.js';
import { decodeWave } from '../../examples/lib/wave-file.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { makeWav, noise } from './make-wav.js';
import { namesIn, put, temporaryDirectory } from './run.js';

const ROOT = new URL('../..', import.meta.url).pathname;

/** The command as a process of its own, as `npm start` runs it. */
function start(...args: string[]): { code: number | null; out: string; err: string } {
  const ran = spawnSync(process.execPath, ['--import', 'tsx', 'examples/tame-vocal.ts', ...args], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** Half a second each of a buzz like a vowel, hiss like an s, and the buzz again, at 48 kHz; 24-bit codes. */
function buzzHissBuzz(): number[] {
  const next = noise(1);
  let last = 0;
  return Array.from({ length: 72000 }, (_, i) => {
    let x = 0;
    for (let k = 1; k < 15; k++) x += Math.sin((2 * Math.PI * 160 * k * i) / 48000) / k ** 1.5;
    const white = next() - 0.5;
    // The difference of successive samples tilts the noise up by 6 dB an octave.
    const hiss = white - last;
    last = white;
    return Math.round((i >= 24000 && i < 48000 ? 0.3 * hiss : 0.1 * x) * 2 ** 23);
  });
}

test('the process treats the good file, refuses the bad one in one line and ends with 2', () => {
  const home = temporaryDirectory();
  const out = join(home, 'out');
  const good = put(home, 'good.wav', makeWav({ tag: 1, bits: 24, channels: [buzzHissBuzz()] }));
  const ran = start('--out', out, good, join(home, 'gone.wav'));
  expect(ran.err).toBe(`${join(home, 'gone.wav')}: file does not exist\n`);
  expect(ran.code).toBe(2);
  expect(namesIn(out)).toEqual(['good.regions.json', 'good.svg', 'good.tamed.wav']);
  expect(readFileSync(join(out, 'good.svg'), 'utf8')).toMatch(/^(<\?xml[^>]*>\s*)?<svg[\s>]/);

  const list = regionsFromJson(readFileSync(join(out, 'good.regions.json'), 'utf8'));
  const input = readWav(readFileSync(good));
  if (!list.ok || !input.ok) throw new Error('unreadable');
  // One step of 24 bits: half of it for the stored code, half for the single precision of renderGain.
  const rendered = renderGain(input.value.channels, list.value)[0] as Float32Array;
  const stored = decodeWave(readFileSync(join(out, 'good.tamed.wav'))).channels[0] as Float64Array;
  for (const [i, x] of rendered.entries())
    expect(Math.abs((stored[i] as number) - x * 2 ** 23)).toBeLessThanOrEqual(1);
  expect(ran.out).toContain('Originals are unchanged.');
});

test('the process prints its help and ends with 0', () => {
  const ran = start('--help');
  expect([ran.code, ran.err]).toEqual([0, '']);
  expect(ran.out).toContain('--min-confidence');
});
