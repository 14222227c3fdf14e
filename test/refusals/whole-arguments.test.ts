import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rangeError, typeError } from '../../src/signal/check.js';
import { PROPERTIES } from '../fuzz/properties/index.js';
import { publicFunctions } from '../lib/public-functions.js';
import { faultOf, wrongCalls } from './whole-arguments.js';

const functions = [...(await publicFunctions())];

/** Three draws: a function that takes several shapes of an argument (one channel or two, an id or a list) is mostly met in more than one. */
const DRAWS = { seed: 7, numRuns: 3 };

describe('a wrong whole argument', () => {
  it.each(functions)('of %s is taken, or refused in its own name with what was received', (name, call) => {
    // simdEngine takes nothing, so it has no property.
    const draws = fc.sample(PROPERTIES[name]?.sound ?? fc.constant([]), DRAWS);
    const faults = new Map<string, string>();
    for (const sound of draws)
      for (const { args, words } of wrongCalls(sound)) {
        const fault = faultOf(name, call, args);
        if (fault !== undefined) faults.set(fault, words);
      }
    expect([...faults].map(([fault, words]) => `${words}: ${fault}`)).toEqual([]);
  });

  it('is met by every function that takes any: most refuse to be called with nothing', () => {
    const refusing = functions.filter(([name, call]) => {
      try {
        call();
        return false;
      } catch (error) {
        return (error as Error).message.startsWith(`${name}: `);
      }
    });
    // 218 functions when this was written; 8 take nothing, or have a default for all, or read data from outside, for which nothing is thrown.
    expect(refusing.length).toBeGreaterThan(200);
  });
});

describe('the walk', () => {
  const faults = (call: (...args: never[]) => unknown): readonly unknown[] => [
    ...new Set([...wrongCalls([{ rate: 1 }])].map(({ args }) => faultOf('planted', call as never, args))),
  ];

  it('finds a TypeError of the language', () => {
    expect(faults(({ rate }: { rate: number }) => rate)).toContain(
      "Cannot destructure property 'rate' of 'undefined' as it is undefined.",
    );
  });

  it('finds the name of another function, a message that does not say what was received, another kind of error', () => {
    const thrower = (error: Error) => (): never => {
      throw error;
    };
    expect(faults(thrower(typeError('inner', 'options', 'must be an object', 1)))).toEqual([
      'inner: options must be an object; received 1',
    ]);
    expect(faults(thrower(new RangeError('planted: rate must be positive')))).toEqual([
      'planted: rate must be positive',
    ]);
    expect(faults(thrower(new Error('planted: rate must be positive; received 0')))).toEqual([
      'Error: planted: rate must be positive; received 0',
    ]);
    expect(faults(thrower(rangeError('planted', 'rate', 'must be positive', 0)))).toEqual([undefined]);
  });
});
