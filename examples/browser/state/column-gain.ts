import { gainAt } from '../../../src/gain/gain-at.js';
import type { RegionList } from '../../../src/regions/region.js';
import { regionsBetween } from '../../../src/regions/regions-between.js';
import type { SampleRange } from './page-state.js';

/**
 * Amplitude factor of each of `columns` equal parts of a view, for drawing: the gain in the middle of the part, or of the
 * changed region that fills most of it where a part is longer than a region. 1 elsewhere.
 */
export function columnGains(list: RegionList, view: SampleRange, columns: number): Float32Array {
  const gains = new Float32Array(columns).fill(1);
  const step = (view.endSample - view.startSample) / columns;
  for (const region of regionsBetween(list, view.startSample, view.endSample)) {
    if (region.bypassed || region.gainDb === 0) continue;
    const first = Math.max(0, Math.floor((region.startSample - view.startSample) / step));
    const last = Math.min(columns - 1, Math.floor((region.endSample - 1 - view.startSample) / step));
    for (let c = first; c <= last; c++) {
      const middle = view.startSample + (c + 0.5) * step;
      const inside = Math.min(region.endSample - 1, Math.max(region.startSample, middle));
      // A part at the rim of a region that is mostly outside of it keeps its height.
      if (Math.abs(inside - middle) <= 0.25 * step) gains[c] = gainAt(list, Math.round(inside));
    }
  }
  return gains;
}
