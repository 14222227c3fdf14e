import { renderGainBlockInto } from '../gain/render-gain-block.js';
import type { RegionList } from '../regions/region.js';
import type { Doubles, Samples } from '../signal/samples.js';

/** Least and greatest sample per column, as recorded and with the gain applied. */
export interface PeakEnvelope {
  readonly beforeLeast: Doubles;
  readonly beforeMost: Doubles;
  readonly afterLeast: Doubles;
  readonly afterMost: Doubles;
}

/** First sample of a column; column `columns` gives the end of the range. Exact for any safe range. */
function columnStart(startSample: number, endSample: number, columns: number, column: number): number {
  return startSample + Math.floor(((endSample - startSample) * column) / columns);
}

// Long enough that the cost of a call does not count, short enough to stay in the processor's cache.
const PIECE_SAMPLES = 16384;

/**
 * The waveform of a range, column by column: least and greatest value over time and over all channels, before and after the gain.
 *
 * "After" comes from the library's own block renderer, so the picture shows what a render gives. Every column also holds the
 * first sample of the next one, so that neighbours join; where there are more columns than samples, a sample is held.
 *
 * @param channels equally long, finite.
 * @param list regions; positions in samples of `channels`.
 * @param startSample first sample, `endSample` one past the last; both within the clip and at least one sample apart.
 * @param columns how many, at least 1.
 * @param treated the whole clip with its gains, needed where a region has a band: such a gain has no block renderer without delay.
 * @returns amplitudes, four tables of `columns` values.
 */
export function peakEnvelope(
  channels: readonly Samples[],
  list: RegionList,
  startSample: number,
  endSample: number,
  columns: number,
  treated: readonly Samples[] | null = null,
): PeakEnvelope {
  const beforeLeast = new Float64Array(columns).fill(Number.POSITIVE_INFINITY);
  const beforeMost = new Float64Array(columns).fill(Number.NEGATIVE_INFINITY);
  const afterLeast = beforeLeast.slice();
  const afterMost = beforeMost.slice();
  const rendered = channels.map(() => new Float32Array(PIECE_SAMPLES));
  for (let pieceStart = startSample; pieceStart < endSample; pieceStart += PIECE_SAMPLES) {
    const pieceEnd = Math.min(endSample, pieceStart + PIECE_SAMPLES);
    const before = channels.map((channel) => channel.subarray(pieceStart, pieceEnd));
    const after = treated
      ? treated.map((channel) => channel.subarray(pieceStart, pieceEnd))
      : rendered.map((channel) => channel.subarray(0, pieceEnd - pieceStart));
    if (!treated) renderGainBlockInto(after, before, list, { startSample: pieceStart });
    // One column early: that column's extra sample is this piece's first.
    let column = Math.max(0, columnOf(pieceStart, startSample, endSample, columns) - 1);
    for (; column < columns; column++) {
      const first = columnStart(startSample, endSample, columns, column);
      if (first >= pieceEnd) break;
      const last = Math.min(endSample - 1, columnStart(startSample, endSample, columns, column + 1));
      const from = Math.max(first, pieceStart) - pieceStart;
      const to = Math.min(last + 1, pieceEnd) - pieceStart;
      for (const channel of before) widen(channel, from, to, beforeLeast, beforeMost, column);
      for (const channel of after) widen(channel, from, to, afterLeast, afterMost, column);
    }
  }
  return { beforeLeast, beforeMost, afterLeast, afterMost };
}

function columnOf(sample: number, startSample: number, endSample: number, columns: number): number {
  const guess = Math.floor(((sample - startSample) / (endSample - startSample)) * columns);
  // The division may land one column off; step down until the column surely starts at or before the sample.
  let column = Math.min(columns - 1, guess + 1);
  while (column > 0 && columnStart(startSample, endSample, columns, column) >= sample) column--;
  return column;
}

function widen(
  samples: Samples,
  from: number,
  to: number,
  least: Doubles,
  most: Doubles,
  column: number,
): void {
  let low = least[column] as number;
  let high = most[column] as number;
  for (let i = from; i < to; i++) {
    const x = samples[i] as number;
    if (x < low) low = x;
    if (x > high) high = x;
  }
  least[column] = low;
  most[column] = high;
}
