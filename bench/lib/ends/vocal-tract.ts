import { linearPrediction, type Prediction } from './linear-prediction.js';

/** The tube and the strength of its source over time. */
export interface VocalTract {
  readonly hopSamples: number;
  /** One a hop; the first is centred on sample 0. */
  readonly predictions: readonly Prediction[];
  readonly order: number;
}

const FRAME_SECONDS = 0.024;
const HOP_SECONDS = 0.006;
/** The tube is read anew after so many samples: well under a hop. */
const STEP_SAMPLES = 24;

/** Linear prediction of each 24 ms (Hann window). Order: two a kilohertz of bandwidth and two more, the common rule (Markel and Gray 1976, from memory). */
export function vocalTract(samples: Float32Array, sampleRateHz: number): VocalTract {
  const length = Math.round(FRAME_SECONDS * sampleRateHz);
  const hopSamples = Math.round(HOP_SECONDS * sampleRateHz);
  const order = Math.round(sampleRateHz / 1000) + 2;
  const window = Float64Array.from(
    { length },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length),
  );
  const windowPower = window.reduce((sum, w) => sum + w * w, 0);
  const frame = new Float64Array(length);
  const predictions: Prediction[] = [];
  for (let centre = 0; centre < samples.length + hopSamples; centre += hopSamples) {
    const start = centre - (length >> 1);
    for (let i = 0; i < length; i++) frame[i] = (samples[start + i] ?? 0) * (window[i] as number);
    predictions.push(linearPrediction(frame, order, windowPower));
  }
  return { hopSamples, predictions, order };
}

/** What drives the tube, made even: the prediction taken off, over its gain. `driven` makes the sound again, but for what was silent. */
export function source(samples: Float32Array, tract: VocalTract): Float32Array {
  const delayed = new Float64Array(tract.order + 1);
  return along(samples, tract, (x, k, gain) => {
    let forward = x;
    let back = x;
    for (let i = 0; i < k.length; i++) {
      const held = delayed[i] as number;
      delayed[i] = back;
      const reflection = k[i] as number;
      back = held + reflection * forward;
      forward += reflection * held;
    }
    return gain === 0 ? 0 : forward / gain;
  });
}

/** A source of RMS 1 through the tube: the lattice filter, stable for every mixture of two stable tubes. */
export function driven(excitation: Float32Array, tract: VocalTract): Float32Array {
  const delayed = new Float64Array(tract.order + 1);
  return along(excitation, tract, (e, k, gain) => {
    let forward = e * gain;
    for (let i = k.length - 1; i >= 0; i--) {
      const reflection = k[i] as number;
      forward -= reflection * (delayed[i] as number);
      delayed[i + 1] = (delayed[i] as number) + reflection * forward;
    }
    delayed[0] = forward;
    return forward;
  });
}

/** Goes through samples with the tube and gain of that moment, between two frames a mixture of both. */
function along(
  samples: Float32Array,
  { hopSamples, predictions, order }: VocalTract,
  next: (sample: number, reflections: Float64Array, gain: number) => number,
): Float32Array {
  const out = new Float32Array(samples.length);
  const mixed = new Float64Array(order);
  let gain = 0;
  for (let i = 0; i < samples.length; i++) {
    if (i % STEP_SAMPLES === 0) {
      const at = i / hopSamples;
      const share = at - Math.floor(at);
      const a = predictions[Math.floor(at)] as Prediction;
      const b = predictions[Math.floor(at) + 1] ?? a;
      for (let k = 0; k < order; k++)
        mixed[k] = (1 - share) * (a.reflections[k] as number) + share * (b.reflections[k] as number);
      gain = (1 - share) * a.gain + share * b.gain;
    }
    out[i] = next(samples[i] as number, mixed, gain);
  }
  return out;
}
