import { spawnSync } from 'node:child_process';

/**
 * Processor seconds of a command and all it starts, by the shell's `times` (POSIX); null where there is no such shell. Throws where
 * the command fails.
 */
export function childCpuSeconds(command: string, args: readonly string[]): number | null {
  const script = '"$@" >/dev/null || exit; times';
  const { status, stdout, stderr, error } = spawnSync('sh', ['-c', script, 'sh', command, ...args], {
    encoding: 'utf8',
  });
  if (error !== undefined) return null;
  if (status !== 0) throw new Error(`${command} ${args.join(' ')} ended with ${status}: ${stderr}`);
  return childrenSeconds(stdout);
}

/** User and system time of the shell's children: the second line of what `times` prints, as in `0m1.50s 0m0.25s`. */
export function childrenSeconds(printed: string): number {
  const line = printed.trim().split('\n')[1] ?? '';
  const times = [...line.matchAll(/(\d+)m([\d.]+)s/g)];
  if (times.length !== 2) throw new Error(`times printed ${JSON.stringify(printed)}`);
  return times.reduce((sum, [, minutes, seconds]) => sum + 60 * Number(minutes) + Number(seconds), 0);
}
