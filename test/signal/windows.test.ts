import { describe, expect, test } from 'vitest';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import type { Doubles } from '../../src/signal/samples.js';
import { windowFigures } from '../../src/signal/window-figures.js';
import { createWindow, WINDOW_NAMES, type WindowName } from '../../src/signal/windows.js';

const N = 1024;
/** Points per bin of the fine spectrum from which scalloping, side lobes and widths are read. */
const FINE = 256;

/**
 * Figures of merit: derived from the closed forms (computed from published figures), agreeing with Harris, "On the Use of Windows for Harmonic
 * Analysis with the Discrete Fourier Transform", 1978, Table 1, to its rounding (from memory, from memory).
 */
const FIGURES: Record<WindowName, readonly number[]> = {
  // coherent gain, ENBW, scalloping dB, worst case dB, highest side lobe dB, 6 dB width, correlation 75 %, 50 %
  rectangular: [1, 1, 3.922, 3.922, -13.26, 1.207, 75.0, 50.0],
  hann: [0.5, 1.5, 1.424, 3.185, -31.47, 2.0, 65.9, 16.7],
  hamming: [0.54, 1.3628, 1.751, 3.096, -42.7, 1.815, 70.7, 23.4],
  blackman: [0.42, 1.7268, 1.099, 3.471, -58.11, 2.299, 56.7, 9.0],
  blackmanHarris: [0.35875, 2.0044, 0.826, 3.845, -92.01, 2.666, 46.0, 3.8],
  sine: [0.6366, 1.2337, 2.098, 3.01, -23.0, 1.639, 75.5, 31.8],
};

/** |W| in dB relative to its centre, FINE points per bin. */
function fineSpectrumDb(window: Doubles): Doubles {
  const plan = createFftPlan(N * FINE);
  const frame = new Float64Array(N * FINE);
  frame.set(window);
  const power = new Float64Array(plan.binCount);
  plan.powerSpectrum(frame, power);
  const centre = power[0] as number;
  return power.map((p) => 10 * Math.log10(p / centre));
}

function overlapCorrelation(window: Doubles, overlap: number): number {
  const shift = N * (1 - overlap);
  let product = 0;
  let square = 0;
  for (let n = 0; n < N; n++) {
    square += window[n]! ** 2;
    if (n + shift < N) product += window[n]! * window[n + shift]!;
  }
  return product / square;
}

describe.each(WINDOW_NAMES.map((name) => [name] as const))('%s window', (name) => {
  const [gain, enbw, scalloping, worst, sideLobe, width, at75, at50] = FIGURES[name] as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const window = createWindow(name, N, 'periodic');
  const figures = windowFigures(window);
  const spectrum = fineSpectrumDb(window);

  test('has the published coherent gain and noise bandwidth (to the four decimals given)', () => {
    expect(figures.coherentGain).toBeCloseTo(gain, 4);
    expect(Math.abs(figures.noiseBandwidthBins - enbw)).toBeLessThan(0.0001);
  });

  test('loses the published level half a bin off centre (to the three decimals given)', () => {
    const loss = -(spectrum[FINE / 2] as number);
    expect(Math.abs(loss - scalloping)).toBeLessThan(0.001);
    expect(Math.abs(loss + 10 * Math.log10(figures.noiseBandwidthBins) - worst)).toBeLessThan(0.001);
  });

  test('has the published highest side lobe', () => {
    let n = 0;
    while ((spectrum[n + 1] as number) < (spectrum[n] as number)) n++;
    const highest = spectrum.subarray(n).reduce((a, b) => Math.max(a, b));
    // Hamming and sine are given to one decimal, the others to two.
    const tolerance = name === 'hamming' || name === 'sine' ? 0.06 : 0.011;
    expect(Math.abs(highest - sideLobe)).toBeLessThan(tolerance);
  });

  test('has the published width between its half-amplitude points (to the spacing of the fine spectrum)', () => {
    const edge = spectrum.findIndex((dB) => dB < 20 * Math.log10(0.5));
    expect(Math.abs((2 * edge) / FINE - width)).toBeLessThan(2 / FINE + 0.0005);
  });

  test('has the published correlation of overlapped frames (to the tenth of a percent given)', () => {
    expect(Math.abs(100 * overlapCorrelation(window, 0.75) - at75)).toBeLessThan(0.06);
    expect(Math.abs(100 * overlapCorrelation(window, 0.5) - at50)).toBeLessThan(0.06);
  });

  test('is its own mirror image exactly, and never negative', () => {
    for (const length of [2, 3, 8, 9, 1000]) {
      const symmetric = createWindow(name, length, 'symmetric');
      expect(Array.from(symmetric).reverse()).toEqual(Array.from(symmetric));
      const periodic = createWindow(name, length, 'periodic');
      expect(Array.from(periodic.subarray(1)).reverse()).toEqual(Array.from(periodic.subarray(1)));
      expect(Math.min(...symmetric, ...periodic)).toBeGreaterThanOrEqual(0);
    }
  });

  test('periodic of N is symmetric of N + 1 without its last value', () => {
    const longer = createWindow(name, N + 1, 'symmetric');
    expect(Array.from(window)).toEqual(Array.from(longer.subarray(0, N)));
  });

  test('of length 1 is 1', () => {
    expect(Array.from(createWindow(name, 1, 'periodic'))).toEqual([1]);
    expect(Array.from(createWindow(name, 1, 'symmetric'))).toEqual([1]);
  });
});

