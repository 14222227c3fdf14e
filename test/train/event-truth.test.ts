import { describe, expect, it } from 'vitest';
import { type Alphabet, phoneFacts } from '../../bench/lib/phone-map.js';
import { eventTruth } from '../../bench/train/event-truth.js';
import { UNKNOWN } from '../../bench/train/labelled-frames.js';
import { noiseStretches } from '../../bench/train/noise-stretches.js';
import { EVENT_CLASSES } from '../../src/detection/event-classifier.js';

/** Labels one after another: phone and end in milliseconds. */
function labels(...ends: readonly (readonly [string, number])[]) {
  return ends.map(([phone, end], i) => ({
    startSeconds: (ends[i - 1]?.[1] ?? 0) / 1000,
    endSeconds: end / 1000,
    label: phone,
    phone,
    ...phoneFacts(phone, 'latin' satisfies Alphabet),
  }));
}

const SPOKEN = labels(
  ['pau', 1000],
  ['a', 1200],
  ['s', 1300],
  ['a', 1500],
  ['t', 1600],
  ['o', 1800],
  ['v', 1850],
  ['br', 2300],
  ['d', 2350],
);

function truth(fromMs: number, toMs: number, frameClass = 2, breathShare = 0): string {
  const event = { startSeconds: fromMs / 1000, endSeconds: toMs / 1000, frameClass, breathShare };
  const number = eventTruth(event, SPOKEN);
  return number === UNKNOWN ? 'unknown' : EVENT_CLASSES[number]!;
}

describe('eventTruth', () => {
  it('is the phone that shares half of the shorter of the two', () => {
    expect(truth(1210, 1290)).toBe('sibilant');
    expect(truth(1100, 1400)).toBe('sibilant');
    expect(truth(1805, 1850)).toBe('fricative');
    expect(truth(1900, 2250, 5)).toBe('breath');
  });

  it('finds a release up to 30 ms after its label', () => {
    expect(truth(1600, 1628)).toBe('burst');
    expect(truth(1635, 1660)).toBe('none');
  });

  it('is none on a vowel and in silence, but unknown for what sounds like breath in a pause', () => {
    expect(truth(1050, 1100)).toBe('none');
    expect(truth(200, 300, 2)).toBe('none');
    expect(truth(200, 600, 5)).toBe('unknown');
    // Whatever its frames say, where half of them were marked as breath.
    expect(truth(200, 600, 2, 0.5)).toBe('breath');
    expect(truth(200, 600, 2, 0.49)).toBe('none');
  });

  it('is unknown at a voiced stop, whose release may be loud or not there', () => {
    expect(truth(2310, 2340)).toBe('unknown');
  });

  it('is unknown right beside a sibilant label, which may be off', () => {
    expect(truth(1300, 1345)).toBe('unknown');
    expect(truth(1370, 1400)).toBe('none');
  });
});

describe('noiseStretches', () => {
  /** A track of given noise probabilities, the rest voiced. */
  const track = (...noise: number[]) => Float64Array.from(noise.flatMap((p) => [1 - p, 0, p, 0, 0, 0]));

  it('gives stretches at the lower threshold that reach the higher one', () => {
    const stretches = noiseStretches(track(0, 0.4, 0.6, 0.4, 0.1, 0.4, 0.4, 0.2, 0.9), 0.5, 0.3);
    expect(stretches).toEqual([
      { start: 1, end: 4 },
      { start: 8, end: 9 },
    ]);
  });

  it('gives none where there is none', () => {
    expect(noiseStretches(track(0, 0.4), 0.5, 0.3)).toEqual([]);
    expect(noiseStretches(track(), 0.5, 0.3)).toEqual([]);
  });
});
