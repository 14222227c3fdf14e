import type { LabelledPhone } from '../lib/corpus.js';

/** Whether there is nothing but breath in a clip. */
export function hasNoVoice({ labels }: { readonly labels: readonly LabelledPhone[] }): boolean {
  return labels.every(({ phoneClass }) => phoneClass === 'breath' || phoneClass === 'silence');
}
