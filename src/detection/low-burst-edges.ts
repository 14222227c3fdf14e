import { lowPass } from '../signal/biquad-design.js';
import { filterSamples } from '../signal/biquad-filter.js';
import type { Samples } from '../signal/samples.js';
import type { SampleSpan } from './free-parts.js';

/** Envelope blocks and their moving mean: a wave of 30 Hz pulses in power every 17 ms. */
const BLOCK_SECONDS = 0.002;
const MEAN_BLOCKS = 9;
/** Edges lie where the power has fallen by 12 dB from its peak, a quarter of its amplitude: what is left outside is no blow. */
const EDGE_RATIO = 1 / 16;
/** What the filter needs to settle on both sides. */
const MARGIN_SECONDS = 0.06;

/**
 * Edges of a low burst around a stretch, at a quarter of the amplitude of its peak below `cornerHz`. The filter runs both ways, so that
 * it delays nothing, over an excerpt about its own mean.
 */
export function lowBurstEdges(
  channels: readonly Samples[],
  sampleRateHz: number,
  span: SampleSpan,
  cornerHz: number,
): SampleSpan {
  const margin = Math.round(MARGIN_SECONDS * sampleRateHz);
  const from = Math.max(0, span.startSample - margin);
  const to = Math.min((channels[0] as Samples).length, span.endSample + margin);
  const block = Math.max(1, Math.round(BLOCK_SECONDS * sampleRateHz));
  const blocks = new Float64Array(Math.ceil((to - from) / block));
  for (const samples of channels) {
    const low = bothWays(centred(samples.subarray(from, to)), sampleRateHz, cornerHz);
    for (let i = 0; i < low.length; i++) {
      const b = Math.floor(i / block);
      blocks[b] = (blocks[b] as number) + (low[i] as number) ** 2;
    }
  }
  const power = (b: number): number => {
    let sum = 0;
    for (let k = b - (MEAN_BLOCKS >> 1); k <= b + (MEAN_BLOCKS >> 1); k++) sum += blocks[k] ?? 0;
    return sum;
  };
  const firstBlock = Math.floor((span.startSample - from) / block);
  const endBlock = Math.min(blocks.length, Math.ceil((span.endSample - from) / block));
  let peak = firstBlock;
  for (let b = firstBlock; b < endBlock; b++) if (power(b) > power(peak)) peak = b;
  const least = EDGE_RATIO * power(peak);
  let first = peak;
  let last = peak;
  while (first > 0 && power(first - 1) > least) first--;
  while (last + 1 < blocks.length && power(last + 1) > least) last++;
  return { startSample: from + first * block, endSample: Math.min(to, from + (last + 1) * block) };
}

function centred(samples: Samples): Samples {
  let mean = 0;
  for (const x of samples) mean += x / samples.length;
  return samples.map((x) => x - mean) as Samples;
}

function bothWays(samples: Samples, sampleRateHz: number, frequencyHz: number): Samples {
  const filter = lowPass({ sampleRateHz, frequencyHz });
  return filterSamples(filterSamples(samples, filter).reverse() as Samples, filter).reverse() as Samples;
}
