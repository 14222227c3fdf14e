import type { Region, RegionList } from '../regions/region.js';
import type { Channels, NewSamples, Samples } from '../signal/samples.js';
import { changesAudio } from './changes-audio.js';
import { renderedClip } from './render-gain.js';

/**
 * What the render takes away, alone: input − output, sample by sample, to hear whether only hiss is gone or the word
 * with it.
 *
 * It is never normalised: its level is the level of what was taken. A cut of 6 dB takes away almost as much as it
 * leaves (×0.49881, 6.04 dB below the input). It is zero outside regions and in those that leave the audio alone;
 * there the input may hold anything. A boost gives the added signal with its sign turned.
 *
 * Output + removed = input, to the bit, where the gain lies within ±6.02 dB (×0.5 to ×2: the difference of two floats
 * within a factor of 2 is exact; P. H. Sterbenz, Floating-Point Computation, 1974, from memory). Beyond that the
 * difference is rounded to the nearest float, and the sum is the input to within one unit in the last place of the input,
 * or of the output where a boost made it larger.
 *
 * Turn the level down before you listen to it: harsh noise by itself tires the ear (docs/cautions.md).
 *
 * @param channels - One channel or several, each `list.lengthSamples` long; not changed.
 * @param list - The regions of the clip. No regions: zeros.
 * @returns New arrays in the shape of the input.
 * @throws As renderGain.
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { removedSignal } from 'lenition/gain';
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 4 });
 * const list = insertRegion(empty, { startSample: 1, endSample: 3, gainDb: -20, fadeInSamples: 0, fadeOutSamples: 0 });
 * const removed = removedSignal(new Float32Array([0.5, 0.5, 0.5, 0.5]), list);
 * Array.from(removed, (x) => x.toFixed(2)); // => ['0.00', '0.45', '0.45', '0.00']
 */
export function removedSignal(channels: Samples, list: RegionList): NewSamples;
export function removedSignal(channels: readonly Samples[], list: RegionList): NewSamples[];
export function removedSignal(channels: Channels, list: RegionList): NewSamples | NewSamples[];
export function removedSignal(channels: Channels, list: RegionList): NewSamples | NewSamples[] {
  const output = renderedClip('removedSignal', channels, list);
  return channels instanceof Float32Array
    ? removedFrom(channels, output as NewSamples, list)
    : (output as NewSamples[]).map((rendered, c) => removedFrom(channels[c] as Samples, rendered, list));
}

function removedFrom(input: Samples, output: Samples, { regions }: RegionList): NewSamples {
  const removed = new Float32Array(input.length);
  const subtract = ({ startSample, endSample }: Region): void => {
    for (let i = startSample; i < endSample; i++) removed[i] = (input[i] as number) - (output[i] as number);
  };
  regions.filter(changesAudio).forEach(subtract);
  return removed;
}