test('mean squares are those of the closed forms: Σw²/N (computed from its figures, four and six decimals)', () => {
  const meanSquare = (name: WindowName) => windowFigures(createWindow(name, N, 'periodic')).meanSquare;
  expect(meanSquare('hann')).toBeCloseTo(0.375, 12);
  expect(meanSquare('hamming')).toBeCloseTo(0.3974, 4);
  expect(meanSquare('blackman')).toBeCloseTo(0.3046, 4);
  expect(meanSquare('blackmanHarris')).toBeCloseTo(0.257963, 6);
});

/** Σ w^power[n − t·hop] over all shifts, for every n within one hop. */
function overlapSums(window: Doubles, hop: number, power: number): number[] {
  return Array.from({ length: hop }, (_, n) => {
    let sum = 0;
    for (let m = n; m < window.length; m += hop) sum += window[m]! ** power;
    return sum;
  });
}

// Constant overlap-add: scipy's check_COLA documentation; the constants are computed from its figures. 1e-12: a few roundings.
test.each([
  ['rectangular', 960, 1, 1],
  ['rectangular', 480, 1, 2],
  ['rectangular', 320, 1, 3],
  ['hann', 480, 1, 1],
  ['hann', 320, 1, 1.5],
  ['hann', 240, 1, 2],
  ['blackman', 320, 1, 1.26],
  ['hann', 240, 2, 1.5],
  ['hann', 320, 2, 1.125],
  ['sine', 480, 2, 1],
] as const)('%s of 960 at hop %i to the power %i adds up to %f everywhere', (name, hop, power, constant) => {
  for (const sum of overlapSums(createWindow(name, 960, 'periodic'), hop, power))
    expect(Math.abs(sum - constant)).toBeLessThan(1e-12);
});

test('the symmetric Hann window does not add up at half overlap: that is what periodic is for', () => {
  const sums = overlapSums(createWindow('hann', 960, 'symmetric'), 480, 1);
  expect(Math.max(...sums) - Math.min(...sums)).toBeGreaterThan(1e-3);
});

test('wrong names, lengths and symmetries are refused', () => {
  expect(() => createWindow('kaiser' as WindowName, 8, 'periodic')).toThrow(RangeError);
  expect(() => createWindow('hann', 0, 'periodic')).toThrow(RangeError);
  expect(() => createWindow('hann', 8.5, 'periodic')).toThrow(RangeError);
  expect(() => createWindow('hann', '8' as unknown as number, 'periodic')).toThrow(TypeError);
  expect(() => createWindow('hann', 8, undefined as unknown as 'periodic')).toThrow(TypeError);
  expect(() => windowFigures(new Float64Array(0))).toThrow(RangeError);
  expect(() => windowFigures(Float64Array.of(1, -1))).toThrow(RangeError);
  expect(() => windowFigures([1] as unknown as Doubles)).toThrow(TypeError);
});
