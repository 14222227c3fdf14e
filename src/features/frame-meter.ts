import type { Engine } from '../signal/engine.js';
import { type FrameGrid, frameStartSample } from '../signal/frame-grid.js';
import type { Doubles, Samples } from '../signal/samples.js';
import type { AnalysisSettings } from './analysis-options.js';
import { type BlockSums, createBlockSums } from './block-sums.js';
import type { FeatureColumns } from './feature-table.js';
import { createFrameSpectra } from './frame-spectra.js';
import { binFromEdge, type FrequencyBand, sumOfBins } from './frequency-band.js';
import { createPeriodicityMeter } from './periodicity-meter.js';
import { centroidOfBins } from './spectral-centroid.js';
import { flatnessOfBins } from './spectral-flatness.js';
import { fluxOfBins } from './spectral-flux.js';
import { shapeOfBinsInto } from './spectral-moments.js';
import { peakOfBins } from './spectral-peak.js';
import { rollOffOfBins } from './spectral-roll-off.js';

/** Measures the frames of a grid pair by pair, whether the clip is there as a whole or passes by in blocks. */
export interface FrameMeter {
  /**
   * Measures frames `frame` (even) and `frame + 1` and writes them to rows `row` and `row + 1` of its columns; a row
   * that the columns do not have is left out. Pairs must come in order, from frame 0: flux looks back.
   *
   * @param channels What is at hand of the clip. It must hold all of the clip that the two frames reach; places
   * outside it count as 0.
   * @param firstSample Place of its index 0 in the clip, in samples.
   */
  measurePair(channels: readonly Samples[], firstSample: number, frame: number, row: number): void;
}

/** Makes a meter for one clip that writes to `columns`. It allocates here and with the first pair, and never again. */
export function createFrameMeter(
  grid: FrameGrid,
  settings: AnalysisSettings,
  columns: Partial<FeatureColumns>,
  engine?: Engine | null,
): FrameMeter {
  const { levelDb, zeroCrossingsPerSecond, periodicity } = columns;
  const { sampleRateHz } = grid;
  const rows = rowCount(columns);
  const spectrum = createSpectrumWriter(grid, settings, columns);
  const spectra = spectrum === null ? null : createFrameSpectra(grid, spectrum.binCount, engine);
  const periodSamples = 2 * Math.round((settings.periodicityFrameSeconds * sampleRateHz) / 2);
  const periodMeter = createPeriodicityMeter(sampleRateHz, periodSamples, settings.pitchRange);

  let blocks: BlockSums | null = null;

  function writeSamplesRow(
    channels: readonly Samples[],
    firstSample: number,
    frame: number,
    row: number,
  ): void {
    const start = frameStartSample(grid, frame) - firstSample;
    if (levelDb || zeroCrossingsPerSecond) {
      // Made once, when the number of channels is known.
      blocks ??= createBlockSums(grid, channels.length);
      blocks.read(channels, firstSample, frame);
      writeLevels(blocks.energy, blocks.weightedChanges, channels.length, row);
    }
    if (periodicity)
      periodicity[row] = periodMeter.measure(channels, start + grid.frameSamples / 2 - periodSamples / 2);
  }

  function writeLevels(energy: number, weighted: number, channelCount: number, row: number): void {
    if (levelDb) levelDb[row] = 10 * Math.log10(energy / (grid.frameSamples * channelCount));
    if (zeroCrossingsPerSecond)
      zeroCrossingsPerSecond[row] =
        energy > 0 ? ((weighted / energy) * sampleRateHz) / (grid.frameSamples - 1) : 0;
  }

  return {
    measurePair(channels: readonly Samples[], firstSample: number, frame: number, row: number): void {
      const first = frameStartSample(grid, frame) - firstSample;
      const second = first + grid.hopSamples;
      spectra?.measure(channels, first, second);
      for (let r = row; r < Math.min(row + 2, rows); r++) {
        const isFirst = r === row;
        writeSamplesRow(channels, firstSample, isFirst ? frame : frame + 1, r);
        if (spectra) spectrum?.write(isFirst ? spectra.first : spectra.second, r);
      }
    },
  };
}

/** Writes one row of the columns that need a spectrum, and says how many bins it reads; null when there is none of them. */
function createSpectrumWriter(
  grid: FrameGrid,
  settings: AnalysisSettings,
  columns: Partial<FeatureColumns>,
): { readonly binCount: number; readonly write: (power: Doubles, row: number) => void } | null {
  const { levelDb, zeroCrossingsPerSecond, periodicity, ...spectral } = columns;
  if (Object.keys(spectral).length === 0) return null;
  const { flatness, bandEnergies, centroidHz, spreadHz, skewness, excessKurtosis, peakHz, rollOffHz, flux } =
    spectral;
  const binHz = grid.sampleRateHz / grid.fftSize;
  const allBins = grid.fftSize / 2 + 1;
  const edges = (band: FrequencyBand): readonly [number, number] => [
    binFromEdge(band.lowHz, binHz, allBins),
    binFromEdge(band.highHz, binHz, allBins),
  ];
  const [first, end] = edges(settings.spectrumBand);
  const [flatFirst, flatEnd] = edges(settings.flatnessBand);
  const bandEdges = settings.bands.map(edges);
  const binCount = Math.max(1, end, flatEnd, ...bandEdges.map(([, bandEnd]) => bandEnd));
  const shape = new Float64Array(3);
  const previous = new Float64Array(binCount);
  let isFirstFrame = true;

  return { binCount, write };

  function write(power: Doubles, row: number): void {
    if (flatness) flatness[row] = flatnessOfBins(power, flatFirst, flatEnd);
    if (bandEnergies)
      for (let b = 0; b < bandEdges.length; b++) {
        const [low, high] = bandEdges[b] as readonly [number, number];
        (bandEnergies[b] as Doubles)[row] = sumOfBins(power, low, high);
      }
    if (centroidHz || spreadHz || skewness || excessKurtosis) {
      const centroid = centroidOfBins(power, first, end);
      if (centroidHz) centroidHz[row] = centroid * binHz;
      if (spreadHz || skewness || excessKurtosis) {
        shapeOfBinsInto(shape, power, first, end, centroid);
        if (spreadHz) spreadHz[row] = (shape[0] as number) * binHz;
        if (skewness) skewness[row] = shape[1] as number;
        if (excessKurtosis) excessKurtosis[row] = shape[2] as number;
      }
    }
    if (peakHz) peakHz[row] = peakOfBins(power, first, end) * binHz;
    if (rollOffHz) rollOffHz[row] = rollOffOfBins(power, first, end, settings.rollOffShare) * binHz;
    if (flux) {
      flux[row] = isFirstFrame ? 0 : fluxOfBins(power, previous, first, end);
      isFirstFrame = false;
      previous.set(power);
    }
  }
}

/** Rows of the columns; they are all equally long. */
function rowCount(columns: Partial<FeatureColumns>): number {
  const [column] = Object.values(columns) as (Doubles | readonly Doubles[])[];
  if (column instanceof Float64Array) return column.length;
  return column?.[0]?.length ?? 0;
}
