import type { LabelledClip } from '../corpus.js';

/** RMS of the labelled vowels, nasals and glides of a clip, which levels of other sounds are set against; of all of it where none is labelled. */
export function voiceRms({ channels, labels, sampleRateHz }: LabelledClip): number {
  const samples = channels[0] as Float32Array;
  let sum = 0;
  let count = 0;
  for (const { phoneClass, startSeconds, endSeconds } of labels) {
    if (phoneClass !== 'sonorant') continue;
    const from = Math.round(startSeconds * sampleRateHz);
    const to = Math.min(samples.length, Math.round(endSeconds * sampleRateHz));
    for (let i = from; i < to; i++, count++) sum += (samples[i] as number) ** 2;
  }
  if (count > 0) return Math.sqrt(sum / count);
  return Math.sqrt(samples.reduce((total, x) => total + x * x, 0) / Math.max(1, samples.length));
}
