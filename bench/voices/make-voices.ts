/**
 * Makes labelled voices out of Debian's speech synthesiser `festival` and its voice packages, for training: the
 * synthesiser knows to the millisecond what it says when. `--help` lists the packages. Nothing of them is in this
 * repository.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { encodeText } from './encode-text.js';
import { spokenPhone } from './spoken-phones.js';
import { SPOKEN_VOICES, type SpokenVoice } from './spoken-voices.js';

const HELP = `npm run train:voices -- [--out DIR]

Speaks sentences of our own in ${SPOKEN_VOICES.length} voices and writes DIR/VOICE/NAME.wav and NAME.tsv (default ../voices). Needs:
  apt-get install --no-install-recommends festival ${SPOKEN_VOICES.map(({ debianPackage }) => debianPackage).join(' ')}
Then: npm run train -- --corpus ../shared/corpus --corpus DIR`;

/** A WAV of a sentence is longer than this, in bytes; the synthesiser writes less where it fails. */
const LEAST_WAV_BYTES = 20_000;

main();

function main(): void {
  const { values } = parseArgs({
    options: { out: { type: 'string', default: '../voices' }, help: { type: 'boolean', default: false } },
  });
  if (values.help) {
    console.log(HELP);
    return;
  }
  if (spawnSync('festival', ['--version']).error) {
    console.error(`festival is not installed.\n${HELP}`);
    process.exitCode = 2;
    return;
  }
  for (const voice of SPOKEN_VOICES) {
    const made = speakAll(voice, join(values.out, voice.folder));
    console.log(`${voice.folder}: ${made} of ${voice.sentences.length} sentences`);
    if (made === 0) process.exitCode = 1;
  }
}

function speakAll(voice: SpokenVoice, folder: string): number {
  mkdirSync(folder, { recursive: true });
  const scratch = mkdtempSync(join(tmpdir(), 'voice-'));
  try {
    return voice.sentences.filter((sentence, i) =>
      speak(
        voice,
        sentence,
        join(folder, `${voice.folder.slice(6)}${String(i + 1).padStart(2, '0')}`),
        scratch,
      ),
    ).length;
  } finally {
    rmSync(scratch, { recursive: true });
  }
}

/** Speaks one sentence into PATH.wav and PATH.tsv; false where the synthesiser could not, or a phone is in doubt. */
function speak(voice: SpokenVoice, sentence: string, path: string, scratch: string): boolean {
  const segments = join(scratch, 'segments');
  const script = join(scratch, 'speak.scm');
  const wav = `${path}.wav`;
  writeFileSync(
    script,
    encodeText(
      `(voice_${voice.voice})
(set! spoken (utt.synth (Utterance Text "${sentence.replace(/["\\]/g, '')}")))
(utt.save.wave spoken "${wav}" 'riff)
(utt.save.segs spoken "${segments}")
`,
      voice.encoding,
    ),
  );
  rmSync(segments, { force: true });
  const { status } = spawnSync('festival', ['-b', script], { timeout: 60_000 });
  const rows =
    status === 0 && existsSync(segments) && existsSync(wav) && statSync(wav).size > LEAST_WAV_BYTES
      ? labelRows(readFileSync(segments, 'latin1'), voice)
      : null;
  if (rows === null) {
    rmSync(wav, { force: true });
    return false;
  }
  writeFileSync(`${path}.tsv`, rows);
  return true;
}

/** Lines of `end 100 phone` to start, end and phone, by tabs; null where a phone is two sounds at once. */
function labelRows(segments: string, voice: SpokenVoice): string | null {
  let start = '0.0000';
  const rows: string[] = [];
  for (const line of segments.split('\n')) {
    const [end, , written] = line.trim().split(/\s+/);
    if (written === undefined || !(Number(end) > Number(start))) continue;
    const phone = spokenPhone(written, voice.alphabet);
    if (phone === null) return null;
    const stop = Number(end).toFixed(4);
    rows.push(`${start}\t${stop}\t${phone}\n`);
    start = stop;
  }
  return rows.join('');
}
