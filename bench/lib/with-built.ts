import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Options } from 'tsup';

/**
 * Builds a source file as the package is built, hands the script's path to `use`, and takes it away again. What turns TypeScript into
 * JavaScript at run time adds calls to inner functions (for their names) that the package does not have, and they slow the inner loops.
 */
export async function withBuilt<T>(
  name: string,
  file: string,
  use: (script: string) => T | Promise<T>,
  options: Pick<Options, 'esbuildPlugins' | 'skipNodeModulesBundle'> = {},
): Promise<T> {
  const { build } = await import('tsup');
  mkdirSync('out', { recursive: true });
  const outDir = mkdtempSync(join('out', `${name}-`));
  try {
    await build({
      config: false,
      entry: { [name]: file },
      outDir,
      format: 'esm',
      target: 'es2022',
      silent: true,
      ...options,
    });
    return await use(resolve(outDir, `${name}.js`));
  } finally {
    rmSync(outDir, { recursive: true });
  }
}
