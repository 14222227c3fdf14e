import type { Samples } from '../../src/signal/samples.js';

/** Zero crossings of the sinc on each side, at the lower of the two rates. */
const LOBES = 32;
/** Kaiser's β for about 90 dB (0.1102·(90 − 8.7); Kaiser 1974, from memory). */
const BETA = 8.96;

/**
 * The same sound at another whole rate: a sinc under a Kaiser window, its corner at 0.94 of the lower half rate, so that
 * nothing folds back. Sample i of the result stands at time i/toHz; both clips begin at the same moment.
 */
export function resample(samples: Samples, fromHz: number, toHz: number): Samples {
  const divisor = gcd(fromHz, toHz);
  const phases = toHz / divisor;
  const step = fromHz / divisor;
  const cutoff = 0.94 * Math.min(1, toHz / fromHz);
  const half = Math.ceil(LOBES / cutoff);
  const filters = Array.from({ length: phases }, (_, phase) => {
    const offset = phase / phases;
    return Float64Array.from({ length: 2 * half }, (_, j) => {
      const x = j - half + 1 - offset;
      return Math.abs(x) >= half ? 0 : cutoff * sinc(cutoff * x) * kaiser(x / half);
    });
  });
  const out = new Float32Array(Math.floor((samples.length * toHz) / fromHz));
  for (let i = 0; i < out.length; i++) {
    const at = Math.floor((i * step) / phases);
    const filter = filters[(i * step) % phases]!;
    let sum = 0;
    for (let j = 0; j < filter.length; j++) sum += filter[j]! * (samples[at + j - half + 1] ?? 0);
    out[i] = sum;
  }
  return out;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

function sinc(x: number): number {
  return x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
}

function kaiser(x: number): number {
  return bessel(BETA * Math.sqrt(Math.max(0, 1 - x * x))) / bessel(BETA);
}

/** Modified Bessel function I0 by its series. */
function bessel(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-12 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}
