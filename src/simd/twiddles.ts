import type { Doubles } from '../signal/samples.js';

/** Factors of the passes of a transform of N points. */
export interface Twiddles {
  /** Of the first pass: six runs of N/4 numbers, real and imaginary parts of w, w² and w³ with w = e^(−2πip/N). */
  readonly first: Doubles;
  /** Of each pass between the first and the last: six numbers for each of its groups, as above. */
  readonly middle: readonly Pass[];
  /** Points that the last pass puts together: 2 or 4. */
  readonly lastPoints: 2 | 4;
}

/** One pass over groups that share their factors, each a run of neighbouring points. */
export interface Pass {
  readonly groups: number;
  readonly run: number;
  readonly factors: Doubles;
}

/** The factors for N points, a power of two from 16 on. */
export function createTwiddles(points: number): Twiddles {
  const first = new Float64Array((6 * points) / 4);
  for (let p = 0; p < points / 4; p++)
    factors(p, points).forEach((value, k) => {
      first[k * (points / 4) + p] = value;
    });
  const middle: Pass[] = [];
  let rest = points / 4;
  for (; rest > 4; rest /= 4) {
    const groups = rest / 4;
    const of = new Float64Array(6 * groups);
    for (let p = 0; p < groups; p++) of.set(factors(p, rest), 6 * p);
    middle.push({ groups, run: points / rest, factors: of });
  }
  return { first, middle, lastPoints: rest as 2 | 4 };
}

function factors(p: number, points: number): readonly number[] {
  return [1, 2, 3].flatMap((k) => {
    const angle = (-2 * Math.PI * k * p) / points;
    return [Math.cos(angle), Math.sin(angle)];
  });
}
