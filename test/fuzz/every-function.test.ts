import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { PROPERTIES } from './properties/index.js';

/** Functions that no property tries, each with the reason. */
const LEFT_OUT: Readonly<Record<string, string>> = {
  simdEngine: 'takes nothing; test/simd holds what it makes against the same in JavaScript',
};

/** Names of all functions that the main entry and the subpaths export. */
async function publicFunctions(): Promise<ReadonlySet<string>> {
  const folders = readdirSync('src', { withFileTypes: true }).filter((entry) => entry.isDirectory());
  const paths = ['../../src/index.js', ...folders.map(({ name }) => `../../src/${name}/index.js`)];
  const modules = (await Promise.all(paths.map((path) => import(path)))) as Record<string, unknown>[];
  const entries = modules.flatMap((module) => Object.entries(module));
  return new Set(entries.filter(([, value]) => typeof value === 'function').map(([name]) => name));
}

it('every public function has a property or a reason to have none', async () => {
  const names = await publicFunctions();
  // The walk itself must find them: 217 when this was written.
  expect(names.size).toBeGreaterThan(200);
  expect([...names].filter((name) => !(name in PROPERTIES) && !(name in LEFT_OUT))).toEqual([]);
});

it('no property is left of a function that is gone', async () => {
  const names = await publicFunctions();
  expect([...Object.keys(PROPERTIES), ...Object.keys(LEFT_OUT)].filter((name) => !names.has(name))).toEqual(
    [],
  );
});
