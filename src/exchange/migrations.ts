/**
 * The data of a file of one version as that of the next, where both are plain data from JSON. What it is given has not been
 * judged yet and may hold anything: what it does not understand it leaves as it is, and the reader reports it. It changes
 * nothing of what it is given.
 */
export type Migration = (data: Readonly<Record<string, unknown>>) => Readonly<Record<string, unknown>>;

/** What a kind of file calls itself, the version that this library writes, and the way there from every older one. */
export interface FileKind {
  readonly format: string;
  readonly version: number;
  /** The first leads from version 1 to 2, the next from 2 to 3: one fewer than `version`. */
  readonly migrations: readonly Migration[];
}

/** From each older version of the region file to the next. Version 1 is the only one so far. */
export const REGION_MIGRATIONS: readonly Migration[] = Object.freeze([]);

/** From each older version of the chain file to the next. Version 1 is the only one so far. */
export const CHAIN_MIGRATIONS: readonly Migration[] = Object.freeze([]);

/** From each older version of the history file to the next. Version 1 is the only one so far. */
export const HISTORY_MIGRATIONS: readonly Migration[] = Object.freeze([]);
