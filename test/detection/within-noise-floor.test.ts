import { describe, expect, it } from 'vitest';
import { syntheticHum } from '../../bench/lib/ends/humming.js';
import { createRandom } from '../../bench/train/random.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { HIGH_FLOOR_INPUT, INPUT_COUNT } from '../../src/detection/detection-scale.js';
import { isWithinNoiseFloor } from '../../src/detection/within-noise-floor.js';

const tables = (risesDb: readonly number[]) => ({
  rowCount: risesDb.length,
  bands: new Float64Array(0),
  track: new Float64Array(0),
  inputs: Float64Array.from({ length: risesDb.length * INPUT_COUNT }, (_, i) =>
    i % INPUT_COUNT === HIGH_FLOOR_INPUT ? (risesDb[Math.floor(i / INPUT_COUNT)] as number) / 15 : 9,
  ),
});

describe('isWithinNoiseFloor', () => {
  it('is true where no frame of a stretch, nor the one beside it, rises by 4 dB above 3 kHz', () => {
    const part = { start: 2, end: 4, class: 4 };
    expect(isWithinNoiseFloor(tables([20, 3, 3, 3, 3, 20]), part)).toBe(true);
    expect(isWithinNoiseFloor(tables([3, 3, 3, 5, 3, 3]), part)).toBe(false);
    expect(isWithinNoiseFloor(tables([3, 5, 3, 3, 3, 3]), part)).toBe(false);
    expect(isWithinNoiseFloor(tables([3, 3, 3, 3, 5, 3]), part)).toBe(false);
    // At the ends of what there is.
    expect(isWithinNoiseFloor(tables([3, 3]), { start: 0, end: 2, class: 4 })).toBe(true);
  });
});

describe('a hum over steady hiss', () => {
  it('has no consonant where its notes begin and end, at any confidence', () => {
    const hum = syntheticHum(10 * 48_000, 48_000, createRandom(1));
    const { regions } = detectConsonants(hum, { sampleRateHz: 48_000, minConfidence: 0 });
    expect(regions.filter(({ kind }) => kind !== 'breath')).toEqual([]);
  });
});
