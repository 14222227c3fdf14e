import { readdirSync } from 'node:fs';

/** All functions that the main entry and the subpaths export, by name. */
export async function publicFunctions(): Promise<ReadonlyMap<string, (...args: unknown[]) => unknown>> {
  const folders = readdirSync('src', { withFileTypes: true }).filter((entry) => entry.isDirectory());
  const paths = ['../../src/index.js', ...folders.map(({ name }) => `../../src/${name}/index.js`)];
  const modules = (await Promise.all(paths.map((path) => import(path)))) as Record<string, unknown>[];
  const entries = modules.flatMap((module) => Object.entries(module));
  return new Map(
    entries.filter(
      (entry): entry is [string, (...args: unknown[]) => unknown] => typeof entry[1] === 'function',
    ),
  );
}
