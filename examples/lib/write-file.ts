import { closeSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Result } from './result.js';
import { systemProblem } from './system-problem.js';

/**
 * Writes pieces one after another to a new file beside `path`, then renames it: whoever looks at `path` sees the old
 * file or the whole new one. A link at `path` is replaced, never followed. Gives the number of bytes. Never throws.
 */
export function writeWhole(path: string, pieces: Iterable<Uint8Array>): Result<number> {
  let unfinished: string | null = null;
  let total = 0;
  try {
    const [name, file] = openBeside(path);
    unfinished = name;
    try {
      for (const piece of pieces) total += writeAll(file, piece);
    } finally {
      closeSync(file);
    }
    renameSync(unfinished, path);
  } catch (error) {
    if (unfinished !== null) rmSync(unfinished, { force: true });
    return { ok: false, problems: [systemProblem(path, error)] };
  }
  return { ok: true, value: total };
}

/** A run that was killed leaves its unfinished file behind, and a later one may have its number: then the next free name is taken. */
const MOST_NAMES = 100;

/** A new file beside `path`, hidden where names with a dot are. */
function openBeside(path: string): readonly [name: string, file: number] {
  for (let i = 0; ; i++) {
    const name = join(dirname(path), `.${basename(path)}.${process.pid}${i === 0 ? '' : `-${i}`}.part`);
    try {
      // "wx" fails where the name is taken, so neither a file nor a link of that name is ever written through.
      return [name, openSync(name, 'wx')];
    } catch (error) {
      const isTaken = error instanceof Error && 'code' in error && error.code === 'EEXIST';
      if (!isTaken || i + 1 === MOST_NAMES) throw error;
    }
  }
}

function writeAll(file: number, piece: Uint8Array): number {
  let done = 0;
  // One call may write less than it was given.
  while (done < piece.length) done += writeSync(file, piece, done, piece.length - done);
  return done;
}
