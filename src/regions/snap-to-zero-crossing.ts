import {
  checkChoice,
  checkFields,
  checkFinite,
  checkInteger,
  checkObject,
  typeError,
} from '../signal/check.js';
import type { Samples } from '../signal/samples.js';

/** Where a zero crossing may be looked for. */
export interface SnapOptions {
  /** Farthest distance from the given position, in samples, at least 0. */
  readonly withinSamples: number;
  /** Look before the position, after it, or on both sides; `nearest` unless given. */
  readonly direction?: 'earlier' | 'later' | 'nearest';
}

/**
 * The zero crossing nearest to an edge: a position i such that x[i] = 0, or x[i − 1] and x[i] have opposite
 * signs, whichever way the wave goes (turning the polarity over changes nothing). A crossing at the real time t
 * is thus reported at ceil(t), the first sample at or after it. The two ends of the clip count as crossings, since
 * nothing is heard beyond them. Where there is none in reach, the position is returned as it was; of two equally near,
 * the earlier.
 *
 * @param samples one channel of audio
 * @param sample the edge, in samples: 0 to samples.length (an end is exclusive)
 * @param options reach and direction; the position itself always counts
 * @returns a position within `withinSamples` of `sample` and within the clip; in silence, the position itself
 * @throws RangeError where the position leaves the clip or a sample that is read is NaN or infinite; TypeError where an
 * argument is of the wrong kind
 *
 * @example
 * import { snapToZeroCrossing } from 'lenition/regions';
 * const samples = Float32Array.of(0.1, 0.4, 0.2, -0.3, -0.2, 0.1);
 * snapToZeroCrossing(samples, 2, { withinSamples: 2 }); // => 3
 * snapToZeroCrossing(samples, 2, { withinSamples: 2, direction: 'earlier' }); // => 0
 */
export function snapToZeroCrossing(samples: Samples, sample: number, options: SnapOptions): number {
  return nearestCrossing('snapToZeroCrossing', samples, sample, options);
}

/** The same for another function, whose name the messages then carry. */
export function nearestCrossing(
  name: string,
  samples: Samples,
  sample: number,
  options: SnapOptions,
): number {
  checkObject(name, 'options', options);
  checkFields(name, 'options', options, ['withinSamples', 'direction']);
  const { withinSamples, direction = 'nearest' } = options;
  if (!(samples instanceof Float32Array)) throw typeError(name, 'samples', 'must be a Float32Array', samples);
  checkInteger(name, 'sample', sample, 0, samples.length);
  checkInteger(name, 'withinSamples', withinSamples, 0);
  checkChoice(name, 'direction', direction, ['earlier', 'later', 'nearest']);
  const least = direction === 'later' ? sample : Math.max(0, sample - withinSamples);
  const most = direction === 'earlier' ? sample : Math.min(samples.length, sample + withinSamples);
  checkFinite(name, 'samples', samples, Math.max(0, least - 1), Math.min(samples.length, most + 1));
  for (let distance = 0; distance <= withinSamples; distance++) {
    const earlier = sample - distance;
    const later = sample + distance;
    if (earlier < least && later > most) break;
    if (earlier >= least && isCrossing(samples, earlier)) return earlier;
    if (later <= most && isCrossing(samples, later)) return later;
  }
  return sample;
}

function isCrossing(samples: Samples, i: number): boolean {
  if (i === 0 || i === samples.length) return true;
  const before = samples[i - 1] as number;
  const at = samples[i] as number;
  // Compared, not multiplied: the product of two tiny samples would underflow to 0 and hide a crossing.
  return at === 0 || (before < 0 && at > 0) || (before > 0 && at < 0);
}
