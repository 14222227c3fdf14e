import { createFftPlan } from '../signal/fft-plan.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { createWindow } from '../signal/windows.js';

/** Spectrogram of a range: levels in dB, row 0 at the top (highest frequency), `columns` values per row. */
export interface SpectrogramLevels {
  readonly columns: number;
  readonly rows: number;
  /** 0 dB is a full-scale sine; never below LEAST_LEVEL_DB. */
  readonly levelsDb: Float32Array;
  /** Length of one frame, in samples. */
  readonly frameSamples: number;
  /** How many frames were looked at per column; the rest of a long column is not seen. */
  readonly framesPerColumn: number;
}

/** Silence is drawn as this. */
export const LEAST_LEVEL_DB = -180;

// A column wider than a frame is seen through a few frames spread over it: the cost follows the pixels, not the length.
const MOST_FRAMES_PER_COLUMN = 4;

/** What `spectrogramLevels` looks at, and how finely. */
export interface SpectrogramRange {
  readonly startSample: number;
  readonly endSample: number;
  /** Upper edge of row 0, in Hz, at most half the sample rate; the last row begins at 0 Hz. */
  readonly topFrequencyHz: number;
  readonly columns: number;
  readonly rows: number;
  /** Lift in dB per octave from 1 kHz on up, and as much down below it; 0 leaves the levels as they are. */
  readonly tiltDbPerOctave: number;
}

/**
 * Levels over time and frequency, with only as many frames as the picture has columns (up to four in a wide column).
 *
 * Each frame has a periodic Hann window of 6 to 24 ms (1.6 columns where that lies between), centred in its share of the column
 * and zero-padded. Powers are averaged over channels, then the greatest of the column's frames and of the bins of a row is taken, so
 * that neither a short burst nor a thin partial is lost. Level = 10·log10(4·P / (Σw)²) + tilt·log2(f / 1 kHz), f the middle of the row:
 * with no tilt, a full-scale sine on a bin reads 0 dB.
 *
 * @param channels equally long, finite; samples beyond the clip count as 0.
 * @param sampleRateHz in Hz.
 * @param range see `SpectrogramRange`; at least one sample, column and row.
 * Source: F. J. Harris, On the use of windows for harmonic analysis with the discrete Fourier transform (1978), from memory: coherent gain.
 */
export function spectrogramLevels(
  channels: readonly Samples[],
  sampleRateHz: number,
  range: SpectrogramRange,
): SpectrogramLevels {
  const { startSample, endSample, topFrequencyHz, columns, rows, tiltDbPerOctave } = range;
  const columnSamples = (endSample - startSample) / columns;
  const seconds = Math.min(0.024, Math.max(0.006, (1.6 * columnSamples) / sampleRateHz));
  const frameSamples = Math.max(8, Math.round(seconds * sampleRateHz));
  let size = 16;
  // Twice the frame at least, and a bin for each row, or the rows would show steps.
  while (size < 2 * frameSamples || (size * topFrequencyHz) / sampleRateHz < rows) size *= 2;
  const plan = createFftPlan(size);
  const window = createWindow('hann', frameSamples, 'periodic');
  let windowSum = 0;
  for (const w of window) windowSum += w;
  const scale = 4 / (windowSum * windowSum * channels.length);
  const framesPerColumn = Math.min(
    MOST_FRAMES_PER_COLUMN,
    Math.max(1, Math.round(columnSamples / frameSamples)),
  );

  const frame = new Float64Array(size);
  const power = new Float64Array(plan.binCount);
  const sum = new Float64Array(plan.binCount);
  const best = new Float64Array(plan.binCount);
  const bins = rowBins(rows, topFrequencyHz, sampleRateHz / size, plan.binCount);
  const levelsDb = new Float32Array(columns * rows);
  const tilt = Float64Array.from({ length: rows }, (_, row) => {
    const middleHz = ((rows - row - 0.5) / rows) * topFrequencyHz;
    return tiltDbPerOctave * Math.log2(middleHz / 1000);
  });
  for (let column = 0; column < columns; column++) {
    best.fill(0);
    for (let f = 0; f < framesPerColumn; f++) {
      const centre = startSample + (column + (f + 0.5) / framesPerColumn) * columnSamples;
      const first = Math.round(centre - frameSamples / 2);
      sum.fill(0);
      for (const channel of channels) {
        fillFrame(frame, channel, first, window);
        plan.powerSpectrum(frame, power);
        for (let k = 0; k < sum.length; k++) sum[k] = (sum[k] as number) + (power[k] as number);
      }
      for (let k = 0; k < best.length; k++) best[k] = Math.max(best[k] as number, sum[k] as number);
    }
    for (let row = 0; row < rows; row++) {
      let most = 0;
      for (let k = bins[row] as number; k < (bins[row + rows] as number); k++)
        most = Math.max(most, best[k] as number);
      levelsDb[row * columns + column] = Math.max(
        LEAST_LEVEL_DB,
        10 * Math.log10(most * scale) + (tilt[row] as number),
      );
    }
  }
  return { columns, rows, levelsDb, frameSamples, framesPerColumn };
}

/** First bin of each row, then one past the last bin of each row. */
function rowBins(rows: number, topFrequencyHz: number, binHz: number, binCount: number): Int32Array {
  const bins = new Int32Array(2 * rows);
  for (let row = 0; row < rows; row++) {
    const low = ((rows - row - 1) / rows) * (topFrequencyHz / binHz);
    const high = ((rows - row) / rows) * (topFrequencyHz / binHz);
    const first = Math.min(binCount - 1, Math.round(low));
    bins[row] = first;
    bins[row + rows] = Math.min(binCount, Math.max(first + 1, Math.round(high)));
  }
  return bins;
}

function fillFrame(frame: Doubles, channel: Samples, first: number, window: Doubles): void {
  for (let i = 0; i < window.length; i++) {
    const at = first + i;
    frame[i] = at >= 0 && at < channel.length ? (window[i] as number) * (channel[at] as number) : 0;
  }
}
