import { expect } from 'vitest';
import { MOST_PROBLEMS } from '../../src/exchange/parse-json.js';
import type { Problem, Result } from '../../src/exchange/result.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';

/** The list that the files of version 1 under test/exchange/files hold, written out by hand as they were. */
export const FILED_LIST: RegionList = {
  sampleRateHz: 48000,
  lengthSamples: 480000,
  nextId: 4,
  regions: [
    {
      id: 1,
      kind: 'sibilant',
      onsetSample: 4850,
      offsetSample: 9550,
      startSample: 4801,
      endSample: 9599,
      gainDb: -6,
      confidence: 0.875,
      bypassed: false,
      locked: true,
      fadeInSamples: 96,
      fadeOutSamples: 96,
      fadeShape: 'raisedCosine',
      label: 'sun\tand\u2028moon',
      reason: { rule: 'fixed cut', numbers: { cutDb: 6, levelDb: -23.4 } },
    },
    {
      id: 3,
      kind: 'burst',
      onsetSample: null,
      offsetSample: null,
      startSample: 9599,
      endSample: 10079,
      gainDb: -3.5,
      band: { lowHz: 4000.5, highHz: 24000 },
      confidence: 1,
      bypassed: false,
      locked: false,
      fadeInSamples: 0,
      fadeOutSamples: 48,
      fadeShape: 'decibel',
      label: '',
      reason: { rule: 'by hand', numbers: {} },
    },
  ],
};

/**
 * Regions whose edges lie on frames of 29.97 a second, that is 30000/1001: 1601.6 samples at 48 kHz (references.md E, computed from its figures),
 * so most edges are no whole number of frames, of milliseconds, or of microseconds.
 */
export function framedList(): RegionList {
  const edge = (frame: number): number => Math.round(frame * 1601.6);
  const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 480000 });
  const starts = Array.from({ length: 90 }, (_, i) => 3 * i);
  return insertRegions(
    clip,
    starts.map((frame) => ({ startSample: edge(frame), endSample: edge(frame + 2) })),
  );
}

/** The problems of a reading that must have failed, each of a readable form. */
export function problemsOf(result: Result<unknown>): readonly Problem[] {
  expect(result.ok).toBe(false);
  const problems = result.ok ? [] : result.problems;
  expect(problems.length).toBeGreaterThan(0);
  expect(problems.length).toBeLessThanOrEqual(MOST_PROBLEMS);
  for (const { path, rule, received } of problems) {
    expect(path).toMatch(/^(\$$|line \d+($|, [a-zA-Z]))/);
    expect(rule).toMatch(/^must /);
    expect(received.length).toBeLessThanOrEqual(120);
    expect(path.length + rule.length).toBeLessThan(400);
  }
  return problems;
}

/** A reading of anything: a list that keeps every rule and survives being written, or problems; and no trace elsewhere. */
export function checkReading(
  result: Result<RegionList>,
  again: (list: RegionList) => Result<RegionList>,
): 'read' | 'refused' {
  expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
  if (!result.ok) {
    problemsOf(result);
    return 'refused';
  }
  checkRegionList(result.value);
  for (const region of result.value.regions) expect(Object.getPrototypeOf(region)).toBe(Object.prototype);
  expect(again(result.value)).toStrictEqual(result);
  return 'read';
}
