import { receiveFound } from '../../examples/browser/state/decide.js';
import { EMPTY_PAGE, openTake, type PageState } from '../../examples/browser/state/page-state.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';

export const RATE_HZ = 48000;
export const LENGTH = 10 * RATE_HZ;

/** A page with a take of 10 s in which regions were found. */
export function pageWith(drafts: readonly RegionDraft[]): PageState {
  const take = {
    name: 'take.wav',
    sampleRateHz: RATE_HZ,
    lengthSamples: LENGTH,
    channelCount: 1,
    format: '24-bit',
  };
  const found = insertRegions(createRegionList({ sampleRateHz: RATE_HZ, lengthSamples: LENGTH }), [
    ...drafts,
  ]);
  return receiveFound(openTake(EMPTY_PAGE, take), found, false);
}

/** Two sibilants and, between them, a burst that is uncertain. */
export const THREE: readonly RegionDraft[] = [
  { kind: 'sibilant', startSample: 48000, endSample: 52800, confidence: 0.9 },
  { kind: 'burst', startSample: 96000, endSample: 97200, confidence: 0.6 },
  { kind: 'sibilant', startSample: 144000, endSample: 148800, confidence: 0.95 },
];

/** Gains of a page's list, in order of time. */
export function gainsOf(state: PageState): readonly (number | undefined)[] {
  return (state.history?.present.regions ?? []).map((region) => region.gainDb);
}
