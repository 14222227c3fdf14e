import type { Random } from './random-tools.js';

/** Data from outside in one form, and what must hold of reading it. */
export interface Form {
  /** Something to be read: sound, nearly sound or not at all. */
  readonly make: (random: Random) => unknown;
  /** Reads it, as the library or the examples do. */
  readonly read: (input: never) => Reading;
  /** Further rules for what was read; throws where one is broken. */
  readonly check?: (value: never, input: never) => void;
  /** How the place of a problem is told. */
  readonly path: RegExp;
  /** How its rule is told; "must ..." unless given. */
  readonly rule?: RegExp;
  /** Cases beside other forms: 1 unless given. */
  readonly weight?: number;
}

/** What readers return. */
export type Reading =
  | { readonly ok: true; readonly value: unknown }
  | {
      readonly ok: false;
      readonly problems: readonly {
        readonly path: string;
        readonly rule: string;
        readonly received: string;
      }[];
    };

export type Forms = Readonly<Record<string, Form>>;

/** A form with the types of its reader. */
export function form<I, V>(parts: {
  readonly make: (random: Random) => I;
  readonly read: (input: I) => { readonly ok: true; readonly value: V } | Extract<Reading, { ok: false }>;
  readonly check?: (value: V, input: I) => void;
  readonly path: RegExp;
  readonly rule?: RegExp;
  readonly weight?: number;
}): Form {
  return parts as unknown as Form;
}
