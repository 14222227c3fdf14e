import type { Doubles } from '../signal/samples.js';
import type { Kernels } from './compile-kernels.js';

/** Places for doubles start at multiples of this, in bytes: two of them are loaded at once. */
const ALIGNMENT = 16;

/** Part of the memory of the kernels, which one user at a time fills. */
export interface KernelArea {
  readonly kernels: Kernels;
  /** The place in bytes of the area's start. */
  readonly start: number;
  /** Numbers that it holds. */
  readonly length: number;
  /** All of it. */
  readonly doubles: Doubles;
  /** All of it, as samples. */
  readonly floats: Float32Array;
  /** Makes a user the one whose numbers lie in the area: those of the user before are kept, those of this one laid out. */
  claim(user: AreaUser): void;
}

/** What lays numbers out in an area. */
export interface AreaUser {
  /** Keeps what must not be lost. */
  leave(): void;
  /** Lays everything out again. */
  enter(): void;
}

/** An area of `length` doubles from `start` on. */
export function createKernelArea(kernels: Kernels, start: number, length: number): KernelArea {
  const { buffer } = kernels.memory;
  let present: AreaUser | undefined;
  return {
    kernels,
    start,
    length,
    doubles: new Float64Array(buffer, start, length),
    floats: new Float32Array(buffer, start, 2 * length),
    claim(user) {
      if (present === user) return;
      present?.leave();
      present = user;
      user.enter();
    },
  };
}

/** Hands out arrays of an area one after another. */
export function createAllocator(area: KernelArea): (length: number) => Doubles {
  let next = 0;
  return (length) => {
    const from = next;
    next += Math.ceil((length * 8) / ALIGNMENT) * (ALIGNMENT / 8);
    if (next > area.length) throw new RangeError('there is no room left for the kernels');
    return area.doubles.subarray(from, from + length);
  };
}
