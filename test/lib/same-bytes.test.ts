import { expect, it } from 'vitest';
import { sameBytes } from './same-bytes.js';

it('the bytes of arrays say that they are equal, and never that something else is', () => {
  const made = (last: number): Float32Array => Float32Array.of(0, Number.NaN, last);
  expect(sameBytes(made(1), made(1))).toBe(true);
  expect(sameBytes(made(1).subarray(1), Float32Array.of(Number.NaN, 1))).toBe(true);
  for (const [a, b] of [
    [made(1), made(1.5)],
    [made(0), made(-0)],
    [made(1), made(1).subarray(1)],
    [Float32Array.of(0, 0), Float64Array.of(0)],
  ] as const) {
    expect(sameBytes(a, b)).toBeUndefined();
    expect(a).not.toEqual(b);
  }
  expect(sameBytes([1], Float32Array.of(1))).toBeUndefined();
  expect(made(1)).toEqual(made(1));
});
