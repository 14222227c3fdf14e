import { KIND_STYLES } from '../../../src/picture/kind-style.js';
import type { Region, RegionList } from '../../../src/regions/region.js';
import { DEFAULT_UNCERTAIN_CRITERIA } from '../../../src/regions/uncertain-regions.js';

/** A number of decibels as people write it: "−6 dB", "+1.5 dB". */
export function decibelText(db: number): string {
  const rounded = Math.round(10 * db) / 10;
  return `${rounded < 0 ? '−' : rounded > 0 ? '+' : ''}${Math.abs(rounded)} dB`;
}

/** A position: "3.210 s", from a minute on "1:03.210". */
export function timeText(sample: number, sampleRateHz: number): string {
  const milliseconds = Math.round((1000 * sample) / sampleRateHz);
  if (milliseconds < 60_000) return `${(milliseconds / 1000).toFixed(3)} s`;
  const minutes = Math.floor(milliseconds / 60_000);
  const seconds = ((milliseconds - 60_000 * minutes) / 1000).toFixed(3);
  return `${minutes}:${seconds.padStart(6, '0')}`;
}

/** A length: "112 ms", from a second on "1.25 s". */
export function lengthText(samples: number, sampleRateHz: number): string {
  const seconds = samples / sampleRateHz;
  return seconds < 1 ? `${Math.round(1000 * seconds)} ms` : `${seconds.toFixed(2)} s`;
}

/** What the chosen region is, in one line. */
export function regionText(region: Region, sampleRateHz: number): string {
  const { tag, word } = KIND_STYLES[region.kind];
  const parts = [
    `${tag} ${word}`,
    timeText(region.startSample, sampleRateHz),
    lengthText(region.endSample - region.startSample, sampleRateHz),
    decibelText(region.gainDb),
    `confidence ${region.confidence.toFixed(2)}`,
  ];
  if (region.bypassed) parts.push('off');
  if (region.locked) parts.push('locked');
  return parts.join(', ');
}

/** True where a listener should look first. */
export function isUncertain(region: Region): boolean {
  return region.confidence < DEFAULT_UNCERTAIN_CRITERIA.belowConfidence;
}

/** How many regions there are and how many are heard to change. */
export function summaryText({ regions }: RegionList): string {
  const changed = regions.filter(({ bypassed, gainDb }) => !bypassed && gainDb !== 0);
  const uncertain = regions.filter(isUncertain).length;
  const up = changed.filter(({ gainDb }) => gainDb > 0).length;
  const counts = [`${regions.length} regions`, `${changed.length - up} turned down`];
  if (up > 0) counts.push(`${up} turned up`);
  if (uncertain > 0) counts.push(`${uncertain} uncertain`);
  return counts.join(', ');
}
