import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { withCuePoints } from '../../../examples/lib/cue-chunks.js';
import { treatWav } from '../../../examples/lib/treat-wav.js';
import { readWav, type Wav } from '../../../examples/lib/wav-bytes.js';
import { openWavStream } from '../../../examples/lib/wav-stream.js';
import { regionsToCuePoints } from '../../../src/exchange/index.js';
import { createRegionList, insertRegion } from '../../../src/regions/index.js';
import { type ChunkParts, codes, makeWav, riff, text } from '../../examples/make-wav.js';
import { checkValue } from '../lib/check-value.js';
import { must } from '../lib/failure.js';
import { type Forms, form } from '../lib/form.js';
import type { Random } from '../lib/random-tools.js';
import { damagedBytes } from './hostile-bytes.js';
import { pooled, soundList } from './sound-lists.js';

/** Files of every format that is read, and of some that are not, with chunks before and behind the samples. */
const files = pooled((random) => {
  const odd = random.oneIn(5);
  const [tag, bits] = odd
    ? random.pick([
        [1, 8],
        [3, 64],
        [6, 16],
      ] as const)
    : random.pick([
        [1, 16],
        [1, 24],
        [1, 32],
        [3, 32],
      ] as const);
  const chunks = (): ChunkParts =>
    random.oneIn(3) ? [[random.pick(['bext', 'LIST', 'data', 'fmt ', 'cue ']), text('odd')]] : [];
  const frames = random.oneIn(10) ? 0 : 1 + random.below(40);
  return makeWav({
    tag,
    bits,
    // Eight bits are stored without a sign.
    channels: Array.from({ length: odd ? 9 : 1 + random.below(8) }, (_, c) =>
      codes(tag, bits, frames, c).map((code) => (bits === 8 ? code + 128 : code)),
    ),
    sampleRateHz: odd ? random.pick([4000, 0]) : random.pick([8000, 44100, 48000, 192000]),
    extensible: random.oneIn(3),
    validBits: random.pick([bits, bits, 0, 64]),
    before: chunks(),
    after: chunks(),
  });
});

const EXTREMES = [0, 1, 2, 0x7fffffff, 0x80000000, 0xfffffffe, 0xffffffff];

/** Sound files, damaged ones, and chunks that lie about their sizes. */
function hostileWav(random: Random): Uint8Array {
  const way = random.below(8);
  if (way === 0)
    return riff(
      [[random.pick(['fmt ', 'data', 'JUNK']), files(random)]],
      random.pick(['RIFF', 'RF64', 'RIFX', 'BW64']),
    );
  if (way === 1) return files(random);
  if (way > 4) return damagedBytes(files(random), random, 0.1);
  const bytes = Uint8Array.from(files(random));
  // Sizes, counts and rates stand at even places of the head.
  for (let hits = 1 + random.below(3); hits > 0; hits--)
    new DataView(bytes.buffer).setUint32(
      Math.min(2 * random.below(40), bytes.length - 4),
      random.pick(EXTREMES),
      true,
    );
  return bytes;
}

let directory: string | undefined;

/** A file of the given bytes that lives for one reading. */
function inFile<T>(bytes: Uint8Array, read: (path: string) => T): T {
  directory ??= mkdtempSync(join(tmpdir(), 'fuzz-wav-'));
  const path = join(directory, 'one.wav');
  writeFileSync(path, bytes);
  try {
    return read(path);
  } finally {
    rmSync(path);
  }
}

process.once('exit', () => {
  if (directory !== undefined) rmSync(directory, { recursive: true, force: true });
});

/** The problems of the examples are told in plain words: a subject and what is wrong with it. */
const WORDS = { path: /^[a-z][a-z -]*(\d+ of channel \d+)?$/, rule: /^[a-z]/ };

/** WAV files as the examples read them. */
export const WAV_FORMS: Forms = {
  'WAV file': form({
    make: hostileWav,
    read: readWav,
    check: checkWav,
    ...WORDS,
    weight: 2,
  }),
  'WAV file that gets cue points': form({
    make: hostileWav,
    read: (bytes) => withCuePoints(bytes, regionsToCuePoints(soundCue)),
    check: (pieces, bytes) => {
      const written = pieces.reduce((sum, piece) => sum + piece.length, 0);
      must(written > bytes.length - 8, 'no byte of the input may be lost', written);
    },
    ...WORDS,
    weight: 0.5,
  }),
  'WAV stream': form({
    make: hostileWav,
    read: (bytes) => inFile(bytes, openWavStream),
    check: ({ lengthSamples, format }, bytes) =>
      must(lengthSamples * format.channelCount <= bytes.length, 'no more samples than bytes', lengthSamples),
    ...WORDS,
    weight: 0.1,
  }),
};

const soundCue = soundList({ below: (n) => n - 1, oneIn: () => false, pick: (choices) => choices[0]! });

function checkWav(wav: Wav, bytes: Uint8Array): void {
  const { sampleRateHz } = wav.format;
  checkValue(wav.channels, {});
  must(wav.lengthSamples > 0 && wav.channels.length === wav.format.channelCount, 'must hold what it says');
  const before = bytes.slice();
  const list = insertRegion(createRegionList({ sampleRateHz, lengthSamples: wav.lengthSamples }), {
    startSample: 0,
    endSample: wav.lengthSamples,
    gainDb: -6,
  });
  for (const { startByte, bytes: patch } of treatWav(wav, list).patches)
    must(
      startByte >= wav.dataStartByte && startByte + patch.length <= bytes.length,
      'a patch must lie in the samples',
      startByte,
    );
  must(
    bytes.every((byte, i) => byte === before[i]),
    'the input must stay as it is',
  );
}
