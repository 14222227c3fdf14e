// Writes vocal.wav of a depth and a number of channels, runs the newcomer's script on it and compares what it wrote:
// the hum must be the input's to the bit, the middle of the hiss 6 dB lower.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import wavefile from 'wavefile';
import { END, makeClip, START } from './material.cjs';

const [, , depth, count] = process.argv;
const fullScale = depth === '32f' ? 1 : 2 ** (Number(depth) - 1);
// Adding 0 makes 0 of −0, which no integer file can hold.
const codes = Float64Array.from(makeClip(), (x) => (depth === '32f' ? x : Math.round(x * fullScale) + 0));
const file = new wavefile.WaveFile();
file.fromScratch(Number(count), 48000, depth, count === '1' ? codes : [codes, codes]);

// Within the project's folder, so that the script finds its packages.
const folder = mkdtempSync(join(import.meta.dirname ?? process.cwd(), 'first-'));
try {
  const original = file.toBuffer();
  writeFileSync(join(folder, 'vocal.wav'), original);
  execFileSync(process.execPath, [join('..', 'first-script.mjs')], { cwd: folder, stdio: 'inherit' });
  assert.deepEqual(
    Buffer.from(original),
    readFileSync(join(folder, 'vocal.wav')),
    'the recording was changed',
  );
  const tamed = new wavefile.WaveFile(readFileSync(join(folder, 'vocal.tamed.wav')));
  assert.equal(tamed.fmt.sampleRate, 48000);
  const channels = [tamed.getSamples()].flat();
  assert.equal(channels.length, Number(count));
  for (const channel of channels) {
    assert.equal(channel.length, codes.length);
    // 50 ms is more than any edge or fade reaches beyond the hiss.
    for (let n = 0; n < codes.length; n++)
      if (n < START - 2400 || n >= END + 2400) assert.equal(channel[n] * fullScale, codes[n], `sample ${n}`);
    const lowered = channel.filter(
      (x, n) => n >= START && n < END && Math.abs(x * fullScale) < 0.51 * Math.abs(codes[n]),
    );
    // A cut by 6 dB leaves 0.501; more than half the hiss must have it.
    assert.ok(lowered.length > (END - START) / 2, `${lowered.length} samples are lowered`);
  }
  console.log(`ok ${depth}, ${count} channels: nothing changed outside the hiss`);
} finally {
  rmSync(folder, { recursive: true });
}
