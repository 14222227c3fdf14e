import { spawnSync } from 'node:child_process';
import { withBuilt } from './with-built.js';

/** Builds a command's own file and runs it with the same arguments. Gives its exit code. */
export function runBuilt(name: string, file: string): Promise<number> {
  return withBuilt(
    name,
    file,
    (script) =>
      spawnSync(process.execPath, [script, ...process.argv.slice(2)], { stdio: 'inherit' }).status ?? 1,
    { skipNodeModulesBundle: true },
  );
}
