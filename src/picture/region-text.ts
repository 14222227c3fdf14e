import { LEAST_GAIN_DB, type Region, type RegionBand } from '../regions/region.js';
import { KIND_STYLES } from './kind-style.js';
import { gainText, timeText } from './numbers.js';

/** True where the region's gain is heard. */
export function regionIsActive(region: Region): boolean {
  return !region.bypassed && region.gainDb !== 0;
}

/**
 * The label of a region: its letter, a question mark where the kind is uncertain, and its gain in dB.
 *
 * "off" stands for a bypassed region, "mute" for the least gain.
 *
 * @param region any region.
 * @param minConfidence below it the kind counts as uncertain.
 * @param unit written after a number; may be empty.
 */
export function regionTag(region: Region, minConfidence: number, unit: string): string {
  const { tag } = KIND_STYLES[region.kind];
  const doubt = region.confidence < minConfidence ? '?' : '';
  if (region.bypassed) return `${tag}${doubt} off`;
  if (region.gainDb <= LEAST_GAIN_DB) return `${tag}${doubt} mute`;
  return `${tag}${doubt} ${gainText(region.gainDb)}${unit}`;
}

/** Everything about a region in one line, for headings and for the text that appears under the pointer; not yet escaped. */
export function regionLine(
  region: Region,
  minConfidence: number,
  sampleRateHz: number,
  clipSeconds: number,
): string {
  const start = timeText(region.startSample / sampleRateHz, 3, clipSeconds);
  const milliseconds = Math.round(((region.endSample - region.startSample) / sampleRateHz) * 1000);
  // The tag's letter gives way to the word.
  const gain = regionTag(region, minConfidence, ' dB').slice(KIND_STYLES[region.kind].tag.length);
  const parts = [
    `${KIND_STYLES[region.kind].word}${gain}`,
    `${start}${clipSeconds < 60 ? ' s' : ''}`,
    `${milliseconds} ms`,
    `confidence ${region.confidence.toFixed(2)}`,
  ];
  if (region.band !== undefined) parts.push(bandText(region.band, sampleRateHz));
  if (region.locked) parts.push('locked');
  if (region.label !== '') parts.push(`“${[...region.label].slice(0, 60).join('')}”`);
  return parts.join(' · ');
}

/** Where in the spectrum a region's gain works, in a few words. */
function bandText({ lowHz, highHz }: RegionBand, sampleRateHz: number): string {
  const low = Math.round(lowHz);
  const high = Math.round(highHz);
  const openAbove = highHz >= sampleRateHz / 2;
  if (lowHz === 0) return openAbove ? 'whole spectrum' : `only below ${high} Hz`;
  return openAbove ? `only above ${low} Hz` : `only ${low} to ${high} Hz`;
}
