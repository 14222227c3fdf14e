import { gainBreakpoints } from '../gain/gain-breakpoints.js';
import type { FadeShape, RegionList } from '../regions/region.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';

/** A gain that is held from a position on. */
export interface GainStep {
  /** Position in samples from the start of the clip; need not be whole. */
  readonly atSample: number;
  readonly gainDb: number;
}

/**
 * The gain of a clip as a staircase, for forms that know no ramps. Within a fade of D dB there are N = ⌈|D| / stepDb⌉ equal steps, and each
 * begins where the fade is half-way between two of them: nowhere is the staircase off by more than half a step.
 * Fades only rise or only fall, so the place of a gain is found in closed form.
 */
export function* gainSteps(list: RegionList, stepDb: number): Generator<GainStep> {
  const points = gainBreakpoints(list);
  for (const [index, from] of points.entries()) {
    yield { atSample: from.sample, gainDb: from.gainDb };
    const to = points[index + 1];
    if (to === undefined || to.sample === from.sample) continue;
    const span = to.gainDb - from.gainDb;
    const count = Math.ceil(Math.abs(span) / stepDb);
    for (let k = 1; k <= count; k++) {
      const halfway = from.gainDb + (span * (k - 0.5)) / count;
      const x = placeOf(halfway, from.gainDb, to.gainDb, from.shape);
      const gainDb = k === count ? to.gainDb : from.gainDb + (span * k) / count;
      yield { atSample: from.sample + x * (to.sample - from.sample), gainDb };
    }
  }
}

/** Where a fade passes a gain, 0 to 1: the reverse of the formulas of fadeGain. */
function placeOf(gainDb: number, fromDb: number, toDb: number, shape: FadeShape): number {
  if (shape === 'decibel') return (gainDb - fromDb) / (toDb - fromDb);
  const from = amplitudeFromDecibels(fromDb);
  const y = (amplitudeFromDecibels(gainDb) - from) / (amplitudeFromDecibels(toDb) - from);
  return shape === 'linear' ? y : Math.acos(1 - 2 * y) / Math.PI;
}
