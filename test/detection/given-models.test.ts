import { describe, expect, it } from 'vitest';
import { checkTrack, detectionSettings } from '../../src/detection/detection-options.js';
import { INPUT_COUNT } from '../../src/detection/detection-scale.js';
import { EVENT_MEASURE_COUNT } from '../../src/detection/event-measures.js';
import { messageOf } from '../lib/message-of.js';

const said = (options: object): string =>
  messageOf(() => detectionSettings('f', { sampleRateHz: 48_000, ...options }));
const NOTHING = 'nothing was thrown';

describe('a model of events that is given', () => {
  /** Two hidden units: 65 weights each, and three each for the five classes. */
  const model = {
    measureCount: EVENT_MEASURE_COUNT,
    hiddenCount: 2,
    means: new Float64Array(64),
    spreads: new Float64Array(64).fill(1),
    weights: new Float64Array(65 * 2 + 3 * 5),
  };
  const of = (change: object): string => said({ eventModel: { ...model, ...change } });

  it('has the lengths that its counts ask for', () => {
    expect(of({})).toBe(NOTHING);
    expect(of({ measureCount: 39 })).toBe('f: eventModel.measureCount must be 64; received 39');
    expect(of({ hiddenCount: 0 })).toContain('f: eventModel.hiddenCount must lie within [1, 1000]');
    expect(of({ hiddenCount: 1001 })).toContain('f: eventModel.hiddenCount must lie within [1, 1000]');
    for (const [name, length] of [
      ['means', 64],
      ['spreads', 64],
      ['weights', 145],
    ] as const) {
      for (const other of [length - 1, length + 1])
        expect(of({ [name]: new Float64Array(other) })).toBe(
          `f: eventModel.${name}.length must be ${length}; received ${other}`,
        );
      expect(of({ [name]: [] })).toBe(`f: eventModel.${name} must be a Float64Array; received an array of 0`);
      for (const place of [0, length - 1]) {
        const odd = new Float64Array(length);
        odd[place] = Number.NaN;
        expect(of({ [name]: odd })).toBe(`f: eventModel.${name}[${place}] must be finite; received NaN`);
      }
    }
  });
});

describe('a classifier of frames that is given', () => {
  const classifier = { inputCount: INPUT_COUNT, contextFrames: 0, classify: () => {} };
  const of = (change: object): string => said({ classifier: { ...classifier, ...change } });

  it('is a function, of the inputs that there are and of 400 frames to each side at the most', () => {
    for (const contextFrames of [0, 400]) expect(of({ contextFrames })).toBe(NOTHING);
    for (const contextFrames of [-1, 401, 0.5])
      expect(of({ contextFrames })).toContain('f: classifier.contextFrames must');
    for (const frameStep of [1, 2, 16]) expect(of({ frameStep, contextFrames: 16 })).toBe(NOTHING);
    for (const frameStep of [0, 17, 1.5]) expect(of({ frameStep })).toContain('f: classifier.frameStep must');
    expect(of({ frameStep: 2, contextFrames: 31 })).toBe(
      'f: classifier.frameStep must divide 31, its context; received 2',
    );
    expect(of({ inputCount: 27 })).toBe(`f: classifier.inputCount must be ${INPUT_COUNT}; received 27`);
    expect(of({ classify: 1 })).toBe('f: classifier.classify must be a function; received 1');
    expect(said({ classifier: null })).toContain('f: classifier.classify must be a function');
  });
});

describe('settings', () => {
  it('lie within their ranges', () => {
    for (const [name, least, most] of [
      ['minConfidence', 0, 1],
      ['enterProbability', 0.01, 1],
      ['leastPartSeconds', 0, 1],
      ['leastDurationSeconds', 0, 1],
    ] as const) {
      const others = name === 'enterProbability' ? { leaveProbability: 0.005 } : {};
      for (const value of [least, most]) expect(said({ ...others, [name]: value })).toBe(NOTHING);
      for (const value of [least - 1e-9, most + 1e-9, Number.NaN])
        expect(said({ ...others, [name]: value })).toContain(`f: ${name} must`);
    }
    const leave = (leaveProbability: number): string => said({ leaveProbability, enterProbability: 0.4 });
    expect([0.005, 0.4].map(leave)).toEqual([NOTHING, NOTHING]);
    for (const value of [0.004, 0.41]) expect(leave(value)).toContain('f: leaveProbability must lie within');
    expect(messageOf(() => detectionSettings('f', null as never))).toBe(
      'f: options must be an object; received null',
    );
  });
});

describe('what a classifier writes', () => {
  const track = (...rows: number[][]): string =>
    messageOf(() => checkTrack('f', Float64Array.from(rows.flat()), 0, 6 * rows.length));

  it('is probabilities that sum to 1, each row', () => {
    const good = [0.5, 0, 0.25, 0, 0.25, 0];
    expect(track(good, good)).toBe(NOTHING);
    expect(track([1, 0, 0, 0, 0, 0.0009])).toBe(NOTHING);
    expect(track(good, [1, 0, 0, 0, 0, 0.0011])).toMatch(/^f: classifier output must sum to 1/);
    expect(track(good, [0.9989, 0, 0, 0, 0, 0])).toMatch(/^f: classifier output must sum to 1/);
    expect(track([0.5, 0.6, -0.1, 0, 0, 0])).toBe(
      'f: classifier output (sibilant) must be a probability; received -0.1',
    );
    expect(track(good, [0, 0, 0, 0, 0, 1.1])).toContain(
      'f: classifier output (breath) must be a probability',
    );
    expect(track([Number.NaN, 0, 0, 0, 0, 1])).toContain('f: classifier output (voiced)');
  });
});
