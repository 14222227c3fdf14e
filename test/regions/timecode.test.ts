import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { nudgeByFrames } from '../../src/regions/nudge-by-frames.js';
import { setLocked } from '../../src/regions/set-flags.js';
import { framesToSamples, samplesToTimecode, timecodeToSamples } from '../../src/regions/timecode.js';
import { TIMECODE_RATES, type TimecodeRate } from '../../src/regions/timecode-rate.js';
import { framesToTimecode, timecodeToFrames } from '../../src/regions/timecode-text.js';

const RATES = Object.keys(TIMECODE_RATES) as TimecodeRate[];
const SAMPLE_RATES = [8000, 44100, 48000, 88200, 96000, 176400, 192000];
const TEN_HOURS = 10 * 3600 * 192000;

describe('the length of a frame', () => {
  test('at 48 kHz is 2002, 2000, 1920, 1601.6 and 1600 samples (references.md E, computed from its figures/from memory)', () => {
    // A thousand frames, so that 1601.6 is a whole number of samples and no rounding is in the way.
    const of1000 = RATES.map((rate) => [rate, framesToSamples(1000, 48000, rate)]);
    expect(Object.fromEntries(of1000)).toEqual({
      '23.976': 2_002_000,
      '24': 2_000_000,
      '25': 1_920_000,
      '29.97': 1_601_600,
      '29.97 drop': 1_601_600,
      '30': 1_600_000,
    });
  });

  test('is rounded to the nearest sample, halves away from zero, so that there and back is nowhere', () => {
    expect(framesToSamples(1, 48000, '29.97')).toBe(1602);
    expect(framesToSamples(2, 48000, '29.97')).toBe(3203);
    // 44,100 / 24 = 1837.5: a half.
    expect(framesToSamples(1, 44100, '24')).toBe(1838);
    expect(framesToSamples(-1, 44100, '24')).toBe(-1838);
    expect(Object.is(framesToSamples(0, 44100, '24'), 0)).toBe(true);
    fc.assert(
      fc.property(
        fc.integer({ min: -3e6, max: 3e6 }),
        fc.constantFrom(...SAMPLE_RATES),
        fc.constantFrom(...RATES),
        (frames, sampleRateHz, rate) => {
          const { numerator, denominator } = TIMECODE_RATES[rate];
          const samples = framesToSamples(frames, sampleRateHz, rate);
          // Cross-multiplied, in whole numbers below 2^53 · 2^53: |samples − frames·F| ≤ 1/2.
          const off =
            BigInt(samples) * BigInt(numerator) - BigInt(frames) * BigInt(sampleRateHz * denominator);
          expect(2n * (off < 0n ? -off : off) <= BigInt(numerator)).toBe(true);
          expect(framesToSamples(-frames, sampleRateHz, rate) + samples).toBe(0);
        },
      ),
    );
  });
});

describe('drop-frame counting', () => {
  test('names 17,982 frames per ten minutes and 107,892 per hour (references.md E, from memory)', () => {
    expect(timecodeToFrames('00:10:00;00', '29.97 drop')).toBe(17_982);
    expect(timecodeToFrames('01:00:00;00', '29.97 drop')).toBe(107_892);
    expect(framesToTimecode(17_982, '29.97 drop')).toBe('00:10:00;00');
    expect(framesToTimecode(107_892, '29.97 drop')).toBe('01:00:00;00');
  });

  test('leaves out the numbers 0 and 1 of each minute except every tenth, and no other (from memory)', () => {
    // A plain count with the rule applied number by number, over an hour and a bit.
    let frame = 0;
    for (let minute = 0; minute < 63; minute++)
      for (let second = 0; second < 60; second++)
        for (let number = 0; number < 30; number++) {
          const [mm, ss, ff] = [minute % 60, second, number].map((n) => String(n).padStart(2, '0'));
          const text = `0${Math.floor(minute / 60)}:${mm}:${ss};${ff}`;
          if (minute % 10 !== 0 && second === 0 && number < 2) {
            if (number === 0) expect(() => timecodeToFrames(text, '29.97 drop')).toThrow(RangeError);
            continue;
          }
          if (
            framesToTimecode(frame, '29.97 drop') !== text ||
            timecodeToFrames(text, '29.97 drop') !== frame
          )
            expect.fail(`frame ${frame} is ${framesToTimecode(frame, '29.97 drop')}, not ${text}`);
          frame++;
        }
  });

  test('keeps up with the clock: after a day it is 2.6 frames off, where plain counting at 29.97 is 86.4 s off', () => {
    // 24 h · 107,892 frames · 1001/30000 s = 86,399.9136 s: 0.0864 s short (computed from the counts above).
    const dayFrames = 24 * timecodeToFrames('01:00:00;00', '29.97 drop');
    expect((dayFrames * 1001) / 30000).toBeCloseTo(86_399.9136, 9);
    expect(framesToTimecode(dayFrames - 1, '29.97 drop')).toBe('23:59:59;29');
    expect(() => framesToTimecode(dayFrames, '29.97 drop')).toThrow(RangeError);
    // 86,400 counted seconds of 30 frames last 86,486.4 s.
    expect((timecodeToFrames('23:59:59:29', '29.97') + 1) * (1001 / 30000)).toBeCloseTo(86_486.4, 6);
  });
});

