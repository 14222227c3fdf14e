import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readWav } from '../../examples/lib/read-wav.js';
import { encodeFrames, openWavStream, wholeFrames } from '../../examples/lib/wav-stream.js';
import { codes, makeWav, riff, text } from './make-wav.js';

const folder = mkdtempSync(join(tmpdir(), 'lenition-test-'));
let made = 0;
function stored(bytes: Uint8Array): string {
  const path = join(folder, `${made++}.wav`);
  writeFileSync(path, bytes);
  return path;
}

async function readAll(path: string, blockSamples: number): Promise<number[][]> {
  const opened = openWavStream(path);
  if (!opened.ok) throw new Error(opened.problems[0]?.rule);
  const channels: number[][] = Array.from({ length: opened.value.format.channelCount }, () => []);
  for await (const block of opened.value.blocks(blockSamples))
    for (const [c, samples] of block.entries()) channels[c]?.push(...samples);
  return channels;
}

describe('a WAV file read piece by piece', () => {
  const cases = [
    { tag: 1, bits: 16, count: 1 },
    { tag: 1, bits: 24, count: 3 },
    { tag: 1, bits: 32, count: 2 },
    { tag: 3, bits: 32, count: 2 },
  ];
  for (const { tag, bits, count } of cases)
    it(`holds what was stored: ${bits}-bit ${tag === 3 ? 'float' : 'integer'}, ${count} channels`, async () => {
      const channels = Array.from({ length: count }, (_, c) => codes(tag, bits, 1001, c + 1));
      const before = [['bext', text('a note of odd length.')]] as const;
      const path = stored(makeWav({ tag, bits, channels, before, after: [['LIST', text('tail')]] }));
      const fullScale = tag === 3 ? 1 : 2 ** (bits - 1);
      const expected = channels.map((channel) => channel.map((code) => Math.fround(code / fullScale)));
      for (const blockSamples of [1, 7, 1001, 5000])
        expect(await readAll(path, blockSamples)).toEqual(expected);
    });

  for (const bits of [16, 24])
    it(`gives the same ${bits}-bit codes back when nothing was changed`, async () => {
      const path = stored(
        makeWav({ tag: 1, bits, channels: [codes(1, bits, 500, 3), codes(1, bits, 500, 4)] }),
      );
      const opened = openWavStream(path);
      if (!opened.ok) throw new Error('not read');
      const parts: Uint8Array[] = [opened.value.head];
      for await (const block of opened.value.blocks(64)) parts.push(encodeFrames(block, opened.value.format));
      const copy = readWav(new Uint8Array(Buffer.concat(parts)));
      const original = readWav(
        makeWav({ tag: 1, bits, channels: [codes(1, bits, 500, 3), codes(1, bits, 500, 4)] }),
      );
      expect(copy).toEqual(original);
    });

  it('is put together into whole frames where the disk gives odd pieces', async () => {
    const bytes = Uint8Array.from({ length: 60 }, (_, i) => i);
    async function* pieces(): AsyncGenerator<Uint8Array> {
      for (const [from, to] of [
        [0, 1],
        [1, 2],
        [2, 17],
        [17, 18],
        [18, 60],
      ] as const)
        yield bytes.subarray(from, to);
    }
    const got: number[] = [];
    for await (const whole of wholeFrames(pieces(), 6)) {
      expect(whole.length % 6).toBe(0);
      got.push(...whole);
    }
    expect(got).toEqual([...bytes]);
  });

  it('holds codes at full scale rather than wrap them', () => {
    const format = {
      encoding: 'integer',
      bitsPerSample: 16,
      validBits: 16,
      channelCount: 1,
      sampleRateHz: 48000,
      extensible: false,
    } as const;
    const bytes = encodeFrames([new Float32Array([1.5, -1.5])], format);
    // 16-bit two's complement, little-endian: 32767 and −32768.
    expect([...bytes]).toEqual([0xff, 0x7f, 0x00, 0x80]);
  });

  const whole = makeWav({ tag: 1, bits: 16, channels: [codes(1, 16, 100, 1)] });
  const refusals: readonly (readonly [string, Uint8Array, RegExp])[] = [
    ['no WAV file', text('something else entirely'), /is not a WAV file/],
    ['an empty file', new Uint8Array(0), /is not a WAV file/],
    ['samples that are cut off', whole.subarray(0, whole.length - 50), /is cut off/],
    ['no samples chunk', riff([['fmt ', whole.slice(20, 36)]]), /no format or data chunk/],
    ['an 8-bit file', makeWav({ tag: 1, bits: 8, channels: [[1, 2, 3]] }), /must be 16-, 24- or 32-bit/],
  ];
  for (const [what, bytes, rule] of refusals)
    it(`is refused in words: ${what}`, () => {
      const opened = openWavStream(stored(bytes));
      expect(opened.ok ? '' : opened.problems[0]?.rule).toMatch(rule);
    });

  it('is refused where there is none', () => {
    const opened = openWavStream(join(folder, 'none.wav'));
    expect(opened).toEqual({ ok: false, problems: [{ path: 'file', rule: 'does not exist', received: '' }] });
  });
});
