/** Which lines of `src` differ between a revision and the work tree. */
import { execFileSync } from 'node:child_process';

/** A file, and its changed lines as Stryker takes them: "src/x.ts:10-20". */
export interface ChangedLines {
  readonly file: string;
  readonly pattern: string;
  readonly lineCount: number;
}

function git(root: string, ...command: readonly string[]): string {
  return execFileSync('git', [...command], {
    cwd: root,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
}

/** Null where there is no such revision, or no repository. */
export function changedLines(root: string, revision: string): readonly ChangedLines[] | null {
  let text: string;
  try {
    text = git(root, 'diff', '--unified=0', '--diff-filter=d', '--no-ext-diff', revision, '--', 'src');
  } catch {
    return null;
  }
  const found: ChangedLines[] = [];
  let file = '';
  for (const line of text.split('\n')) {
    const name = /^\+\+\+ b\/(.*)$/.exec(line);
    if (name) file = name[1] as string;
    // "@@ -1,2 +3,4 @@": four lines from the third on are new; none of "+3,0".
    const hunk = /^@@ \S+ \+(\d+)(?:,(\d+))? @@/.exec(line);
    if (!hunk) continue;
    const first = Number(hunk[1]);
    const count = Number(hunk[2] ?? 1);
    if (count > 0) found.push({ file, pattern: `${file}:${first}-${first + count - 1}`, lineCount: count });
  }
  return found;
}
