import type { RegionKind } from '../regions/region.js';
import type { Doubles } from '../signal/samples.js';
import { HOP_SECONDS } from './detection-scale.js';
import type { NoiseKind } from './refine-edges.js';

/**
 * An event is called sibilant from this share of the harsh kinds on. Below it, on voices held out of training, more of
 * what is most likely a sibilant is a loud t or f than an s (docs/model-card.md).
 */
const LEAST_SIBILANT_SHARE = 0.75;
/** By its sound alone, shorter air is no breath: 0.1 s, in frames. Breaths are told from unvoiced speech by their length (Ruinskiy and Lavner, 2007). */
const LEAST_BREATH_FRAMES: number = Math.round(0.1 / HOP_SECONDS);

/**
 * Decides what an event is from the shares of EVENT_CLASSES. Whether something is to be turned down here and what it is
 * are two questions: the confidence answers the first (the shares of sibilant, fricative and burst together, or that of
 * breath), the kind the second.
 */
export function kindOf(
  shares: Doubles,
  frames: number,
): { readonly kind: RegionKind & NoiseKind; readonly confidence: number } {
  const [, sibilant, fricative, burst, breath] = shares as unknown as [
    number,
    number,
    number,
    number,
    number,
  ];
  const harsh = sibilant + fricative + burst;
  if (breath >= harsh && frames >= LEAST_BREATH_FRAMES) return { kind: 'breath', confidence: breath };
  if (sibilant >= LEAST_SIBILANT_SHARE * harsh) return { kind: 'sibilant', confidence: harsh };
  return { kind: burst > fricative ? 'burst' : 'fricative', confidence: harsh };
}
