import type { Doubles } from '../signal/samples.js';
import { BAND_COUNT, BAND_EDGES_HZ, ROW_BANDS, TOP_BAND } from './detection-scale.js';

/** Share of the sample rate below which bands are whole: half of it, without its last 3 %, where converters roll off. */
const USABLE_SHARE = 0.485;

/** How one band is summed from the bins of a power spectrum. */
export interface BandWeights {
  readonly firstBin: number;
  /** Share of each bin from `firstBin` on that lies inside the band. */
  readonly shares: Doubles;
}

/**
 * Shares of bins per band, so that a band holds the same power whatever the size of the transform: bin k stands
 * for (k − ½, k + ½)·binHz. A band above half the sample rate has no bins; the top band has them all or none.
 */
export function bandWeights(sampleRateHz: number, fftSize: number): readonly BandWeights[] {
  const binHz = sampleRateHz / fftSize;
  const weights: BandWeights[] = [];
  for (let band = 0; band < ROW_BANDS; band++) {
    const low = BAND_EDGES_HZ[band] as number;
    const high = BAND_EDGES_HZ[band + 1] as number;
    const firstBin = Math.max(0, Math.floor(low / binHz - 0.5));
    const lastBin = Math.min(fftSize / 2, Math.ceil(high / binHz + 0.5));
    const whole = band < TOP_BAND || high <= USABLE_SHARE * sampleRateHz;
    const shares = new Float64Array(whole ? Math.max(0, lastBin - firstBin + 1) : 0);
    for (let i = 0; i < shares.length; i++) {
      const k = firstBin + i;
      // Half of the last bin lies beyond half the sample rate.
      const upper = Math.min((k + 0.5) * binHz, high, sampleRateHz / 2);
      shares[i] = Math.max(0, upper - Math.max((k - 0.5) * binHz, low)) / binHz;
    }
    weights.push({ firstBin, shares });
  }
  return weights;
}

/** How many bands, from the lowest on, lie wholly within what the sample rate carries. */
export function usableBandCount(sampleRateHz: number): number {
  let count = 0;
  while (count < BAND_COUNT && (BAND_EDGES_HZ[count + 1] as number) <= USABLE_SHARE * sampleRateHz) count++;
  return count;
}
