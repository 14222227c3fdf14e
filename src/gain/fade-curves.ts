import type { FadeShape } from '../regions/region.js';
import type { Doubles } from '../signal/samples.js';
import { fadeValue } from './fade-gain.js';

/** Gives the gains of whole fades, sample by sample; null for a fade too long to be held. */
export type FadeCurves = (
  samples: number,
  fromGain: number,
  toGain: number,
  shape: FadeShape,
) => Doubles | null;

interface FadeCurve {
  readonly fromGain: number;
  readonly toGain: number;
  readonly shape: FadeShape;
  readonly gains: Doubles;
}

/** Fades of so many lengths and depths are held: one in and one out, and those of a second kind of region. */
const MOST_CURVES = 4;
/** A longer fade is worked out in place: it may be as long as the clip. */
const MOST_CURVE_SAMPLES = 1 << 16;

/**
 * Holds the last few fades. The regions of a list fade alike where one rule has cut them, and so do the channels of each; working a fade
 * out costs ten times what using it does.
 */
export function createFadeCurves(): FadeCurves {
  const held: FadeCurve[] = [];
  return (samples, fromGain, toGain, shape) => {
    if (samples > MOST_CURVE_SAMPLES) return null;
    const known = held.find(
      (curve) =>
        curve.gains.length === samples &&
        curve.fromGain === fromGain &&
        curve.toGain === toGain &&
        curve.shape === shape,
    );
    if (known) return known.gains;
    const gains = new Float64Array(samples);
    for (let i = 0; i < samples; i++) gains[i] = fadeValue(i / samples, fromGain, toGain, shape);
    held.unshift({ fromGain, toGain, shape, gains });
    held.length = Math.min(held.length, MOST_CURVES);
    return gains;
  };
}
