import type { Region } from '../regions/region.js';

/** True where rendering may alter a sample: neither bypassed nor at 0 dB. */
export function changesAudio(region: Region): boolean {
  return !region.bypassed && region.gainDb !== 0;
}
