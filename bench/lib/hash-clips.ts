import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { readWavFile } from '../../examples/lib/read-wav.js';
import type { Samples } from '../../src/signal/samples.js';

/** A clip that engines are compared on. */
export interface HashClip {
  readonly name: string;
  readonly sampleRateHz: number;
  readonly channels: readonly Samples[];
}

/**
 * Confidence from which regions are compared: low, so that the uncertain ones count too. They are many, and they are
 * what a difference in the last bit would tip first.
 */
export const HASH_MIN_CONFIDENCE = 0.05;

/** The takes of the demonstration. */
export function demonstrationClips(): readonly HashClip[] {
  const { sampleRateHz, takes } = makeDemonstration();
  return takes.map(({ name, samples }) => ({
    name: `demonstration, ${name}`,
    sampleRateHz,
    channels: [samples],
  }));
}

/** The first songs of a folder by name; none where it is absent. Throws where a file is damaged. */
export function songClips(folder: string, count = 5): readonly HashClip[] {
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder).filter((file) => file.endsWith('.wav'));
  return files
    .sort()
    .slice(0, count)
    .map((file) => {
      const wav = readWavFile(join(folder, file));
      if (!wav.ok) throw new Error(`${file}: ${JSON.stringify(wav.problems)}`);
      const { channels, format } = wav.value;
      return { name: file, sampleRateHz: format.sampleRateHz, channels };
    });
}
