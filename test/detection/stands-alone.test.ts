import { describe, expect, it } from 'vitest';
import { FRAME_CLASSES, INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import type { FrameTables } from '../../src/detection/frame-tables.js';
import { standsAlone } from '../../src/detection/stands-alone.js';

/** Silence all over, but for one frame: how likely it is voice, and its level in one band, in tens of dB about this voice. */
function tablesOf(frame: number, voice: number, band: number, level: number): FrameTables {
  const rowCount = 60;
  const track = new Float64Array(rowCount * FRAME_CLASSES.length);
  const inputs = new Float64Array(rowCount * INPUT_COUNT).fill(-6);
  track[frame * FRAME_CLASSES.length] = voice;
  inputs[frame * INPUT_COUNT + band] = level;
  return { rowCount, track, inputs, bands: new Float64Array(rowCount * ROW_BANDS) };
}

const PART = { start: 25, end: 35, class: 2 };

describe('standsAlone', () => {
  it('is false where voice is within twenty frames, on either side or within', () => {
    for (const frame of [5, 24, 30, 35, 54])
      expect(standsAlone(tablesOf(frame, 0.9, 2, 0), PART)).toBe(false);
    for (const frame of [4, 55]) expect(standsAlone(tablesOf(frame, 0.9, 2, 0), PART)).toBe(true);
  });

  it('asks for voice that is likelier than not, and within 20 dB of this voice in a band up to 1.65 kHz', () => {
    expect(standsAlone(tablesOf(24, 0.5, 2, 0), PART)).toBe(true);
    expect(standsAlone(tablesOf(24, 0.51, 2, 0), PART)).toBe(false);
    expect(standsAlone(tablesOf(24, 0.9, 2, -2), PART)).toBe(true);
    expect(standsAlone(tablesOf(24, 0.9, 2, -1.99), PART)).toBe(false);
    expect(standsAlone(tablesOf(24, 0.9, 5, 0), PART)).toBe(false);
    expect(standsAlone(tablesOf(24, 0.9, 6, 0), PART)).toBe(true);
  });

  it('looks at nothing beyond the ends', () => {
    expect(standsAlone(tablesOf(30, 0, 0, 0), { start: 0, end: 60, class: 2 })).toBe(true);
  });
});
