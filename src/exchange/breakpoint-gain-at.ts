import { fadeGain } from '../gain/fade-gain.js';
import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import { checkArray, checkNumber, checkObject, rangeError } from '../signal/check.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';

/**
 * The amplitude factor of an envelope at one position: what gainBreakpoints, gainFromCsv and gainFromMidi give, played as
 * their points say. Of two points at one sample the later holds from there on; before the first point its gain holds, after the last that one's.
 *
 * @param points - Points in time order, at least one.
 * @param sample - Position in samples, finite; need not be whole, since an envelope may be read at another rate.
 * @returns The factor, above 0. Takes time in proportion to the logarithm of the number of points.
 * @throws TypeError or RangeError where there is no point or the position is not finite.
 *
 * @example
 * import { breakpointGainAt } from 'lenition/exchange';
 * const points = [{ sample: 0, gainDb: 0, shape: 'decibel' }, { sample: 100, gainDb: -40, shape: 'decibel' }] as const;
 * breakpointGainAt(points, 50); // => 0.1
 */
export function breakpointGainAt(points: readonly GainBreakpoint[], sample: number): number {
  checkArray('breakpointGainAt', 'points', points);
  if (points.length === 0) throw rangeError('breakpointGainAt', 'points', 'must hold at least one', points);
  checkObject('breakpointGainAt', 'points[0]', points[0]);
  checkNumber('breakpointGainAt', 'sample', sample);
  let low = 0;
  let high = points.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((points[middle] as GainBreakpoint).sample > sample) high = middle;
    else low = middle + 1;
  }
  const from = (points[low - 1] ?? points[0]) as GainBreakpoint;
  const gain = amplitudeFromDecibels(from.gainDb);
  const to = points[low];
  if (to === undefined || low === 0) return gain;
  const length = to.sample - from.sample;
  return fadeGain(sample - from.sample, length, gain, amplitudeFromDecibels(to.gainDb), from.shape);
}
