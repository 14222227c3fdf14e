import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'tsup';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Folder of the library's ES modules as they are published, and the demonstration's maker in demo/demo.js. */
    library: string;
  }
}

/** Builds what the tests' pages import, once for all files, and removes it afterwards. dist/ is left alone. */
export default async function buildLibrary(project: TestProject): Promise<() => void> {
  const library = mkdtempSync(join(tmpdir(), 'lenition-browser-'));
  // tsup.config.ts holds, but for what a page does not need.
  const common = { format: ['esm' as const], dts: false, sourcemap: false, silent: true };
  await build({ ...common, outDir: library });
  await build({
    ...common,
    entry: { demo: 'examples/lib/demo/make-demonstration.ts' },
    outDir: join(library, 'demo'),
  });
  project.provide('library', library);
  return () => rmSync(library, { recursive: true, force: true });
}
