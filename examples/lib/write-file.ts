import { closeSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Result } from './result.js';
import { systemProblem } from './system-problem.js';

/**
 * Writes pieces one after another to a new file beside `path`, then renames it: whoever looks at `path` sees the old
 * file or the whole new one. A link at `path` is replaced, never followed. Gives the number of bytes. Never throws.
 */
export function writeWhole(path: string, pieces: Iterable<Uint8Array>): Result<number> {
  const unfinished = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  let mine = false;
  let total = 0;
  try {
    // "wx" fails where the name is taken, so neither a file nor a link of that name is ever written through.
    const file = openSync(unfinished, 'wx');
    mine = true;
    try {
      for (const piece of pieces) total += writeAll(file, piece);
    } finally {
      closeSync(file);
    }
    renameSync(unfinished, path);
  } catch (error) {
    if (mine) rmSync(unfinished, { force: true });
    return { ok: false, problems: [systemProblem(path, error)] };
  }
  return { ok: true, value: total };
}

function writeAll(file: number, piece: Uint8Array): number {
  let done = 0;
  // One call may write less than it was given.
  while (done < piece.length) done += writeSync(file, piece, done, piece.length - done);
  return done;
}
