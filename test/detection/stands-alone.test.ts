import { describe, expect, it } from 'vitest';
import { FRAME_CLASSES, INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import type { FrameTables } from '../../src/detection/frame-tables.js';
import { standsAlone } from '../../src/detection/stands-alone.js';

/** Nothing but silence, but for one frame that is as likely voice as is said. */
function tablesOf(frame: number, voice: number): FrameTables {
  const rowCount = 60;
  const track = new Float64Array(rowCount * FRAME_CLASSES.length);
  track[frame * FRAME_CLASSES.length] = voice;
  const [inputs, bands] = [INPUT_COUNT, ROW_BANDS].map((count) => new Float64Array(rowCount * count));
  return { rowCount, track, inputs: inputs!, bands: bands! };
}

const PART = { start: 25, end: 35, class: 2 };

describe('standsAlone', () => {
  it('is false where voice is within twenty frames, on either side or within', () => {
    for (const frame of [5, 24, 30, 35, 54]) expect(standsAlone(tablesOf(frame, 0.9), PART)).toBe(false);
    for (const frame of [4, 55]) expect(standsAlone(tablesOf(frame, 0.9), PART)).toBe(true);
  });

  it('asks for voice that is likelier than not', () => {
    expect(standsAlone(tablesOf(24, 0.5), PART)).toBe(true);
    expect(standsAlone(tablesOf(24, 0.51), PART)).toBe(false);
  });

  it('looks at nothing beyond the ends', () => {
    expect(standsAlone(tablesOf(30, 0), { start: 0, end: 60, class: 2 })).toBe(true);
    expect(standsAlone(tablesOf(59, 1), { start: 50, end: 58, class: 2 })).toBe(false);
  });
});
