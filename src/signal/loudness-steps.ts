import { createBiquadState, filterBlockInto } from './biquad-filter.js';
import {
  channelList,
  checkArray,
  checkFinite,
  checkNumber,
  checkObject,
  checkSampleRate,
  rangeError,
} from './check.js';
import { kWeighting } from './k-weighting.js';
import type { Channels, Doubles } from './samples.js';

/** How loudness is measured. */
export interface LoudnessOptions {
  /** Sample rate in Hz, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /**
   * Weight of each channel, 0 or more. Where left out: mono, L R, and L R C count 1 each; 4 channels are L R Ls Rs and 5
   * are L R C Ls Rs with the surrounds at 1.41. More than 5 channels need weights (0 leaves a channel, such as LFE, out).
   */
  readonly channelWeights?: readonly number[];
}

const DEFAULT_WEIGHTS: readonly (readonly number[])[] = Object.freeze([
  [1],
  [1, 1],
  [1, 1, 1],
  [1, 1, 1.41, 1.41],
  [1, 1, 1, 1.41, 1.41],
]);

/** Weighted mean power of whole 100 ms steps, from which every loudness window is a mean of neighbours. */
export interface LoudnessSteps {
  readonly stepSamples: number;
  /** Σ over channels of weight × mean square of the K-weighted signal, one per step; a part step at the end is left out. */
  readonly powers: Doubles;
}

/** K-weights all channels and sums their power in steps of 100 ms. */
export function loudnessSteps(
  functionName: string,
  channels: Channels,
  options: LoudnessOptions,
): LoudnessSteps {
  checkObject(functionName, 'options', options);
  const { sampleRateHz } = options;
  checkSampleRate(functionName, sampleRateHz);
  const list = channelList(functionName, channels);
  const weights = checkedWeights(functionName, options.channelWeights, list.length);
  const stepSamples = Math.round(sampleRateHz / 10);
  const powers = new Float64Array(Math.floor((list[0]?.length ?? 0) / stepSamples));
  const sections = kWeighting({ sampleRateHz });
  const block = new Float32Array(stepSamples);
  list.forEach((channel, c) => {
    checkFinite(functionName, `channels[${c}]`, channel);
    const state = createBiquadState(sections.length);
    for (let step = 0; step < powers.length; step++) {
      const start = step * stepSamples;
      filterBlockInto(block, channel.subarray(start, start + stepSamples), sections, state);
      let sum = 0;
      for (const y of block) sum += y * y;
      powers[step] = (powers[step] as number) + ((weights[c] as number) * sum) / stepSamples;
    }
  });
  return { stepSamples, powers };
}

/** Loudness of a weighted power: −0.691 + 10·log10; the offset takes off K-weighting's gain at 997 Hz. */
export function loudnessOfPower(power: number): number {
  return -0.691 + 10 * Math.log10(power);
}

/** Mean of `count` neighbouring steps, from every step on that still has them. */
export function slidingMeans(powers: Doubles, count: number): Doubles {
  const means = new Float64Array(Math.max(0, powers.length - count + 1));
  // Summed anew each time: a running sum would leave loud rounding errors behind in silence.
  for (let i = 0; i < means.length; i++) {
    let sum = 0;
    for (let j = 0; j < count; j++) sum += powers[i + j] as number;
    means[i] = sum / count;
  }
  return means;
}

function checkedWeights(
  functionName: string,
  given: readonly number[] | undefined,
  channelCount: number,
): readonly number[] {
  const weights = given ?? DEFAULT_WEIGHTS[channelCount - 1];
  if (weights === undefined)
    throw rangeError(functionName, 'channelWeights', 'must be given for more than 5 channels', given);
  checkArray(functionName, 'channelWeights', weights);
  if (weights.length !== channelCount)
    throw rangeError(functionName, 'channelWeights.length', `must be ${channelCount}`, weights.length);
  weights.forEach((weight, c) => {
    checkNumber(functionName, `channelWeights[${c}]`, weight, 0);
  });
  return weights;
}
