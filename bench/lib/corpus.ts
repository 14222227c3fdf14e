import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { readWavFile } from '../../examples/lib/read-wav.js';
import type { PhoneEvent } from '../../src/evaluation/phone-event.js';
import type { Samples } from '../../src/signal/samples.js';
import { type Alphabet, phoneFacts } from './phone-map.js';

/** A recording with its phones. */
export interface LabelledClip {
  /** File name without its ending. */
  readonly name: string;
  readonly folder: string;
  /** Who speaks or sings: FOLDER, FOLDER:SPEAKER, or for a composite the folder that its excerpts were taken from. */
  readonly voice: string;
  /** Every voice that can be heard in it: more than one in a composite. Whoever holds one out must hold out this clip. */
  readonly voices: readonly string[];
  /** FOLDER/NAME of every recording that can be heard in it: its own, or for a composite those that its excerpts were taken from. */
  readonly recordings: readonly string[];
  readonly sampleRateHz: number;
  readonly channels: readonly Samples[];
  readonly durationSeconds: number;
  /** `label` is the phone as written in the file; `phone` the same, for reading. In order of time. */
  readonly labels: readonly LabelledPhone[];
}

/** A labelled phone as the corpus has it. */
export interface LabelledPhone extends PhoneEvent {
  readonly phone: string;
}

/** The folders of a corpus that hold at least one NAME.wav with its NAME.tsv, in order of name. */
export function corpusFolders(corpus: string): readonly string[] {
  if (!existsSync(corpus)) return [];
  return readdirSync(corpus, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && clipNames(join(corpus, entry.name)).length > 0)
    .map((entry) => entry.name)
    .sort();
}

/** Reads every NAME.wav that has a NAME.tsv (start seconds, end seconds, phone). Throws where a file is damaged: a corpus must be whole. */
export function loadCorpus(folder: string, options: { readonly alphabet?: Alphabet } = {}): LabelledClip[] {
  const names = clipNames(folder);
  const origins = originsOf(folder);
  const written = names.map((name) => readLabels(join(folder, `${name}.tsv`)));
  const alphabet = options.alphabet ?? guessAlphabet(written.flat(), origins !== null);
  return names.map((name, i) => {
    const wav = readWavFile(join(folder, `${name}.wav`));
    if (!wav.ok) throw new Error(`${folder}/${name}.wav: ${JSON.stringify(wav.problems)}`);
    const { channels, lengthSamples, format } = wav.value;
    const sources = origins?.get(name) ?? [];
    const voices =
      sources.length > 0
        ? [...new Set(sources.map((recording) => recording.split('/')[0] as string))]
        : [voiceOf(basename(folder), name)];
    return {
      name,
      folder: basename(folder),
      voice: voices[0] as string,
      voices,
      recordings: sources.length > 0 ? sources : [`${basename(folder)}/${name}`],
      sampleRateHz: format.sampleRateHz,
      channels,
      durationSeconds: lengthSamples / format.sampleRateHz,
      labels: (written[i] ?? []).map((label) => ({ ...label, ...phoneFacts(label.phone, alphabet) })),
    };
  });
}

function clipNames(folder: string): string[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.wav') && existsSync(join(folder, `${file.slice(0, -4)}.tsv`)))
    .map((file) => file.slice(0, -4))
    .sort();
}

function readLabels(
  file: string,
): { startSeconds: number; endSeconds: number; label: string; phone: string }[] {
  const lines = readFileSync(file, 'utf8').split(/\r?\n/);
  return lines.flatMap((line, i) => {
    if (line.trim() === '') return [];
    const [start, end, phone] = line.split('\t');
    const startSeconds = Number(start);
    const endSeconds = Number(end);
    if (phone === undefined || !(endSeconds > startSeconds) || !(startSeconds >= 0))
      throw new Error(`${file}:${i + 1}: must be start seconds, end seconds, phone; received ${line}`);
    return [{ startSeconds, endSeconds, label: phone.trim(), phone: phone.trim() }];
  });
}

function guessAlphabet(labels: readonly { phone: string }[], composite: boolean): Alphabet {
  if (composite) return 'composite';
  // Only IPA leaves ASCII; an IPA corpus without one such letter in all its files would be a strange one.
  return labels.some(({ phone }) => /[^\x20-\x7e]/.test(phone)) ? 'ipa' : 'latin';
}

/** Clip → recordings that its excerpts come from, for a composite with a truth.csv; null for any other folder. */
function originsOf(folder: string): ReadonlyMap<string, readonly string[]> | null {
  const file = join(folder, 'truth.csv');
  if (!existsSync(file)) return null;
  const [head = '', ...rows] = readFileSync(file, 'utf8').trim().split(/\r?\n/);
  const columns = head.split(',');
  const cell = (row: string, column: string): string => row.split(',')[columns.indexOf(column)] ?? '';
  const origins = new Map<string, string[]>();
  // Breaths last: they are borrowed, and the first voice is to be the one of the vowels and consonants.
  for (const breath of [false, true])
    for (const row of rows.filter((line) => (cell(line, 'label') === 'br') === breath)) {
      // FOLDER/NAME.wav, or FOLDER/NAME.wav@start-end:phone; silence has no source.
      const recording = cell(row, 'source').replace(/\.wav(@.*)?$/, '');
      const recordings = origins.get(cell(row, 'clip')) ?? [];
      if (recording !== '' && !recordings.includes(recording)) recordings.push(recording);
      origins.set(cell(row, 'clip'), recordings);
    }
  return origins;
}

/** Folders that hold several speakers name them before the first underscore: fash_an251, p225_003, awb_1, libri61_61-70968. */
const MANY_SPEAKERS = /^(an4|vctk_autovc|librispeech|synth_flite)$/;

function voiceOf(folder: string, name: string): string {
  return MANY_SPEAKERS.test(folder) ? `${folder}:${name.split('_')[0]}` : folder;
}
