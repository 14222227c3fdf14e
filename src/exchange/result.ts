/** One thing that is wrong with data from outside. */
export interface Problem {
  /** Where: a path from the root of the data, as in `$.regions[3].gainDb`. */
  readonly path: string;
  /** The rule that is broken, as in `must lie within [-120, 24]`. */
  readonly rule: string;
  /** What stood there, written for a person to read and cut to a short line. */
  readonly received: string;
}

/**
 * What a reader of data from outside returns: the value, or everything found wrong with the data. Such readers
 * never throw, since broken data is an ordinary case there and not a mistake in the program.
 */
export type Result<T> =
  | {
      /** The data were sound. */
      readonly ok: true;
      /** What was read. */
      readonly value: T;
    }
  | {
      /** Something is wrong with the data; nothing was read. */
      readonly ok: false;
      /** What is wrong, at least one; a reader may stop after a stated number. */
      readonly problems: readonly Problem[];
    };
