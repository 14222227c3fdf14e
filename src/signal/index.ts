/**
 * Decibels, windows, frames, spectra, filters, meters and loudness: what everything else measures with. Knows nothing of consonants.
 *
 * @packageDocumentation
 */
export {
  type BandPassOptions,
  type BiquadCoefficients,
  bandPass,
  highPass,
  highShelf,
  lowPass,
  lowShelf,
  type PassFilterOptions,
  type PeakingOptions,
  peaking,
  type ShelfOptions,
} from './biquad-design.js';
export { type BiquadSections, createBiquadState, filterBlockInto, filterSamples } from './biquad-filter.js';
export { bs468LevelDb, bs468WeightingDb } from './bs468-weighting.js';
export {
  amplitudeFromDecibels,
  decibelsFromAmplitude,
  decibelsFromPower,
  powerFromDecibels,
} from './decibels.js';
export type { Engine } from './engine.js';
export { createFftPlan, type FftPlan } from './fft-plan.js';
export {
  createFrameGrid,
  type FrameGrid,
  type FrameGridOptions,
  frameCentreSample,
  frameStartSample,
  frameTimeSeconds,
} from './frame-grid.js';
export {
  type ComplexResponse,
  frequencyResponse,
  magnitudeResponseDb,
  type ResponseOptions,
} from './frequency-response.js';
export { istft } from './istft.js';
export { kWeighting, type WeightingOptions } from './k-weighting.js';
export {
  integratedLoudness,
  type LoudnessTrack,
  type LoudnessTrackOptions,
  type LoudnessWindow,
  loudnessTrack,
} from './loudness.js';
export type { LoudnessOptions } from './loudness-steps.js';
export { peak, peakDbfs, rms, rmsDbfs } from './meters.js';
export type { Channels, Doubles, NewSamples, Samples } from './samples.js';
export { type SpectraTable, type StftOptions, stft } from './stft.js';
export { type WindowFigures, windowFigures } from './window-figures.js';
export { windowedFrameInto } from './windowed-frame.js';
export { createWindow, WINDOW_NAMES, type WindowName, type WindowSymmetry } from './windows.js';
