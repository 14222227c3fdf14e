import { expect, test } from 'vitest';
import { regionLine } from '../../src/picture/region-text.js';
import { region } from '../lib/region.js';

const line = (band?: { lowHz: number; highHz: number }): string =>
  regionLine(region({ startSample: 48000, endSample: 52800, ...(band ? { band } : {}) }), 0.5, 48000, 10);

test('the title of a region says which part of the spectrum its gain works on, and nothing where that is all', () => {
  expect(line()).not.toMatch(/Hz/);
  expect(line({ lowHz: 4000, highHz: 11000 })).toContain(' · only 4000 to 11000 Hz');
  expect(line({ lowHz: 0, highHz: 150.4 })).toContain(' · only below 150 Hz');
  expect(line({ lowHz: 5500, highHz: 24000 })).toContain(' · only above 5500 Hz');
  expect(line({ lowHz: 0, highHz: 24000 })).toContain(' · whole spectrum');
});
