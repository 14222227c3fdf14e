import { expect, test } from 'vitest';
import { channelList, checkChoice, checkFinite, checkInteger, checkNumber } from '../../src/signal/check.js';
import type { Samples } from '../../src/signal/samples.js';

// The library's own error convention (src/signal/check.ts); no outside source exists for wording.

test('a wrong kind of value is a TypeError that names function, parameter, rule and value', () => {
  expect(() => checkNumber('gain', 'gainDb', '6')).toThrow(TypeError);
  expect(() => checkNumber('gain', 'gainDb', '6')).toThrow('gain: gainDb must be a number; received "6"');
});

test('a wrong value is a RangeError that names function, parameter, rule and value', () => {
  expect(() => checkInteger('gain', 'startSample', 1.5)).toThrow(RangeError);
  expect(() => checkInteger('gain', 'startSample', -1, 0, 9)).toThrow(
    'gain: startSample must lie within [0, 9]; received -1',
  );
  expect(() => checkChoice('gain', 'shape', 'round', ['linear'])).toThrow(
    'gain: shape must be one of linear; received "round"',
  );
});

test('NaN and both infinities in samples are refused with the index of the first', () => {
  for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
    expect(() => checkFinite('f', 'samples', Float32Array.of(0, 1, bad, bad))).toThrow('samples[2]');
});

test('finite samples up to the greatest 32-bit float pass', () => {
  expect(() =>
    checkFinite('f', 'samples', Float32Array.of(3.4028234e38, -3.4028234e38, 1e-45)),
  ).not.toThrow();
});

test('channels must be Float32Arrays of one length', () => {
  const one = new Float32Array(3);
  expect(channelList('f', one)).toEqual([one]);
  expect(() => channelList('f', [])).toThrow(RangeError);
  expect(() => channelList('f', [one, new Float32Array(2)])).toThrow('channels[1].length');
  expect(() => channelList('f', [one, [0, 0, 0] as unknown as Samples])).toThrow(TypeError);
  expect(() => channelList('f', 'x' as never, 'out')).toThrow(
    'f: out must be a Float32Array or an array of them',
  );
  expect(() => channelList('f', [one, 3 as never], 'block')).toThrow('f: block[1] must be a Float32Array');
});
