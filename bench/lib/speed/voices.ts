import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { type Demonstration, makeDemonstration } from '../../../examples/lib/demo/make-demonstration.js';
import { readWavFile } from '../../../examples/lib/read-wav.js';
import type { Samples } from '../../../src/signal/samples.js';

/** Recordings of one kind that are measured together; one channel each. */
export interface Voices {
  readonly name: string;
  readonly sampleRateHz: number;
  readonly clips: readonly Samples[];
  readonly seconds: number;
}

/** The takes of the built-in demonstration, made once: singing them takes a while. */
export function demonstrationVoices(): Voices {
  made ??= makeDemonstration();
  const { sampleRateHz, takes } = made;
  return voicesOf(
    'demonstration',
    sampleRateHz,
    takes.map(({ samples }) => samples),
  );
}

let made: Demonstration | undefined;

/** WAV files of a folder, `seconds` of them at most and spread evenly over it; null where there is none of 48 kHz. */
export function folderVoices(corpus: string, name: string, seconds: number): Voices | null {
  const folder = join(corpus, name);
  if (!existsSync(folder)) return null;
  const clips = readdirSync(folder)
    .filter((file) => file.endsWith('.wav'))
    .sort()
    .flatMap((file) => {
      const wav = readWavFile(join(folder, file));
      return wav.ok && wav.value.format.sampleRateHz === 48_000 ? [wav.value.channels[0] as Samples] : [];
    });
  if (clips.length === 0) return null;
  const all = voicesOf(name, 48_000, clips);
  const step = Math.max(1, Math.round(all.seconds / seconds));
  return voicesOf(
    name,
    48_000,
    clips.filter((_, i) => i % step === 0),
  );
}

function voicesOf(name: string, sampleRateHz: number, clips: readonly Samples[]): Voices {
  const seconds = clips.reduce((sum, clip) => sum + clip.length, 0) / sampleRateHz;
  return { name, sampleRateHz, clips, seconds };
}
