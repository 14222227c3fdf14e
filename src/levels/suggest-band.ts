import { channelsOfClip } from '../regions/channels-of-clip.js';
import { LEAST_BAND_WIDTH_HZ, type RegionBand, type RegionKind, type RegionList } from '../regions/region.js';
import { checkFinite, checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Channels, Doubles } from '../signal/samples.js';
import { bandExcess } from './band-excess.js';

/** Settings of suggestBand. */
export interface SuggestBandOptions {
  /** Share of the excess that the band holds at least, 0.5 to 0.99. */
  readonly share?: number;
}

/** Default of suggestBand: 95 % of the excess, so a cut in the band leaves a twentieth of it (common practice, no source). */
export const DEFAULT_SUGGEST_BAND_OPTIONS: Readonly<Required<Pick<SuggestBandOptions, 'share'>>> =
  Object.freeze({ share: 0.95 });

/** Kinds whose noise lies above the voice, and where it begins at the lowest: what is below came from a vowel beside it. */
const CONSONANTS: readonly RegionKind[] = ['sibilant', 'fricative', 'burst'];
const LEAST_CONSONANT_HZ = 1000;
/** Lower ends below this become 0: what is left under there is rumble, not voice. */
const LEAST_LOW_HZ = 80;
/** Upper ends above this, or above nine tenths of half the rate, become half the rate: hardly anybody hears what is left. */
const MOST_HIGH_HZ = 20_000;
/** A band from 0 reaches at least so far: the lowest corner that a thump is usually cut below. */
const LEAST_HIGH_HZ = 100;
/** Narrowest band: a third of an octave about its middle, 2^(1/6) − 2^(−1/6). */
const LEAST_RELATIVE_WIDTH: number = 2 ** (1 / 6) - 2 ** (-1 / 6);

/**
 * Suggests the band in which to turn a region down: the narrowest that holds `share` of what the region has more than
 * the sound around it.
 *
 * Excess at each frequency is the power density of the region less four times that of the sound beside it, not below 0:
 * up to 6 dB more may be the same voice a little louder. The region's
 * is averaged over frames of 40 ms (Hann, half overlapped; a shorter region is one frame) from onset to offset, or start
 * to end where these are null; that of the sound beside it over the frames within 0.4 s before and after which
 * touch no other region, hand-marked ranges (kind `custom`) not counting. Powers of channels are added. Of sibilants,
 * fricatives and bursts only what lies above 1 kHz counts: below that an edge caught some of a vowel. Where the region
 * exceeds its surroundings nowhere in that range, its own spectrum counts.
 *
 * Ends are rounded outwards, to 10 Hz below 1 kHz and to 100 Hz above. A lower end below 80 Hz becomes 0; an upper one
 * above 20 kHz, or above nine tenths of half the rate, becomes half the rate. A band is at least a third of an octave
 * wide, and one from 0 goes to 100 Hz at least. A sibilant mostly gives something within 3 to 12 kHz, a thump something
 * below 100 to 250 Hz. It is a place to start: the gain that sounds right is up to the ear.
 *
 * The level of the clip does not matter, nor do gains, locks and polarity.
 *
 * @param channels - The clip that the list belongs to, one channel or several, each `list.lengthSamples` long.
 * @param list - The regions of the clip.
 * @param id - The region.
 * @param options - The share.
 * @returns A frozen band for setBand; null for a region of digital silence, which has no spectrum, and for
 *   one of those kinds with nothing above 1 kHz.
 * @throws RangeError where the clip is not as long as the list says, the id is unknown, the share out of range, or a
 *   sample within 0.45 s of the region is NaN or infinite (with its index); TypeError for a wrong kind of value.
 *
 * Source: P. Welch, "The use of fast Fourier transform for the estimation of power spectra", 1967, for the spectrum
 * (from memory); the rest is common practice, no source.
 *
 * @example
 * import { suggestBand } from 'lenition/levels';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { startSample: 20000, endSample: 24000 });
 * // A tone of 200 Hz all through; two of 6 and 8 kHz in the region.
 * const tone = (i: number, hz: number) => 0.1 * Math.sin((2 * Math.PI * hz * i) / 48000);
 * const hiss = (i: number) => (i >= 20000 && i < 24000 ? tone(i, 6000) + tone(i, 8000) : 0);
 * const samples = Float32Array.from({ length: 48000 }, (_, i) => tone(i, 200) + hiss(i));
 * suggestBand(samples, list, 1); // => { lowHz: 5900, highHz: 8100 }
 */
export function suggestBand(
  channels: Channels,
  list: RegionList,
  id: number,
  options: SuggestBandOptions = {},
): RegionBand | null {
  const { share } = checkedOptions('suggestBand', DEFAULT_SUGGEST_BAND_OPTIONS, options);
  checkNumber('suggestBand', 'options.share', share, 0.5, 0.99);
  const audio = channelsOfClip('suggestBand', list, channels);
  const region = list.regions.find((one) => one.id === id);
  if (region === undefined)
    throw rangeError('suggestBand', 'id', 'must be the id of a region of the list', id);
  const leastHz = CONSONANTS.includes(region.kind) ? LEAST_CONSONANT_HZ : 0;
  const { excess, binHz } = bandExcess(audio, list, region, leastHz, (channel, c, start, end) => {
    checkFinite('suggestBand', audio.length === 1 ? 'channels' : `channels[${c}]`, channel, start, end);
  });
  const bins = narrowest(excess, share);
  if (bins === null) return null;
  return Object.freeze(
    roundedBand(
      Math.max((bins.first - 0.5) * binHz, leastHz),
      (bins.last + 0.5) * binHz,
      list.sampleRateHz / 2,
    ),
  );
}

/** The fewest neighbouring bins that hold a share of the whole; null for nothing to share. */
function narrowest(power: Doubles, share: number): { first: number; last: number } | null {
  let total = 0;
  for (const p of power) total += p;
  if (!(total > 0)) return null;
  // Half a unit in the last place for each addition is far less than this, which keeps a share of nearly all reachable.
  const goal = share * total * (1 - 1e-12);
  let best = { first: 0, last: power.length - 1 };
  let sum = 0;
  let first = 0;
  for (let last = 0; last < power.length; last++) {
    sum += power[last] as number;
    while (sum - (power[first] as number) >= goal) sum -= power[first++] as number;
    if (sum >= goal && last - first < best.last - best.first) best = { first, last };
  }
  return best;
}

function roundedBand(lowHz: number, highHz: number, halfRateHz: number): RegionBand {
  const middle = (Math.max(lowHz, 0) + highHz) / 2;
  const spread = Math.max(0, LEAST_RELATIVE_WIDTH * middle - (highHz - lowHz)) / 2;
  const low = rounded(Math.max(lowHz - spread, 0), Math.floor);
  const high = rounded(highHz + spread, Math.ceil);
  const openLow = low < LEAST_LOW_HZ ? 0 : Math.min(low, halfRateHz - LEAST_BAND_WIDTH_HZ);
  const reached = openLow === 0 ? Math.max(high, LEAST_HIGH_HZ) : high;
  const openHigh = reached > Math.min(MOST_HIGH_HZ, 0.9 * halfRateHz) ? halfRateHz : reached;
  return { lowHz: openLow, highHz: Math.max(openHigh, openLow + LEAST_BAND_WIDTH_HZ) };
}

function rounded(hz: number, towards: (value: number) => number): number {
  const step = hz < 1000 ? 10 : 100;
  return towards(hz / step) * step;
}
