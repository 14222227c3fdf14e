import fc from 'fast-check';
import { form } from './lib/form.js';
import { property } from './lib/property.js';

const numbers = fc.tuple(fc.float({ noNaN: true }).map((x) => Float32Array.of(x, 0.5)));
const text = { make: () => 'text', path: /^\$/ };
const refusal = { ok: false as const, problems: [{ path: '$', rule: 'must be sound', received: 'text' }] };

/** Functions with a fault each, by which the test sees that it would be found. */
export const PROPERTIES = {
  sound: property((x: Float32Array) => {
    if (!(x instanceof Float32Array))
      throw new TypeError(`sound: x must be a Float32Array; received ${typeof x}`);
    return x[0]! > 0 ? 1 : 0;
  }, numbers),
  mutates: property((x: Float32Array) => {
    x[0] = 1;
  }, numbers),
  mutatesLater: property((x: Float32Array) => () => x.fill(7), numbers, { check: (later) => void later() }),
  throwsOtherErrors: property((_: Float32Array) => {
    throw new Error('something broke');
  }, numbers),
  throwsInOtherWords: property((_: Float32Array) => {
    throw new TypeError("Cannot read properties of undefined (reading 'length')");
  }, numbers),
  refusesSoundArguments: property((_: Float32Array) => {
    throw new RangeError('refusesSoundArguments: x must be better; received a Float32Array');
  }, numbers),
  givesNaN: property((_: Float32Array) => ({ inner: [Number.NaN] }), numbers),
  takesNaN: property((x: Float32Array) => x.length, numbers, { audio: [0, 'all'] }),
  forgetsToFreeze: property((_: Float32Array) => ({ inner: {} }), numbers, { frozen: true }),
  breaksLists: property(
    (_: Float32Array) =>
      Object.freeze({ sampleRateHz: 48000, lengthSamples: 10, nextId: 0, regions: Object.freeze([]) }),
    numbers,
  ),
  differsFromCallToCall: property((_: Float32Array) => performance.now(), numbers),
  breaksItsOwnRule: property((_: Float32Array) => 1, numbers, {
    check: () => {
      throw new Error('a rule of its own');
    },
  }),
  hangs: property((_: Float32Array) => {
    for (;;);
  }, numbers),
};

/** Readers with a fault each. */
export const FORMS = {
  'sound reader': form({ ...text, read: () => refusal }),
  'reader that throws': form({
    ...text,
    read: () => {
      throw new RangeError('a reader');
    },
  }),
  'reader that pollutes': form({
    ...text,
    read: () => {
      Object.assign(Object.prototype, { polluted: true });
      return refusal;
    },
  }),
  'reader that says nothing': form({ ...text, read: () => ({ ok: false as const, problems: [] }) }),
  'reader without a path': form({
    ...text,
    read: () => ({ ok: false as const, problems: [{ path: '', rule: 'must be', received: '' }] }),
  }),
  'reader that keeps too much': form({
    ...text,
    read: () => ({ ok: true as const, value: new Float64Array(1e6) }),
  }),
  'reader of broken values': form({
    ...text,
    read: () => ({ ok: true as const, value: 1 }),
    check: () => {
      throw new Error('a value that no check of the library takes');
    },
  }),
  'reader that hangs': form({
    ...text,
    read: () => {
      for (;;);
    },
  }),
};
