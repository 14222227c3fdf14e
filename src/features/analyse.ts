import { channelList, checkFinite } from '../signal/check.js';
import { checkEngine } from '../signal/engine.js';
import { frameGridFor } from '../signal/frame-grid.js';
import type { Channels } from '../signal/samples.js';
import { type AnalysisOptions, analysisSettings, chosenFeatures } from './analysis-options.js';
import { createFeatureColumns, type FeatureName, type FeatureTable } from './feature-table.js';
import { createFrameMeter } from './frame-meter.js';

/**
 * Features of a clip, frame by frame, in one pass.
 *
 * Frames lie as `createFrameGrid` says: frame k is centred on sample k·hop, with zeros outside the clip, so the first
 * and last frames are part silence. Level and zero crossings take the frame's samples as they are; the spectral
 * columns take its one-sided power spectrum under a periodic Hann window, zero-padded to a power of two; periodicity
 * takes a stretch of its own length about the same centre. Each column holds what the function of its feature gives
 * for that frame or spectrum, to 1e-9 of the frame's power.
 *
 * Of several channels the powers are averaged, never the signals, so nothing cancels, and their order does not matter.
 *
 * @param channels One Float32Array, or one of each channel, all equally long; nominal range −1 to 1.
 * @param options Sample rate, and what else differs from {@link DEFAULT_ANALYSIS_OPTIONS}.
 * @returns A table with its grid and settings. A clip of length 0 gives a table without rows, a shorter one than a
 * frame at least one row; in silence every column is 0 but the level, −Infinity.
 * @throws TypeError for a wrong kind of value; RangeError for a value out of range, channels of unequal length, and
 * NaN or Infinity in the samples, with its index.
 * @example
 * import { analyse } from 'lenition/features';
 * const square = Float32Array.from({ length: 4800 }, (_, n) => (n % 8 < 4 ? 1 : -1));
 * const table = analyse(square, { sampleRateHz: 48000, features: ['levelDb', 'zeroCrossingsPerSecond'] });
 * table.grid.frameCount; // => 20
 * table.columns.levelDb[10]; // => 0
 * Math.round(table.columns.zeroCrossingsPerSecond[10]); // => 11962
 */
export function analyse<F extends FeatureName = FeatureName>(
  channels: Channels,
  options: AnalysisOptions<F>,
): FeatureTable<F> {
  const list = channelList('analyse', channels);
  const settings = analysisSettings('analyse', options);
  const features = chosenFeatures('analyse', options);
  checkEngine('analyse', options.engine);
  for (const [c, channel] of list.entries())
    checkFinite('analyse', list.length === 1 ? 'channels' : `channels[${c}]`, channel);
  const grid = frameGridFor('analyse', settings, list[0]?.length ?? 0);
  const columns = createFeatureColumns(features, settings.bands.length, grid.frameCount);
  const meter = createFrameMeter(grid, settings, columns, options.engine);
  for (let frame = 0; frame < grid.frameCount; frame += 2) meter.measurePair(list, 0, frame, frame);
  return Object.freeze({ grid, features, columns: Object.freeze(columns), settings });
}
