import { describe, expect, it } from 'vitest';
import { ROW_BANDS } from '../../src/detection/detection-scale.js';
import { isBetweenRests, REST_REACH_FRAMES } from '../../src/detection/is-between-rests.js';
import { createRowStore, type RowStore } from '../../src/detection/row-store.js';

const FRAMES = 400;
/** Edges of a noise, in frames. */
const NOISE = { start: 200.5, end: 215.5 };

/** Powers of band 2 (500 to 750 Hz) in single frames, and a floor of a millionth in all bands. */
function bandsOf(powers: Readonly<Record<number, number>>, band = 2): RowStore {
  const bands = createRowStore(ROW_BANDS);
  for (let t = 0; t < FRAMES; t++) {
    const at = bands.add();
    bands.data.fill(1e-6, at, at + ROW_BANDS);
    bands.data[at + band] = powers[t] ?? 1e-6;
  }
  return bands;
}

describe('isBetweenRests', () => {
  it('is where the voice sounds within 0.6 s, and 25 dB softer on both sides', () => {
    for (const voice of [150, 260]) {
      // Two other bands of the three are at the floor.
      expect(isBetweenRests(bandsOf({ [voice]: 1, 199: 0.0031 - 2e-6 }), NOISE)).toBe(true);
      expect(isBetweenRests(bandsOf({ [voice]: 1, 199: 0.0032 }), NOISE)).toBe(false);
      expect(isBetweenRests(bandsOf({ [voice]: 1, 217: 0.0032 }), NOISE)).toBe(false);
    }
  });

  it('looks at eight frames to each side, and not at the noise itself', () => {
    const rests = (frame: number): boolean => isBetweenRests(bandsOf({ 150: 1, [frame]: 1 }), NOISE);
    for (const frame of [193, 200, 216, 223]) expect([frame, rests(frame)]).toEqual([frame, false]);
    for (const frame of [192, 201, 208, 215, 224]) expect([frame, rests(frame)]).toEqual([frame, true]);
    // Of whole edges the eighth frame counts, on both sides.
    const whole = (frame: number): boolean =>
      isBetweenRests(bandsOf({ 150: 1, [frame]: 1 }), { start: 200, end: 216 });
    for (const frame of [192, 224]) expect([frame, whole(frame)]).toEqual([frame, false]);
    for (const frame of [191, 225]) expect([frame, whole(frame)]).toEqual([frame, true]);
  });

  it('is not where no voice sounds near by, nor in silence', () => {
    const reach = REST_REACH_FRAMES;
    expect(isBetweenRests(bandsOf({ [201 - reach]: 1 }), NOISE)).toBe(true);
    expect(isBetweenRests(bandsOf({ [200 - reach]: 1 }), NOISE)).toBe(false);
    expect(isBetweenRests(bandsOf({ [215 + reach]: 1 }), NOISE)).toBe(true);
    expect(isBetweenRests(bandsOf({ [216 + reach]: 1 }), NOISE)).toBe(false);
    expect(isBetweenRests(bandsOf({ 208: 1 }), NOISE)).toBe(false);
  });

  it('hears the voice from 300 Hz to 1 kHz alone', () => {
    for (const [band, heard] of [
      [0, false],
      [1, true],
      [3, true],
      [4, false],
    ] as const)
      expect([band, isBetweenRests(bandsOf({ 150: 1 }, band), NOISE)]).toEqual([band, heard]);
  });

  it('takes what lies beyond the ends for silence, also where a stream has forgotten its start', () => {
    const first = { start: -0.5, end: 12.5 };
    expect(isBetweenRests(bandsOf({ 60: 1 }), first)).toBe(true);
    expect(isBetweenRests(bandsOf({ 13: 1 }), first)).toBe(false);
    expect(isBetweenRests(bandsOf({ 340: 1 }), { start: 390, end: FRAMES })).toBe(true);
    const bands = bandsOf({ 150: 1 });
    bands.dropBefore(140);
    expect(isBetweenRests(bands, NOISE)).toBe(true);
    bands.dropBefore(151);
    expect(isBetweenRests(bands, NOISE)).toBe(false);
  });
});
