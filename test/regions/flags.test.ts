import { describe, expect, it } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { setBypassed, setKind, setLabel, setLocked } from '../../src/regions/set-flags.js';

const list = insertRegions(createRegionList({ sampleRateHz: 48_000, lengthSamples: 1000 }), [
  { startSample: 0, endSample: 100, confidence: 0.5, kind: 'burst' },
  { startSample: 200, endSample: 300 },
]);

describe('flags, label and kind of a region', () => {
  it.each([
    ['bypassed', setBypassed(list, 1, true), { bypassed: true }],
    ['locked', setLocked(list, 1, true), { locked: true }],
    ['label', setLabel(list, 1, 'last word'), { label: 'last word' }],
    ['kind', setKind(list, 1, 'breath'), { kind: 'breath', confidence: 1 }],
  ] as const)('%s changes and nothing else', (_name, changed, fields) => {
    expect(changed.regions[0]).toEqual({ ...list.regions[0], ...fields });
    expect(changed.regions[1]).toBe(list.regions[1]);
  });

  it('are taken back', () => {
    expect(setBypassed(setBypassed(list, [1, 2], true), [1, 2], false)).toEqual(list);
    expect(setLocked(setLocked(list, [1, 2], true), [1, 2], false)).toEqual(list);
  });
});
