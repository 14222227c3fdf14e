import { describe, expect, it } from 'vitest';
import { ROW_BANDS } from '../../src/detection/detection-scale.js';
import { splitAtVoice } from '../../src/detection/split-at-voice.js';

/** Tables of frames that are noise ('n'), voice ('v') or noise that is half voiced ('z'), 16 bands each. */
const tables = (frames: string) => ({
  rowCount: frames.length,
  bands: Float64Array.from({ length: frames.length * ROW_BANDS }, (_, i) => {
    const high = i % ROW_BANDS >= 10;
    const frame = frames[Math.floor(i / ROW_BANDS)];
    if (frame === 'n') return high ? 1 : 0.001;
    if (frame === 'v') return high ? 0.03 : 1;
    return high ? 1 : 0.3;
  }),
  inputs: new Float64Array(0),
  track: new Float64Array(0),
});
const split = (frames: string): number[][] =>
  splitAtVoice(tables(frames), { start: 0, end: frames.length, class: 4 }).map(({ start, end }) => [
    start,
    end,
  ]);

describe('splitAtVoice', () => {
  it('takes a vowel of three frames and more out of the noise to both sides of it', () => {
    expect(split('nnnnvvvvnnnnn')).toEqual([
      [0, 4],
      [8, 13],
    ]);
    expect(split('nnvvvnnnvvvvnn')).toEqual([
      [0, 2],
      [5, 8],
      [12, 14],
    ]);
  });

  it('leaves a stretch whole where the voice stands at an end, lasts two frames or is louder than the noise nowhere', () => {
    expect(split('vvvvnnnnnn')).toEqual([[0, 10]]);
    expect(split('nnnnnnvvvv')).toEqual([[0, 10]]);
    expect(split('nnnnvvnnnn')).toEqual([[0, 10]]);
    expect(split('nnnnzzzznnnn')).toEqual([[0, 12]]);
  });

  it('looks at the part alone and keeps its class', () => {
    const found = splitAtVoice(tables('nnnnnvvvvnnn'), { start: 2, end: 12, class: 2 });
    expect(found).toEqual([
      { start: 2, end: 5, class: 2 },
      { start: 9, end: 12, class: 2 },
    ]);
    expect(splitAtVoice(tables('nnnnnvvvvnnn'), { start: 5, end: 12, class: 2 })).toHaveLength(1);
  });
});
