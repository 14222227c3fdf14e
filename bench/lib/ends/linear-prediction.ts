/** One frame as a tube: what shapes it, and how strongly it is driven. */
export interface Prediction {
  /** Reflection coefficients k1 … kp, each between −1 and 1. */
  readonly reflections: Float64Array;
  /** RMS of what is left when the prediction is taken off. */
  readonly gain: number;
}

/** A prediction of silence is not defined; this share of the energy, −80 dB, is added as white noise. */
const WHITE_SHARE = 1e-8;

/**
 * Linear prediction of a windowed frame by the autocorrelation method and the recursion of Levinson and Durbin (Makhoul, "Linear
 * prediction: a tutorial review", 1975; Rabiner and Schafer, "Digital Processing of Speech Signals", 1978; both from memory).
 * The predictor is A(z) = 1 + Σ a_j·z^−j. `windowPower` is Σ w², so that the gain is that of the frame before its window.
 */
export function linearPrediction(frame: Float64Array, order: number, windowPower: number): Prediction {
  const reflections = new Float64Array(order);
  const r = new Float64Array(order + 1);
  for (let lag = 0; lag <= order; lag++) {
    let sum = 0;
    for (let n = lag; n < frame.length; n++) sum += (frame[n] as number) * (frame[n - lag] as number);
    r[lag] = sum;
  }
  const energy = r[0] as number;
  if (energy === 0) return { reflections, gain: 0 };
  let error = energy * (1 + WHITE_SHARE);
  const a = new Float64Array(order + 1);
  const before = new Float64Array(order + 1);
  for (let i = 1; i <= order; i++) {
    let sum = r[i] as number;
    for (let j = 1; j < i; j++) sum += (a[j] as number) * (r[i - j] as number);
    const k = -sum / error;
    before.set(a);
    for (let j = 1; j < i; j++) a[j] = (before[j] as number) + k * (before[i - j] as number);
    a[i] = k;
    reflections[i - 1] = k;
    error *= 1 - k * k;
  }
  return { reflections, gain: Math.sqrt(error / windowPower) };
}
