import type { LabelledClip } from '../lib/corpus.js';

/** Whether a clip is made of excerpts of others: its voice comes from another folder. */
export function isComposite({ voice, folder }: LabelledClip): boolean {
  return voice.split(':')[0] !== folder;
}
