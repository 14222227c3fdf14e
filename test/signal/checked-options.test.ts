import { describe, expect, it } from 'vitest';
import { checkedOptions } from '../../src/signal/checked-options.js';

const DEFAULTS = Object.freeze({ stepDb: -6, fadeSeconds: 0.01 });

describe('checkedOptions', () => {
  it('fills in what is left out or undefined, and keeps what has no default', () => {
    const options: { stepDb?: number | undefined; ids?: readonly number[] } = { stepDb: undefined, ids: [1] };
    expect(checkedOptions('test', DEFAULTS, options, ['ids'])).toEqual({ ...DEFAULTS, ids: [1] });
    expect(checkedOptions('test', DEFAULTS, { stepDb: -3 })).toEqual({ stepDb: -3, fadeSeconds: 0.01 });
  });

  it('refuses a field that it does not know, naming those it does, and what is no object', () => {
    expect(() => checkedOptions('test', DEFAULTS, { stepDB: -3 } as object)).toThrow(
      new TypeError(
        'test: options.stepDB is not a field of options: those are stepDb, fadeSeconds; received -3',
      ),
    );
    for (const wrong of [null, 3, [], new Float32Array(1)])
      expect(() => checkedOptions('test', DEFAULTS, wrong as object)).toThrow(
        /^test: options must be an object/,
      );
  });
});
