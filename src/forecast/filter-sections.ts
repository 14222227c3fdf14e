import {
  type BiquadCoefficients,
  bandPass,
  highPass,
  highShelf,
  lowPass,
  lowShelf,
  peaking,
} from '../signal/biquad-design.js';
import { checkObject, checkSampleRate } from '../signal/check.js';
import type { FilterSpec } from './chain.js';
import { assertFilters } from './chain-rules.js';

/**
 * The second-order sections of filters that are described as data, at a sample rate: one for each filter, in order.
 *
 * @param filters Filters of the Audio EQ Cookbook; none give none.
 * @param options `sampleRateHz`: 8,000 to 192,000.
 * @returns Coefficients for `filterSamples` and `frequencyResponse`.
 * @throws TypeError or RangeError for values outside the stated ranges; a frequency must lie under half the sample rate.
 * @see Bristow-Johnson, "Audio EQ Cookbook" (W3C note).
 * @example
 * import { filterSections } from 'lenition/forecast';
 * filterSections([{ kind: 'highShelf', frequencyHz: 6000, gainDb: 0 }], { sampleRateHz: 48000 })[0]?.b0; // => 1
 */
export function filterSections(
  filters: readonly FilterSpec[],
  options: { readonly sampleRateHz: number },
): readonly BiquadCoefficients[] {
  checkObject('filterSections', 'options', options);
  const { sampleRateHz } = options;
  checkSampleRate('filterSections', sampleRateHz);
  assertFilters('filterSections', filters, sampleRateHz);
  return filters.map((filter) => sectionOf(filter, sampleRateHz));
}

function sectionOf(filter: FilterSpec, sampleRateHz: number): BiquadCoefficients {
  switch (filter.kind) {
    case 'lowPass':
      return lowPass({ ...filter, sampleRateHz });
    case 'highPass':
      return highPass({ ...filter, sampleRateHz });
    case 'bandPass':
      return bandPass({ ...filter, sampleRateHz });
    case 'peaking':
      return peaking({ ...filter, sampleRateHz });
    case 'lowShelf':
      return lowShelf({ ...filter, sampleRateHz });
    case 'highShelf':
      return highShelf({ ...filter, sampleRateHz });
  }
}
