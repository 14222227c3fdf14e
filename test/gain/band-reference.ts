import type { RegionBand } from '../../src/regions/region.js';

/**
 * The band filter written again from the published formulas, slowly and by itself: ideal band-pass under a Kaiser window,
 * A = 100 dB, β = 0.1102·(A − 8.7), length 1 + (A − 7.95)/(2.285·Δω) made odd upwards (Kaiser 1974; Oppenheim and Schafer,
 * Discrete-Time Signal Processing; both from memory, from memory). I0 is the integral (1/π)·∫ exp(x·cos t) dt over 0 to π, not the series.
 */
export function referenceKernel(band: RegionBand, transitionHz: number, sampleRateHz: number): number[] {
  const depth = 100;
  const beta = 0.1102 * (depth - 8.7);
  const width = (2 * Math.PI * transitionHz) / sampleRateHz;
  const reach = Math.ceil((depth - 7.95) / (2.285 * width) / 2);
  const kernel: number[] = [];
  for (let n = -reach; n <= reach; n++) {
    const window = bessel(beta * Math.sqrt(1 - (n / reach) ** 2)) / bessel(beta);
    kernel.push(window * (lowPass(band.highHz, n, sampleRateHz) - lowPass(band.lowHz, n, sampleRateHz)));
  }
  return kernel;
}

/** Impulse response of the ideal low-pass. */
function lowPass(cornerHz: number, n: number, sampleRateHz: number): number {
  const cycles = (2 * cornerHz) / sampleRateHz;
  return n === 0 ? cycles : Math.sin(Math.PI * cycles * n) / (Math.PI * n);
}

/** The trapezoidal rule is exact to rounding here, since the integrand is periodic and smooth. */
function bessel(x: number): number {
  const steps = 64;
  let sum = 0;
  for (let k = 0; k < steps; k++) sum += Math.exp(x * Math.cos((2 * Math.PI * k) / steps));
  return sum / steps;
}

/** The band's part of one sample by direct convolution, the clip mirrored at its ends. */
export function referencePart(kernel: readonly number[], samples: ArrayLike<number>, at: number): number {
  const reach = (kernel.length - 1) / 2;
  let sum = 0;
  for (let n = -reach; n <= reach; n++) {
    let i = at - n;
    while (i < 0 || i >= samples.length) i = i < 0 ? -1 - i : 2 * samples.length - 1 - i;
    sum += (kernel[n + reach] as number) * (samples[i] as number);
  }
  return sum;
}
