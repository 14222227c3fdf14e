import { describe, expect, it } from 'vitest';
import type { Region } from '../../src/regions/region.js';
import { soundsOf } from '../../src/takes/sounds-of.js';
import { region } from '../lib/region.js';

/** A piece at 0 dB from one sample to another. */
const piece = (startSample: number, endSample: number, fields: Partial<Region> = {}): Region =>
  region({ startSample, endSample, gainDb: 0, ...fields });
const spans = (...regions: readonly Region[]): number[][] =>
  soundsOf(regions).map(({ startSample, endSample }) => [startSample, endSample]);
const MUTED = { gainDb: -40 };

describe('soundsOf', () => {
  it('finds none where there is none', () => {
    expect(soundsOf([])).toEqual([]);
  });

  it('lasts from onset to offset, and from start to end where these are not known', () => {
    expect(spans(piece(100, 200))).toEqual([[100, 200]]);
    expect(spans(piece(100, 200, { onsetSample: 110 }))).toEqual([[110, 200]]);
    expect(spans(piece(100, 200, { onsetSample: 110, offsetSample: 190 }))).toEqual([[110, 190]]);
    // An edge that lies beyond the other makes no noise of less than nothing.
    expect(spans(piece(100, 200, { onsetSample: 200 }))).toEqual([[100, 200]]);
  });

  it('joins touching pieces of one kind with no measured edge between them', () => {
    const [sound, ...more] = soundsOf([piece(100, 200), piece(200, 300), piece(300, 400)]);
    expect(more).toEqual([]);
    expect(sound).toMatchObject({ kind: 'sibilant', startSample: 100, endSample: 400 });
    expect(sound!.regions).toHaveLength(3);
  });

  it('keeps apart what does not touch, what is of two kinds, and what has a measured edge between', () => {
    const before = piece(100, 200);
    for (const [one, other] of [
      [before, piece(201, 300)],
      [before, piece(200, 300, { kind: 'breath' })],
      [piece(100, 200, { offsetSample: 200 }), piece(200, 300)],
      [before, piece(200, 300, { onsetSample: 200 })],
    ] as const)
      expect(spans(one, other)).toEqual([
        [100, 200],
        [other.startSample, 300],
      ]);
  });

  it('counts muted pieces at the ends as far as the fade beside the rest', () => {
    const heard = piece(200, 300);
    expect(spans(piece(100, 200, { ...MUTED, fadeOutSamples: 20 }), heard)).toEqual([[180, 300]]);
    expect(spans(heard, piece(300, 400, { ...MUTED, fadeInSamples: 30 }))).toEqual([[200, 330]]);
    expect(spans(piece(100, 200, MUTED), heard, piece(300, 400, MUTED))).toEqual([[200, 300]]);
    // Two muted ones before it: the nearer one's fade counts.
    const far = piece(50, 100, { ...MUTED, fadeOutSamples: 40 });
    expect(spans(far, piece(100, 200, { ...MUTED, fadeOutSamples: 10 }), heard)).toEqual([[190, 300]]);
  });

  it('does not reach beyond what was measured', () => {
    const early = piece(100, 200, { ...MUTED, fadeOutSamples: 90, onsetSample: 150 });
    const late = piece(300, 400, { ...MUTED, fadeInSamples: 90, offsetSample: 350 });
    expect(spans(early, piece(200, 300), late)).toEqual([[150, 350]]);
  });

  it('counts whole what is heard in the middle, at −39 dB, bypassed or muted from end to end', () => {
    const heard = piece(200, 300);
    expect(spans(heard, piece(300, 400, MUTED), piece(400, 500))).toEqual([[200, 500]]);
    expect(spans(heard, piece(300, 400, { gainDb: -39.9 }))).toEqual([[200, 400]]);
    expect(spans(heard, piece(300, 400, { ...MUTED, bypassed: true }))).toEqual([[200, 400]]);
    expect(spans(piece(200, 300, MUTED), piece(300, 400, MUTED))).toEqual([[200, 400]]);
  });
});
