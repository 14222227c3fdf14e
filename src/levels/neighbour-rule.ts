import type { RegionList } from '../regions/region.js';
import { samplesWithin } from '../regions/time.js';
import type { NeighbourRule } from './neighbour-voice.js';
import { noiseSpan } from './noise-span.js';
import type { VoicedTrack } from './voiced-level.js';

/** Longest unvoiced stretch, consonants of the list apart, that does not end a phrase. */
const PAUSE_SECONDS = 0.3;

/** How the voice beside the regions of a list is looked for: harsh consonants beside a region are no pause. */
export function neighbourRule(list: RegionList, track: VoicedTrack, neighbourSeconds: number): NeighbourRule {
  const { blockSamples, power } = track;
  const consonant = new Uint8Array(power.length);
  for (const region of list.regions) {
    if (region.kind !== 'sibilant' && region.kind !== 'fricative' && region.kind !== 'burst') continue;
    const { start, end } = noiseSpan(region);
    consonant.fill(1, Math.floor(start / blockSamples), Math.ceil(end / blockSamples));
  }
  return {
    neighbourSamples: samplesWithin(neighbourSeconds, list.sampleRateHz),
    pauseSamples: samplesWithin(PAUSE_SECONDS, list.sampleRateHz),
    isConsonant: (block) => consonant[block] === 1,
  };
}
