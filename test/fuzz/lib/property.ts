import type fc from 'fast-check';
import type { ValueRules } from './check-value.js';

/** What must hold of one public function for any arguments. */
export interface Property extends ValueRules {
  readonly call: (...args: never[]) => unknown;
  /** Arguments that must be taken. */
  readonly sound: fc.Arbitrary<readonly unknown[]>;
  /** Arguments that are written to, by index; all others must stay as they are. */
  readonly outputs?: readonly number[];
  /** The argument that holds samples, and whether each NaN in it is refused or only those that are touched. */
  readonly audio?: readonly [argument: number, refused: 'all' | 'touched'];
  /** By what rules even sound arguments may be refused: what the text says depends on the values. */
  readonly mayRefuse?: RegExp;
  /** Arguments that the library itself made (tables, grids): only exchanged as a whole, since their inside is a stated precondition. */
  readonly made?: readonly number[];
  /** Further rules for what came of sound arguments. */
  readonly check?: (result: never, ...args: never[]) => void;
  /** Cases beside other functions: 1 unless given. */
  readonly weight?: number;
  /** False: calling twice need not give the same, since what it returns holds functions. */
  readonly repeats?: boolean;
  /** True: wrong arguments are not tried, for a reason that stands beside it. */
  readonly noWrongArguments?: string;
}

/** A property with the types of its function. */
export function property<F extends (...args: never[]) => unknown>(
  call: F,
  sound: fc.Arbitrary<Readonly<Parameters<F>>>,
  rules: Omit<Property, 'call' | 'sound' | 'check'> & {
    readonly check?: (result: ReturnType<F>, ...args: Parameters<F>) => void;
  } = {},
): Property {
  return { ...rules, call, sound } as unknown as Property;
}

export type Properties = Readonly<Record<string, Property>>;
