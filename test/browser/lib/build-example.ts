import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Folder of the built example page. */
    examplePage: string;
  }
}

/** Builds the example page once for all files, from dist/ as `npm run build` left it, and removes it afterwards. */
export default async function buildExample(project: TestProject): Promise<() => void> {
  const outDir = mkdtempSync(join(tmpdir(), 'lenition-page-'));
  await build({
    configFile: 'examples/browser/vite.config.ts',
    logLevel: 'warn',
    build: { outDir, emptyOutDir: true },
  });
  project.provide('examplePage', outDir);
  return () => rmSync(outDir, { recursive: true, force: true });
}
