import type { AnalysisSettings } from '../../src/features/analysis-options.js';
import type { FrequencyBand } from '../../src/features/frequency-band.js';
import { level } from '../../src/features/level.js';
import { periodicity } from '../../src/features/periodicity.js';
import { zeroCrossingRate } from '../../src/features/zero-crossing-rate.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { type FrameGrid, frameCentreSample } from '../../src/signal/frame-grid.js';

/** `length` samples about `centre`, with zeros outside the clip. */
export function cut(samples: Float32Array, centre: number, length: number): Float32Array<ArrayBuffer> {
  return Float32Array.from({ length }, (_, n) => samples[centre - length / 2 + n] ?? 0);
}

/** The one-sided Hann power spectrum of one frame, one transform per channel, averaged over the channels. */
export function plainSpectrum(
  channels: readonly Float32Array[],
  grid: FrameGrid,
  frame: number,
): Float64Array<ArrayBuffer> {
  const plan = createFftPlan(grid.fftSize);
  const mean = new Float64Array(plan.binCount);
  const power = new Float64Array(plan.binCount);
  for (const channel of channels) {
    const samples = cut(channel, frameCentreSample(grid, frame), grid.frameSamples);
    const padded = new Float64Array(grid.fftSize);
    let squares = 0;
    samples.forEach((x, n) => {
      const w = 0.5 - 0.5 * Math.cos((2 * Math.PI * n) / grid.frameSamples);
      padded[n] = w * x;
      squares += w * w;
    });
    plan.powerSpectrum(padded, power);
    power.forEach((p, k) => {
      const sides = k === 0 || k === plan.binCount - 1 ? 1 : 2;
      mean[k] = (mean[k] as number) + (sides * p) / (grid.fftSize * squares) / channels.length;
    });
  }
  return mean;
}

/** Every feature of one frame written out by its definition: one logarithm per bin, sums over normalised powers. */
export function plainFeatures(
  channels: readonly Float32Array<ArrayBuffer>[],
  grid: FrameGrid,
  settings: AnalysisSettings,
  frame: number,
) {
  const centre = frameCentreSample(grid, frame);
  const frames = channels.map((c) => cut(c, centre, grid.frameSamples));
  const longer = 2 * Math.round((settings.periodicityFrameSeconds * grid.sampleRateHz) / 2);
  const binHz = grid.sampleRateHz / grid.fftSize;
  const spectrum = plainSpectrum(channels, grid, frame);
  const before = frame === 0 ? null : plainSpectrum(channels, grid, frame - 1);
  const inBand = (power: Float64Array, band: FrequencyBand) =>
    Array.from(power, (p, k) => ({ p, f: k * binHz })).filter(({ f }) => f >= band.lowHz && f < band.highHz);
  const sum = (values: readonly number[]) => values.reduce((s, v) => s + v, 0);

  const bins = inBand(spectrum, settings.spectrumBand);
  const total = sum(bins.map(({ p }) => p));
  const moment = (about: number, order: number) =>
    total > 0 ? sum(bins.map(({ p, f }) => (p / total) * (f - about) ** order)) : 0;
  const centroidHz = moment(0, 1);
  const m2 = moment(centroidHz, 2);

  const flatBins = inBand(spectrum, settings.flatnessBand).map(({ p }) => p);
  const flatMean = sum(flatBins) / flatBins.length;
  const flatness =
    flatMean > 0
      ? Math.exp(sum(flatBins.map((p) => Math.log(Math.max(p / flatMean, 1e-12)))) / flatBins.length)
      : 0;

  const magnitudes = bins.map(({ p }) => Math.sqrt(p));
  const earlier = before && inBand(before, settings.spectrumBand).map(({ p }) => Math.sqrt(p));
  const risen = earlier ? sum(magnitudes.map((m, i) => Math.max(0, m - (earlier[i] as number)))) : 0;
  return {
    bins,
    total,
    flatTotal: flatMean * flatBins.length,
    levelDb: level(frames),
    zeroCrossingsPerSecond: zeroCrossingRate(frames, grid.sampleRateHz),
    periodicity: periodicity(
      channels.map((c) => cut(c, centre, longer)),
      grid.sampleRateHz,
      settings.pitchRange,
    ),
    flatness,
    bandEnergies: settings.bands.map((band) => sum(inBand(spectrum, band).map(({ p }) => p))),
    centroidHz,
    spreadHz: Math.sqrt(m2),
    skewness: m2 > 0 ? moment(centroidHz, 3) / m2 ** 1.5 : 0,
    excessKurtosis: m2 > 0 ? moment(centroidHz, 4) / m2 ** 2 - 3 : 0,
    flux: total > 0 ? risen / sum(magnitudes) : 0,
  };
}