describe('positions', () => {
  test('every sample up to ten hours at 192 kHz comes back from its timecode, at every rate', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: TEN_HOURS }),
        fc.constantFrom(...SAMPLE_RATES),
        fc.constantFrom(...RATES),
        (position, sampleRateHz, rate) => {
          // The same hours at each sample rate.
          const sample = Math.floor(position * (sampleRateHz / 192000));
          const timecode = samplesToTimecode(sample, sampleRateHz, rate);
          expect(timecodeToSamples(timecode, sampleRateHz, rate)).toBe(sample);
          // The frame is the one under way: n·F ≤ sample < (n + 1)·F, cross-multiplied in whole numbers.
          const { numerator, denominator } = TIMECODE_RATES[rate];
          const frame = BigInt(timecodeToFrames(timecode.text, rate));
          const samplesOver = BigInt(sampleRateHz * denominator);
          const at = BigInt(sample) * BigInt(numerator);
          expect(frame * samplesOver <= at && at < (frame + 1n) * samplesOver).toBe(true);
          const first = timecodeToSamples(timecode.text, sampleRateHz, rate);
          expect(sample - first).toBe(timecode.remainderSamples);
          expect(samplesToTimecode(first, sampleRateHz, rate)).toEqual({
            text: timecode.text,
            remainderSamples: 0,
          });
        },
      ),
      { numRuns: 3000 },
    );
  });

  test('at 29.97 and 48 kHz frames begin at ceil(1601.6·n) (computed from published figures)', () => {
    const begins = [0, 1, 2, 3, 4, 5].map((n) =>
      timecodeToSamples(framesToTimecode(n, '29.97'), 48000, '29.97'),
    );
    expect(begins).toEqual([0, 1602, 3204, 4805, 6407, 8008]);
    expect(samplesToTimecode(3203, 48000, '29.97')).toEqual({ text: '00:00:00:01', remainderSamples: 1601 });
  });

  test('an hour of clock time is an hour of timecode at whole rates, and 172.8 samples more at 29.97 drop', () => {
    for (const rate of ['24', '25', '30'] as const)
      expect(samplesToTimecode(3600 * 48000, 48000, rate)).toEqual({
        text: '01:00:00:00',
        remainderSamples: 0,
      });
    // 107,892 · 1601.6 = 172,799,827.2 samples (computed from published figures): the hour of timecode ends 172.8 samples before the clock's.
    expect(timecodeToSamples('01:00:00;00', 48000, '29.97 drop')).toBe(172_799_828);
    expect(samplesToTimecode(172_800_000, 48000, '29.97 drop')).toEqual({
      text: '01:00:00;00',
      remainderSamples: 172,
    });
  });

  test('the last sample of a day is the last that has a timecode', () => {
    for (const rate of ['24', '25', '30'] as const) {
      const day = 86_400 * 48000;
      expect(samplesToTimecode(day - 1, 48000, rate).text.slice(0, 8)).toBe('23:59:59');
      expect(() => samplesToTimecode(day, 48000, rate)).toThrow(RangeError);
    }
  });
});

