import { fadeGain } from '../gain/fade-gain.js';
import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import type { FadeShape } from '../regions/region.js';
import { amplitudeFromDecibels, decibelsFromAmplitude } from '../signal/decibels.js';

/** How gain goes straight from one point to the next: in decibels, or in amplitude. */
export type StraightLaw = Exclude<FadeShape, 'raisedCosine'>;

/** One fade, and how closely it is to be followed. */
interface Fade {
  readonly samples: number;
  readonly shape: FadeShape;
  readonly fromGain: number;
  readonly toGain: number;
  readonly law: StraightLaw;
}

/**
 * The points that must stand between two breakpoints so that straight lines (in `law`) follow the fade to within `errorDb` at
 * every sample. None where the fade is straight already, or stands still. They lie on the curve, at whole samples, as far apart as the bound
 * permits: the farthest is found by halving, since the error of a chord grows with its length.
 */
export function* straightPoints(
  from: GainBreakpoint,
  to: GainBreakpoint,
  law: StraightLaw,
  errorDb: number,
): Generator<GainBreakpoint> {
  const samples = to.sample - from.sample;
  if (samples === 0 || from.gainDb === to.gainDb || from.shape === law) return;
  const [fromGain, toGain] = [amplitudeFromDecibels(from.gainDb), amplitudeFromDecibels(to.gainDb)];
  const fade: Fade = { samples, shape: from.shape, fromGain, toGain, law };
  const [least, most] = [Math.min(from.gainDb, to.gainDb), Math.max(from.gainDb, to.gainDb)];
  for (let at = farthest(fade, 0, errorDb); at < samples; at = farthest(fade, at, errorDb)) {
    const gainDb = decibelsFromAmplitude(gainIn(fade, at));
    // A rounding error must not reach past the ends of the fade.
    const held = Math.min(most, Math.max(least, gainDb));
    yield Object.freeze({ sample: from.sample + at, gainDb: held, shape: law });
  }
}

function gainIn({ samples, fromGain, toGain, shape }: Fade, at: number): number {
  return fadeGain(at, samples, fromGain, toGain, shape);
}

/** The last sample that a straight line from sample `start` may reach. */
function farthest(fade: Fade, start: number, errorDb: number): number {
  // A line of one sample has no sample inside, so it has no error.
  let good = start + 1;
  // Most lines are short beside the fade: twice as far each time, until it is too far.
  let step = 1;
  while (good + step <= fade.samples && chordErrorDb(fade, start, good + step) <= errorDb) {
    good += step;
    step *= 2;
  }
  let bad = Math.min(good + step, fade.samples + 1);
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (chordErrorDb(fade, start, middle) <= errorDb) good = middle;
    else bad = middle;
  }
  return good;
}

/** Amplitude's natural logarithm in decibels. */
const DB_PER_NEPER: number = 20 / Math.LN10;

/**
 * An upper bound of how far the fade departs, in dB, from a straight line between its samples a and b.
 *
 * Straight in amplitude against straight in decibels (either way round), with L the logarithm of the ratio of the ends: the difference is largest
 * where the two have equal slope, and there it is ln((e^L − 1)/L) − 1 + L/(e^L − 1) nepers.
 * Raised cosine: a chord of length h (as a share of the fade) departs by at most h²/8 times the largest second derivative in its law. With D the
 * step and g the gain, g' = D·π/2·sin πx and g'' = D·π²/2·cos πx; in nepers (ln g)'' = g''/g − (g'/g)², each term taken at its least and its
 * greatest between a and b. An error ε in amplitude is at most ε/g nepers with the least g.
 */
function chordErrorDb(fade: Fade, a: number, b: number): number {
  const { samples, fromGain, toGain, shape, law } = fade;
  const [start, end] = [gainIn(fade, a), gainIn(fade, b)];
  if (shape !== 'raisedCosine') {
    const L = Math.abs(Math.log(end / start));
    // The formula cancels to nothing there; its series begins with L²/8.
    if (L < 1e-3) return (DB_PER_NEPER * L * L) / 8;
    const rise = Math.expm1(L);
    return DB_PER_NEPER * (Math.log(rise / L) - 1 + L / rise);
  }
  const [least, most] = [Math.min(start, end), Math.max(start, end)];
  const [xa, xb] = [a / samples, b / samples];
  const halfTurn = ((toGain - fromGain) * Math.PI) / 2;
  const bendA = halfTurn * Math.PI * Math.cos(Math.PI * xa);
  const bendB = halfTurn * Math.PI * Math.cos(Math.PI * xb);
  const squared = (DB_PER_NEPER * (xb - xa) ** 2) / 8;
  if (law === 'linear') return (squared * Math.max(Math.abs(bendA), Math.abs(bendB))) / least;
  const [sineA, sineB] = [Math.sin(Math.PI * xa), Math.sin(Math.PI * xb)];
  const steepest = (halfTurn * (xa <= 0.5 && xb >= 0.5 ? 1 : Math.max(sineA, sineB))) / least;
  const flattest = (halfTurn * Math.min(sineA, sineB)) / most;
  // Which of the two gains makes a term greater depends on its sign.
  const low = Math.min(bendA / least, bendA / most, bendB / least, bendB / most) - steepest ** 2;
  const high = Math.max(bendA / least, bendA / most, bendB / least, bendB / most) - flattest ** 2;
  return squared * Math.max(-low, high);
}
