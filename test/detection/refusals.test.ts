import { beforeAll, describe, expect, it } from 'vitest';
import { createConsonantDetector } from '../../src/detection/create-consonant-detector.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { DetectionOptions } from '../../src/detection/detection-options.js';
import { INPUT_COUNT } from '../../src/detection/detection-scale.js';
import type { Samples } from '../../src/signal/samples.js';
import { ALL_SIBILANT, constant } from '../lib/constant-classifier.js';
import { demoLead, excerpt } from '../lib/demo-lead.js';

const RATE = 48_000;
let phrase: Samples;
beforeAll(() => {
  phrase = excerpt(demoLead(RATE), 5, 11.5);
});

describe('what the streaming detector refuses', () => {
  const make = (): ReturnType<typeof createConsonantDetector> =>
    createConsonantDetector({ sampleRateHz: RATE });

  it('another number of channels than at first', () => {
    const detector = make();
    detector.push([new Float32Array(10), new Float32Array(10)]);
    expect(() => detector.push(new Float32Array(10))).toThrow(RangeError);
    expect(() => detector.push(new Float32Array(10))).toThrow(
      /^push: block must have 2 channel.*received 1$/,
    );
    // It still takes what is right.
    detector.push([new Float32Array(10), new Float32Array(10)]);
    expect(detector.lengthSamples).toBe(20);
  });

  it('channels of different lengths, no channels, and what is not samples', () => {
    expect(() => make().push([new Float32Array(3), new Float32Array(4)])).toThrow(
      /^push: block\[1\].length must equal that of channel 0 \(3\); received 4$/,
    );
    expect(() => make().push([])).toThrow(RangeError);
    expect(() => make().push(new Float64Array(4) as never)).toThrow(TypeError);
    expect(() => make().push([[0, 1]] as never)).toThrow(/^push: block\[0\] must be a Float32Array/);
  });

  it('a block after flush', () => {
    const detector = make();
    detector.flush();
    expect(() => detector.push(new Float32Array(4))).toThrow(RangeError);
    expect(() => detector.push(new Float32Array(4))).toThrow(/^push: block must not come after flush/);
  });

  it('NaN and infinity, with channel and index, and is none the worse for it', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      const broken = new Float32Array(100);
      broken[37] = bad;
      const detector = make();
      expect(() => detector.push([new Float32Array(100), broken])).toThrow(RangeError);
      expect(() => detector.push([new Float32Array(100), broken])).toThrow(
        `push: block[1][37] must be finite; received ${bad}`,
      );
      expect(detector.lengthSamples).toBe(0);
    }
    const detector = make();
    const broken = phrase.slice(0, 1000);
    broken[999] = Number.NaN;
    expect(() => detector.push(broken)).toThrow('block[0][999]');
    const regions = [...detector.push(phrase), ...detector.flush()];
    expect(regions).toEqual(detectConsonants(phrase, { sampleRateHz: RATE }).regions);
  });

  const refused: readonly (readonly [string, unknown, new (message: string) => Error, RegExp])[] = [
    ['no options', undefined, TypeError, /options must be an object; received undefined/],
    ['null', null, TypeError, /options must be an object; received null/],
    ['no rate', {}, TypeError, /sampleRateHz must be a number; received undefined/],
    ['a low rate', { sampleRateHz: 7999 }, RangeError, /sampleRateHz .*\[8000, 192000\]; received 7999/],
    ['a high rate', { sampleRateHz: 192_001 }, RangeError, /sampleRateHz .*; received 192001/],
    ['a rate in words', { sampleRateHz: '48k' }, TypeError, /sampleRateHz must be a number; received "48k"/],
    ...(
      [
        ['minConfidence', 1.1, '[0, 1]'],
        ['minConfidence', -0.1, '[0, 1]'],
        ['enterProbability', 0, '[0.01, 1]'],
        ['leaveProbability', 0.6, '[0.005, 0.5]'],
        ['leastPartSeconds', -1, '[0, 1]'],
        ['leastDurationSeconds', 1.5, '[0, 1]'],
      ] as const
    ).map(
      ([name, value, range]) =>
        [
          `${name} ${value}`,
          { sampleRateHz: RATE, [name]: value },
          RangeError,
          new RegExp(`${name} must lie within ${range.replace(/[[\].]/g, '\\$&')}; received ${value}$`),
        ] as const,
    ),
    [
      'NaN',
      { sampleRateHz: RATE, minConfidence: Number.NaN },
      RangeError,
      /minConfidence must be finite; received NaN/,
    ],
    [
      'text',
      { sampleRateHz: RATE, minConfidence: '1' },
      TypeError,
      /minConfidence must be a number; received "1"/,
    ],
    [
      'a classifier without a function',
      { sampleRateHz: RATE, classifier: { inputCount: INPUT_COUNT, contextFrames: 0 } },
      TypeError,
      /classifier.classify must be a function; received undefined/,
    ],
    [
      'a classifier of other inputs',
      { sampleRateHz: RATE, classifier: { ...constant(ALL_SIBILANT), inputCount: 7 } },
      RangeError,
      /classifier.inputCount must be 28; received 7/,
    ],
    [
      'half a frame of context',
      { sampleRateHz: RATE, classifier: constant(ALL_SIBILANT, 0.5) },
      RangeError,
      /classifier.contextFrames must be a whole number; received 0.5/,
    ],
  ];
  for (const [what, options, kind, message] of refused)
    it(`${what}, naming function, parameter, rule and value`, () => {
      for (const [name, call] of [
        ['createConsonantDetector', () => createConsonantDetector(options as DetectionOptions)],
        ['detectConsonants', () => detectConsonants(new Float32Array(9), options as DetectionOptions)],
      ] as const) {
        expect(call).toThrow(kind);
        expect(call).toThrow(message);
        expect(call).toThrow(new RegExp(`^${name}: `));
      }
    });

  it('nothing where an option is undefined: the default holds', () => {
    const options = { sampleRateHz: RATE, minConfidence: undefined } as unknown as DetectionOptions;
    expect(detectConsonants(phrase, options)).toEqual(detectConsonants(phrase, { sampleRateHz: RATE }));
  });
});
