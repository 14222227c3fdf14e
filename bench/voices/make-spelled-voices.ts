/**
 * Makes labelled clips out of Debian's recordings of spoken letters and syllables: people whom the model never heard, and most of what
 * they say is voice alone, begun out of silence. What is said follows from how it is written. `--help` lists the packages. Nothing of
 * them is in this repository.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { readWavFile } from '../../examples/lib/read-wav.js';
import { encodeWave } from '../../examples/lib/wave-file.js';
import { labelSpelled, type SpelledLabel } from './label-spelled.js';
import { spelledPhones } from './spelled-phones.js';
import { SPELLED_PACKAGES, type SpelledRecording, spelledRecordings } from './spelled-recordings.js';

const HELP = `npm run bench:spelled -- [--root DIR] [--out DIR]

Writes DIR/spelled_letters and DIR/spelled_mandarin, one SPEAKER.wav and .tsv each (default ../spelled), to be scored by
npm run bench:accuracy -- --corpus DIR. Needs:
  apt-get install --no-install-recommends vorbis-tools ${SPELLED_PACKAGES.join(' ')}
  --root DIR   where the packages were unpacked (default /)`;

main();

function main(): void {
  const { values } = parseArgs({
    options: {
      root: { type: 'string', default: '/' },
      out: { type: 'string', default: '../spelled' },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) {
    console.log(HELP);
    return;
  }
  if (spawnSync('oggdec', ['--version']).error) {
    console.error(`oggdec is not installed.\n${HELP}`);
    process.exitCode = 2;
    return;
  }
  const recordings = spelledRecordings(values.root);
  for (const speaker of new Set(recordings.map((recording) => recording.speaker))) {
    const own = recordings.filter((recording) => recording.speaker === speaker);
    const parts = own.flatMap((recording) => part(recording) ?? []);
    console.log(`${speaker}: ${parts.length} of ${own.length} recordings`);
    const folder = join(values.out, own[0]?.folder ?? '');
    mkdirSync(folder, { recursive: true });
    if (parts.length > 0) writeTake(parts, join(folder, speaker));
  }
}

/** One letter or syllable, cut out of its recording. */
interface Part {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  readonly labels: readonly SpelledLabel[];
}

/** Null where it is not known what is said, or the recording does not look like it. */
function part(recording: SpelledRecording): Part | null {
  const phones = spelledPhones(recording);
  if (phones === null) return null;
  const scratch = mkdtempSync(join(tmpdir(), 'letter-'));
  try {
    const wav = join(scratch, 'letter.wav');
    if (spawnSync('oggdec', ['--quiet', '--bits', '16', '--output', wav, recording.file]).status !== 0)
      return null;
    const read = readWavFile(wav);
    if (!read.ok) return null;
    const { channels, lengthSamples, format } = read.value;
    const samples = new Float32Array(lengthSamples);
    for (const channel of channels)
      for (let i = 0; i < lengthSamples; i++)
        samples[i] = (samples[i] as number) + (channel[i] as number) / channels.length;
    const { sampleRateHz } = format;
    const excerpt = labelSpelled(samples, sampleRateHz, phones);
    if (excerpt === null) return null;
    return { samples: samples.subarray(excerpt.from, excerpt.to), sampleRateHz, labels: excerpt.labels };
  } finally {
    rmSync(scratch, { recursive: true });
  }
}

/** One speaker's letters behind each other, as one take: a voice is judged by what else it says. */
function writeTake(parts: readonly Part[], path: string): void {
  const sampleRateHz = (parts[0] as Part).sampleRateHz;
  const alike = parts.filter((each) => each.sampleRateHz === sampleRateHz);
  const codes = alike.flatMap(({ samples }) =>
    Array.from(samples, (sample) => Math.max(-32768, Math.min(32767, Math.round(32768 * sample)))),
  );
  writeFileSync(`${path}.wav`, encodeWave([codes], { sampleRateHz, depth: '16' }));
  let startsAt = 0;
  const rows = alike.flatMap(({ samples, labels }) => {
    const from = startsAt;
    startsAt += samples.length / sampleRateHz;
    return labels.map(
      ({ startSeconds, endSeconds, phone }) =>
        `${(from + startSeconds).toFixed(4)}\t${(from + endSeconds).toFixed(4)}\t${phone}\n`,
    );
  });
  writeFileSync(`${path}.tsv`, rows.join(''));
}
