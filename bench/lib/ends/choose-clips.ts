import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { createRandom, shuffle } from '../../train/random.js';
import { type LabelledClip, loadCorpus } from '../corpus.js';

/** Folders that are heard: singing and speech, wide and narrow, Japanese and English. */
export const END_FOLDERS = [
  'pjs_singing',
  'kathleen_en48k',
  'vctk_autovc',
  'asterisk_en',
  'scottpoid_sung_ja',
] as const;

/** About `seconds` of each folder that is there, chosen by chance, the same ones for the same seed. */
export function chooseClips(corpus: string, seconds: number, seed: number): readonly LabelledClip[] {
  return END_FOLDERS.flatMap((folder) => {
    if (!existsSync(join(corpus, folder))) return [];
    const clips = loadCorpus(join(corpus, folder));
    const order = clips.map((_, i) => i);
    shuffle(order, createRandom(seed));
    const chosen: number[] = [];
    let heard = 0;
    for (const i of order) {
      if (heard >= seconds) break;
      chosen.push(i);
      heard += (clips[i] as LabelledClip).durationSeconds;
    }
    return chosen.sort((a, b) => a - b).map((i) => clips[i] as LabelledClip);
  });
}

/** The clips of each folder one after another as one recording, with its labels: a session of that voice. */
export function joinFolders(clips: readonly LabelledClip[]): readonly LabelledClip[] {
  return [...new Set(clips.map(({ folder }) => folder))].map((folder) => {
    const own = clips.filter((clip) => clip.folder === folder);
    const first = own[0] as LabelledClip;
    const samples = new Float32Array(own.reduce((sum, { channels }) => sum + (channels[0]?.length ?? 0), 0));
    let at = 0;
    const labels = own.flatMap((clip) => {
      const part = clip.channels[0] as Float32Array;
      const offset = at / first.sampleRateHz;
      samples.set(part, at);
      at += part.length;
      return clip.labels.map((label) => ({
        ...label,
        startSeconds: label.startSeconds + offset,
        endSeconds: label.endSeconds + offset,
      }));
    });
    return {
      ...first,
      name: `${folder}-joined`,
      channels: [samples],
      labels,
      durationSeconds: samples.length / first.sampleRateHz,
    };
  });
}
