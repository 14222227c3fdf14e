import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { encodeWave } from '../../examples/lib/wave-file.js';
import type { LabelledClip, LabelledPhone } from './corpus.js';

/** What of a clip is written. */
export interface WrittenClip extends Pick<LabelledClip, 'sampleRateHz' | 'channels'> {
  readonly labels: readonly Pick<LabelledPhone, 'startSeconds' | 'endSeconds' | 'phone'>[];
}

/** Writes a clip as NAME.wav (32-bit float, so that nothing clips) and its labels as NAME.tsv. */
export function writeClip(directory: string, name: string, clip: WrittenClip): void {
  mkdirSync(directory, { recursive: true });
  const { sampleRateHz, channels, labels } = clip;
  writeFileSync(join(directory, `${name}.wav`), encodeWave(channels, { sampleRateHz, depth: '32f' }));
  const lines = labels.map(
    ({ startSeconds, endSeconds, phone }) => `${startSeconds.toFixed(5)}\t${endSeconds.toFixed(5)}\t${phone}`,
  );
  writeFileSync(join(directory, `${name}.tsv`), `${lines.join('\n')}\n`);
}
