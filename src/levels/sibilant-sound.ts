import type { FrequencyBand } from '../features/frequency-band.js';
import type { SibilantSound } from './region-level.js';

/** Band in which the two hisses are told apart: that of the published figures, less what a voice puts below. */
export const HISS_BAND: FrequencyBand = Object.freeze({ lowHz: 1000, highHz: 11_025 });

/** Centroid between the published ones of s (6133 Hz) and sh (4229 Hz). */
const BORDER_HZ = Math.sqrt(6133 * 4229);

/** Which hiss each centroid is nearer to; null for null. */
export function sibilantSounds(centroidsHz: readonly (number | null)[]): readonly (SibilantSound | null)[] {
  return centroidsHz.map((hz) => (hz === null ? null : hz < BORDER_HZ ? 'sh-like' : 's-like'));
}
