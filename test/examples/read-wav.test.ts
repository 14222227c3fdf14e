import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readWav, readWavFile } from '../../examples/lib/read-wav.js';
import { problemLine } from '../../examples/lib/result.js';
import { encodeWave } from '../../examples/lib/wave-file.js';
import { codes, makeWav, riff, text } from './make-wav.js';

const FORMATS = [
  [1, 16],
  [1, 24],
  [1, 32],
  [3, 32],
] as const;

function lineOf(bytes: Uint8Array): string {
  const result = readWav(bytes);
  return result.ok ? 'read' : result.problems.map(problemLine).join('; ');
}

describe('readWav gives the samples of a file as floats, full scale being 2^(bits − 1)', () => {
  for (const [tag, bits] of FORMATS) {
    for (const extensible of [false, true]) {
      test(`format tag ${tag}, ${bits} bits${extensible ? ', extensible' : ''}, 1, 2, 3 and 8 channels`, () => {
        for (const count of [1, 2, 3, 8]) {
          const channels = Array.from({ length: count }, (_, c) => codes(tag, bits, 75, c + 1));
          const result = readWav(makeWav({ tag, bits, channels, extensible, sampleRateHz: 96000 }));
          if (!result.ok) throw new Error(problemLine(result.problems[0]!));
          const { format, lengthSamples } = result.value;
          expect(format.sampleRateHz).toBe(96000);
          expect(format.channelCount).toBe(count);
          expect(format.encoding).toBe(tag === 3 ? 'float' : 'integer');
          expect(lengthSamples).toBe(75);
          const scale = tag === 3 ? 1 : 2 ** (bits - 1);
          for (const [c, channel] of channels.entries())
            expect(Array.from(result.value.channels[c]!)).toEqual(channel.map((x) => Math.fround(x / scale)));
        }
      });
    }
  }

  test('files that wavefile wrote, one and two channels, with an odd number of frames', () => {
    for (const [depth, tag, bits] of [
      ['16', 1, 16],
      ['24', 1, 24],
      ['32', 1, 32],
      ['32f', 3, 32],
    ] as const) {
      for (const count of [1, 2]) {
        const channels = Array.from({ length: count }, (_, c) => codes(tag, bits, 51, c + 7));
        const result = readWav(encodeWave(channels, { sampleRateHz: 44100, depth }));
        const scale = tag === 3 ? 1 : 2 ** (bits - 1);
        expect(result.ok && Array.from(result.value.channels[count - 1]!)).toEqual(
          channels[count - 1]!.map((x) => Math.fround(x / scale)),
        );
      }
    }
  });

  test('a view into a larger buffer is read from its own start', () => {
    const bytes = makeWav({ tag: 1, bits: 24, channels: [[1, -2, 3]] });
    const large = new Uint8Array(bytes.length + 13);
    large.set(bytes, 13);
    const result = readWav(large.subarray(13));
    expect(result.ok && Array.from(result.value.channels[0]!)).toEqual([1, -2, 3].map((x) => x / 2 ** 23));
  });

  test('chunks before the data, also of odd length, are stepped over', () => {
    const before = [
      ['bext', new Uint8Array(603)],
      ['zzzz', text('odd')],
    ] as const;
    expect(lineOf(makeWav({ tag: 1, bits: 16, channels: [[1, 2]], before }))).toBe('read');
  });

  test('a broken chunk after the data does no harm to the samples', () => {
    const bytes = makeWav({ tag: 1, bits: 16, channels: [[1, 2]], after: [['LIST', new Uint8Array(100)]] });
    expect(lineOf(bytes.slice(0, bytes.length - 50))).toBe('read');
  });
});

