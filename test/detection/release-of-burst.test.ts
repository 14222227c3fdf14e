import { describe, expect, it } from 'vitest';
import { INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import type { FrameTables } from '../../src/detection/frame-tables.js';
import { releaseOfBurst } from '../../src/detection/release-of-burst.js';

const BURST = 4;

/** A closure, a burst of four frames from frame 10 on, and then what `vowelPower` says, told as noise until frame 20. */
function burstBefore(vowelPower: number, voiced: number): FrameTables {
  const rowCount = 40;
  const bands = new Float64Array(rowCount * ROW_BANDS).fill(1e-9);
  const track = new Float64Array(rowCount * 6);
  for (let t = 0; t < rowCount; t++) {
    for (let band = 0; band < ROW_BANDS; band++) {
      const at = t * ROW_BANDS + band;
      if (t >= 10 && t < 14 && band >= 9) bands[at] = 1e-3;
      if (t >= 14 && band < 9) bands[at] = vowelPower;
    }
    const noise = t >= 10 && t < 20;
    track[t * 6 + BURST] = noise ? 0.8 : 0;
    track[t * 6] = t >= 20 ? voiced : 0.1;
    track[t * 6 + 1] = 1 - (track[t * 6] as number) - (track[t * 6 + BURST] as number);
  }
  return { rowCount, bands, inputs: new Float64Array(rowCount * INPUT_COUNT), track };
}

describe('releaseOfBurst', () => {
  it('ends where the vowel bands come up, and looks two frames ahead of the span', () => {
    expect(releaseOfBurst(burstBefore(1e-2, 0.9), { start: 10, end: 20, class: BURST })).toEqual({
      start: 8,
      end: 14,
      class: BURST,
    });
  });

  it('leaves a burst alone that no voice follows', () => {
    const span = { start: 10, end: 20, class: BURST };
    expect(releaseOfBurst(burstBefore(1e-2, 0.1), span)).toEqual(span);
  });

  it('waits for the fundamental where the burst is as loud as the vowel in its formants: a t before "ee"', () => {
    const tables = burstBefore(1e-2, 0.9);
    for (let t = 10; t < 14; t++)
      for (let band = 1; band < 6; band++) tables.bands[t * ROW_BANDS + band] = 1e-2;
    expect(releaseOfBurst(tables, { start: 10, end: 20, class: BURST }).end).toBe(14);
  });

  it('waits for the formants where the closure is voiced', () => {
    const tables = burstBefore(1e-2, 0.9);
    for (let t = 0; t < 14; t++) tables.bands[t * ROW_BANDS] = 1e-2;
    expect(releaseOfBurst(tables, { start: 10, end: 20, class: BURST }).end).toBe(14);
  });

  it('keeps at least three frames where the voice is there from the start', () => {
    const { start, end } = releaseOfBurst(burstBefore(1e-2, 0.9), { start: 16, end: 20, class: BURST });
    expect(end - start).toBe(3);
  });
});