describe('what is refused', () => {
  test('a timecode at a wrong rate, of a wrong form, out of range or dropped', () => {
    const wrong: [string, TimecodeRate][] = [
      ['00:00:01;00', '29.97'],
      ['00:00:01:00', '29.97 drop'],
      ['00:00:01:24', '24'],
      ['00:00:01:24', '23.976'],
      ['00:00:01:25', '25'],
      ['00:00:01:30', '30'],
      ['00:00:01;30', '29.97 drop'],
      ['00:01:00;00', '29.97 drop'],
      ['00:59:00;01', '29.97 drop'],
      ['24:00:00:00', '25'],
      ['00:60:00:00', '25'],
      ['00:00:60:00', '25'],
      ['0:00:00:00', '25'],
      ['00:00:00:00 ', '25'],
      ['-1:00:00:00', '25'],
      ['00:00:00.00', '25'],
      ['', '25'],
    ];
    for (const [text, rate] of wrong) {
      expect(() => timecodeToFrames(text, rate), text).toThrow(RangeError);
      expect(() => timecodeToSamples(text, 48000, rate), text).toThrow(/^timecodeToSamples: text must/);
    }
    expect(() => timecodeToFrames(5 as unknown as string, '25')).toThrow(TypeError);
    expect(() => timecodeToSamples(null as unknown as string, 48000, '25')).toThrow(TypeError);
  });

  test('an unknown frame rate, a sample rate without an exact frame, a position or remainder out of range', () => {
    expect(() => samplesToTimecode(0, 48000, '29.97df' as TimecodeRate)).toThrow(RangeError);
    expect(() => samplesToTimecode(0, 48000, 25 as unknown as TimecodeRate)).toThrow(TypeError);
    expect(() => samplesToTimecode(0, 44099.9, '25')).toThrow(RangeError);
    expect(() => samplesToTimecode(0, 7999, '25')).toThrow(RangeError);
    for (const sample of [-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])
      expect(() => samplesToTimecode(sample, 48000, '25')).toThrow(RangeError);
    const at = (remainderSamples: number) => ({ text: '00:00:00:01', remainderSamples });
    expect(timecodeToSamples(at(1919), 48000, '25')).toBe(3839);
    for (const remainder of [-1, 1920, 0.5, Number.NaN])
      expect(() => timecodeToSamples(at(remainder), 48000, '25')).toThrow(RangeError);
    for (const frames of [0.5, Number.NaN, 2 ** 53, Number.MAX_SAFE_INTEGER])
      expect(() => framesToSamples(frames, 48000, '25')).toThrow(RangeError);
  });
});

describe('nudging a list by frames', () => {
  const list = insertRegion(createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 }), {
    startSample: 9600,
    endSample: 14400,
    onsetSample: 9700,
    fadeInSamples: 100,
  });

  test('moves every position by the length of so many frames, and back exactly', () => {
    const later = nudgeByFrames(list, 2, '29.97').list;
    expect(later.regions[0]).toEqual({
      ...list.regions[0],
      startSample: 9600 + 3203,
      endSample: 14400 + 3203,
      onsetSample: 9700 + 3203,
    });
    expect(nudgeByFrames(later, -2, '29.97').list).toEqual(list);
    expect(nudgeByFrames(list, 0, '25').list).toBe(list);
  });

  test('is refused for an unknown rate, half a frame and a locked region, and the message names it', () => {
    expect(() => nudgeByFrames(list, 1, '60' as TimecodeRate)).toThrow(RangeError);
    expect(() => nudgeByFrames(list, 0.5, '25')).toThrow(RangeError);
    expect(() => nudgeByFrames(setLocked(list, 1, true), 1, '25')).toThrow(
      /^nudgeByFrames: list must hold no/,
    );
    expect(nudgeByFrames(setLocked(list, 1, true), 1, '25', { moveLocked: true }).lost).toEqual([]);
  });
});