describe('readWav refuses in one line and never throws', () => {
  const good = { tag: 1, bits: 16, channels: [[1, 2, 3, 4]] } as const;
  const refused: readonly (readonly [string, Uint8Array, RegExp])[] = [
    ['an empty file', new Uint8Array(0), /is empty/],
    ['text', text('This is a text about waves.'), /is not a WAV file; received first bytes "This"/],
    [
      'another RIFF form',
      new Uint8Array(Buffer.concat([Buffer.from('RIFF\0\0\0\0AVI ')])),
      /is not a WAV file/,
    ],
    ['RF64', riff([['ds64', new Uint8Array(28)]], 'RF64'), /64-bit WAV.*RF64/],
    ['BW64', riff([['ds64', new Uint8Array(28)]], 'BW64'), /64-bit WAV.*BW64/],
    ['a lone header', makeWav(good).slice(0, 12), /truncated or damaged: it has no format chunk/],
    ['a cut format chunk', makeWav(good).slice(0, 30), /format chunk is cut off/],
    [
      'a file that ends before its data',
      makeWav(good).slice(0, 36),
      /truncated or damaged: it has no data chunk/,
    ],
    ['cut data', makeWav(good).slice(0, 48), /is truncated: its data chunk says 8 bytes; received 4 bytes/],
    ['zero samples', makeWav({ ...good, channels: [[]] }), /holds no samples/],
    [
      '8 bits',
      makeWav({ ...good, bits: 8 }),
      /sample format must be 16-, 24- or 32-bit.*received 8-bit integer/,
    ],
    ['64-bit float', makeWav({ ...good, tag: 3, bits: 64 }), /received 64-bit float/],
    ['µ-law', makeWav({ ...good, tag: 7 }), /received format tag 7/],
    [
      '9 channels',
      makeWav({ ...good, channels: Array(9).fill([1]) }),
      /channel count must lie within 1 to 8; received 9/,
    ],
    ['7999 Hz', makeWav({ ...good, sampleRateHz: 7999 }), /sample rate must lie within .* received 7999/],
    ['192001 Hz', makeWav({ ...good, sampleRateHz: 192001 }), /received 192001/],
    [
      'NaN',
      makeWav({
        tag: 3,
        bits: 32,
        channels: [
          [0, 0, 0],
          [0, 0, Number.NaN],
        ],
      }),
      /^sample 2 of channel 2 is not a finite number; received NaN$/,
    ],
    [
      'infinity',
      makeWav({ tag: 3, bits: 32, channels: [[0, -Infinity]] }),
      /^sample 1 of channel 1 .* received -Infinity$/,
    ],
    [
      'NaN in the extensible form',
      makeWav({ tag: 3, bits: 32, extensible: true, channels: [[Number.NaN]] }),
      /sample 0 of channel 1/,
    ],
    [
      'part of a frame',
      riff([
        ['fmt ', makeWav(good).slice(20, 36)],
        ['data', new Uint8Array(3)],
      ]),
      /data chunk must be whole frames of 2 bytes; received 3 bytes/,
    ],
  ];
  for (const [name, bytes, line] of refused) {
    test(name, () => {
      expect(lineOf(bytes)).toMatch(line);
      expect(lineOf(bytes)).not.toContain('\n');
    });
  }

  test('a format chunk whose bytes per frame contradict the rest', () => {
    const bytes = makeWav(good);
    bytes[32] = 4;
    expect(lineOf(bytes)).toMatch(/bytes per frame must be 2 by the other fields; received 4/);
  });

  test('an extensible subformat that is not one of the two', () => {
    const bytes = makeWav({ ...good, extensible: true });
    bytes[20 + 30] = 1;
    expect(lineOf(bytes)).toMatch(/subformat/);
  });

  test('every shortening of a sound file is refused or read, without an error', () => {
    const bytes = makeWav({ ...good, extensible: true, before: [['odd ', text('abc')]] });
    for (let length = 0; length < bytes.length; length++)
      expect(lineOf(bytes.slice(0, length))).not.toBe('read');
    expect(lineOf(bytes)).toBe('read');
  });

  test('a missing file and a directory', () => {
    const directory = mkdtempSync(join(tmpdir(), 'lenition-'));
    const missing = readWavFile(join(directory, 'gone.wav'));
    expect(missing.ok || missing.problems.map(problemLine)).toEqual(['file does not exist']);
    const folder = readWavFile(directory);
    expect(folder.ok || folder.problems.map(problemLine)).toEqual(['file is a directory']);
  });
});
