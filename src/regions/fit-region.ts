import type { Region } from './region.js';

/**
 * A region moved to new edges. Fades that no longer fit together are shortened in the same proportion,
 * rounded down. The measured onset and offset stay: they describe the noise, not the region.
 */
export function withEdges(region: Region, startSample: number, endSample: number): Region {
  const length = endSample - startSample;
  const { fadeInSamples, fadeOutSamples } = region;
  const edges = { ...region, startSample, endSample };
  if (length <= 0 || fadeInSamples <= length - fadeOutSamples) return edges;
  const fadeIn = Math.floor(length * (fadeInSamples / (fadeInSamples + fadeOutSamples)));
  const fadeOut = Math.floor(length * (fadeOutSamples / (fadeInSamples + fadeOutSamples)));
  // The quotients may round up where lengths near 2^53; the sum must fit all the same.
  return { ...edges, fadeInSamples: fadeIn, fadeOutSamples: Math.min(fadeOut, length - fadeIn) };
}

/**
 * The piece of a region that lies within [startSample, endSample), a part of it. A measured edge that the
 * cut takes away is null in the piece. Fades are kept, shortened to fit.
 */
export function cutPiece(region: Region, startSample: number, endSample: number): Region {
  let { onsetSample, offsetSample } = region;
  if (startSample > region.startSample) {
    if (onsetSample !== null && onsetSample < startSample) onsetSample = null;
    if (offsetSample !== null && offsetSample <= startSample) offsetSample = null;
  }
  if (endSample < region.endSample) {
    if (onsetSample !== null && onsetSample >= endSample) onsetSample = null;
    if (offsetSample !== null && offsetSample > endSample) offsetSample = null;
  }
  return { ...withEdges(region, startSample, endSample), onsetSample, offsetSample };
}
