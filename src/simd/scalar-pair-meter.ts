import type { PairMeter } from '../signal/engine.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { powersOfFour, powersOfTwo } from './scalar-last-pass.js';
import type { Pass, Twiddles } from './twiddles.js';

/** What the kernels do, one number at a time: the same sums in the same order, so the same bits. */
export function createScalarPairMeter(
  window: Doubles,
  twiddles: Twiddles,
  points: number,
  binCount: number,
): PairMeter {
  const { first: firstFactors, middle, lastPoints } = twiddles;
  const first = new Float64Array(binCount);
  const second = new Float64Array(binCount);
  // Windowed frames; the zeros behind them stay.
  const a = new Float64Array(points);
  const b = new Float64Array(points);
  const re = [new Float64Array(points), new Float64Array(points)] as const;
  const im = [new Float64Array(points), new Float64Array(points)] as const;
  let samples = new Float32Array(0) as Samples;

  return {
    first,
    second,
    begin(next) {
      samples = next;
    },
    measure(firstStart, secondStart) {
      windowInto(a, samples, firstStart, window);
      windowInto(b, samples, secondStart, window);
      firstPass(a, b, firstFactors, re[0], im[0]);
      let turn: 0 | 1 = 0;
      for (const pass of middle) {
        const next: 0 | 1 = turn === 0 ? 1 : 0;
        middlePass(re[turn], im[turn], re[next], im[next], pass);
        turn = next;
      }
      const powers = lastPoints === 2 ? powersOfTwo : powersOfFour;
      powers(re[turn], im[turn], first, second);
    },
  };
}

function windowInto(out: Doubles, samples: Samples, start: number, window: Doubles): void {
  for (let i = 0, at = start; i < window.length; i++, at++)
    out[i] = (window[i] as number) * (samples[at] as number);
}

/** Four points at a distance of a quarter, turned and put side by side. */
function firstPass(a: Doubles, b: Doubles, factors: Doubles, re: Doubles, im: Doubles): void {
  const quarter = a.length / 4;
  for (let p = 0, to = 0; p < quarter; p++, to += 4) {
    const q = p + quarter;
    const r = q + quarter;
    const s = r + quarter;
    const evenSumRe = (a[p] as number) + (a[r] as number);
    const evenSumIm = (b[p] as number) + (b[r] as number);
    const evenDifRe = (a[p] as number) - (a[r] as number);
    const evenDifIm = (b[p] as number) - (b[r] as number);
    const oddSumRe = (a[q] as number) + (a[s] as number);
    const oddSumIm = (b[q] as number) + (b[s] as number);
    const turnedRe = (b[q] as number) - (b[s] as number);
    const turnedIm = (a[s] as number) - (a[q] as number);
    re[to] = evenSumRe + oddSumRe;
    im[to] = evenSumIm + oddSumIm;
    const ur = evenDifRe + turnedRe;
    const ui = evenDifIm + turnedIm;
    const c1 = factors[p] as number;
    const s1 = factors[q] as number;
    re[to + 1] = ur * c1 - ui * s1;
    im[to + 1] = ur * s1 + ui * c1;
    const vr = evenSumRe - oddSumRe;
    const vi = evenSumIm - oddSumIm;
    const c2 = factors[r] as number;
    const s2 = factors[s] as number;
    re[to + 2] = vr * c2 - vi * s2;
    im[to + 2] = vr * s2 + vi * c2;
    const zr = evenDifRe - turnedRe;
    const zi = evenDifIm - turnedIm;
    const c3 = factors[s + quarter] as number;
    const s3 = factors[s + 2 * quarter] as number;
    re[to + 3] = zr * c3 - zi * s3;
    im[to + 3] = zr * s3 + zi * c3;
  }
}

function middlePass(
  fromRe: Doubles,
  fromIm: Doubles,
  toRe: Doubles,
  toIm: Doubles,
  { groups, run, factors }: Pass,
): void {
  const stride = groups * run;
  for (let p = 0; p < groups; p++) {
    const c1 = factors[6 * p] as number;
    const s1 = factors[6 * p + 1] as number;
    const c2 = factors[6 * p + 2] as number;
    const s2 = factors[6 * p + 3] as number;
    const c3 = factors[6 * p + 4] as number;
    const s3 = factors[6 * p + 5] as number;
    for (let i = p * run, to = 4 * i, end = i + run; i < end; i++, to++) {
      const j = i + stride;
      const k = j + stride;
      const l = k + stride;
      const evenSumRe = (fromRe[i] as number) + (fromRe[k] as number);
      const evenSumIm = (fromIm[i] as number) + (fromIm[k] as number);
      const evenDifRe = (fromRe[i] as number) - (fromRe[k] as number);
      const evenDifIm = (fromIm[i] as number) - (fromIm[k] as number);
      const oddSumRe = (fromRe[j] as number) + (fromRe[l] as number);
      const oddSumIm = (fromIm[j] as number) + (fromIm[l] as number);
      const turnedRe = (fromIm[j] as number) - (fromIm[l] as number);
      const turnedIm = (fromRe[l] as number) - (fromRe[j] as number);
      toRe[to] = evenSumRe + oddSumRe;
      toIm[to] = evenSumIm + oddSumIm;
      const ur = evenDifRe + turnedRe;
      const ui = evenDifIm + turnedIm;
      toRe[to + run] = ur * c1 - ui * s1;
      toIm[to + run] = ur * s1 + ui * c1;
      const vr = evenSumRe - oddSumRe;
      const vi = evenSumIm - oddSumIm;
      toRe[to + 2 * run] = vr * c2 - vi * s2;
      toIm[to + 2 * run] = vr * s2 + vi * c2;
      const zr = evenDifRe - turnedRe;
      const zi = evenDifIm - turnedIm;
      toRe[to + 3 * run] = zr * c3 - zi * s3;
      toIm[to + 3 * run] = zr * s3 + zi * c3;
    }
  }
}
