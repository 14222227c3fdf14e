import type { Region } from '../../src/regions/region.js';

/** A sibilant cut by 6 dB, with everything that a test leaves out. */
export function region(fields: Partial<Region> & Pick<Region, 'startSample' | 'endSample'>): Region {
  return {
    id: 1,
    kind: 'sibilant',
    onsetSample: null,
    offsetSample: null,
    gainDb: -6,
    confidence: 1,
    bypassed: false,
    locked: false,
    fadeInSamples: 0,
    fadeOutSamples: 0,
    fadeShape: 'linear',
    label: '',
    reason: { rule: 'test', numbers: {} },
    ...fields,
  };
}
