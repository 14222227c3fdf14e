import { filterSamples } from '../signal/biquad-filter.js';
import { kWeighting } from '../signal/k-weighting.js';
import type { Doubles, Samples } from '../signal/samples.js';

/** Power of a clip as it is heard, in short blocks. */
export interface HeardPower {
  readonly blockSamples: number;
  /** Mean square per block after K-weighting, averaged over channels; 0 in digital silence. The last block may be short. */
  readonly powers: Doubles;
}

/** Power after the K-weighting of ITU-R BS.1770 (rumble and offset count little), each block its own. */
export function heardPower(
  channels: readonly Samples[],
  sampleRateHz: number,
  blockSeconds: number,
): HeardPower {
  const blockSamples = Math.max(1, Math.round(blockSeconds * sampleRateHz));
  const length = (channels[0] as Samples).length;
  const powers = new Float64Array(Math.ceil(length / blockSamples));
  const sections = kWeighting({ sampleRateHz });
  for (const samples of channels) {
    const heard = filterSamples(samples, sections);
    for (let b = 0; b < powers.length; b++) {
      const from = b * blockSamples;
      const to = Math.min(length, from + blockSamples);
      // What rings in digital silence is the filter and no sound.
      if (isConstant(samples, from, to)) continue;
      let sum = 0;
      for (let i = from; i < to; i++) sum += (heard[i] as number) ** 2;
      powers[b] = (powers[b] as number) + sum / ((to - from) * channels.length);
    }
  }
  return { blockSamples, powers };
}

function isConstant(samples: Samples, from: number, to: number): boolean {
  for (let i = from + 1; i < to; i++) if (samples[i] !== samples[from]) return false;
  return true;
}
