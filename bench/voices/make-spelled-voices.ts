/**
 * Makes labelled clips out of Debian's recordings of spoken letters and syllables: people whom the model never heard, and most of what
 * they say is voice alone, begun out of silence. What is said follows from how it is written. `--help` lists the packages. Nothing of
 * them is in this repository.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { readWavFile } from '../../examples/lib/read-wav.js';
import { type WrittenClip, writeClip } from '../lib/write-clip.js';
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
    if (parts.length > 0) writeClip(join(values.out, own[0]?.folder ?? ''), speaker, takeOf(parts));
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
function takeOf(parts: readonly Part[]): WrittenClip {
  const sampleRateHz = parts[0]?.sampleRateHz ?? 0;
  const alike = parts.filter((each) => each.sampleRateHz === sampleRateHz);
  const samples = new Float32Array(alike.reduce((sum, each) => sum + each.samples.length, 0));
  let at = 0;
  const labels = alike.flatMap((each) => {
    const from = at / sampleRateHz;
    samples.set(each.samples, at);
    at += each.samples.length;
    return each.labels.map(({ startSeconds, endSeconds, phone }) => ({
      startSeconds: from + startSeconds,
      endSeconds: from + endSeconds,
      phone,
    }));
  });
  return { sampleRateHz, channels: [samples], labels };
}
