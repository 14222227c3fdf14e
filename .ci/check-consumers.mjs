/**
 * Installs the packed package into a throwaway folder and uses it there in every way that users do:
 * `node .ci/check-consumers.mjs [--in FOLDER] [PART...]`. Without parts all of them; `install` must come first.
 * Needs the build. With --in the folder is kept, so that parts can be run one by one.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { install } from './check-consumers/install.mjs';
import { checkFirstScript, checkReadme, checkScript } from './check-consumers/scripts.mjs';
import { checkTypes } from './check-consumers/types.mjs';

/** Each takes the folder and gives a list of problems. The last two load big packages, so only when they run. */
const PARTS = {
  install,
  esm: (folder) => checkScript(folder, 'esm.mjs'),
  cjs: (folder) => checkScript(folder, 'common.cjs'),
  readme: checkReadme,
  'first-script': checkFirstScript,
  types: checkTypes,
  vite: async (folder) => (await import('./check-consumers/vite.mjs')).checkVite(folder),
  worklet: async (folder) => (await import('./check-consumers/worklet.mjs')).checkWorklet(folder),
};

const { values, positionals } = parseArgs({ options: { in: { type: 'string' } }, allowPositionals: true });
const unknown = positionals.filter((part) => !(part in PARTS));
if (unknown.length > 0) throw new RangeError(`there is no part ${unknown}: ${Object.keys(PARTS).join(', ')}`);
const folder = resolve(values.in ?? mkdtempSync(join(tmpdir(), 'lenition-consumer-')));
try {
  for (const part of positionals.length > 0 ? positionals : Object.keys(PARTS)) {
    const problems = await PARTS[part](folder);
    for (const problem of problems) console.log(`NOT ok ${part}: ${problem}`);
    if (problems.length > 0) process.exitCode = 1;
  }
} finally {
  if (values.in === undefined) rmSync(folder, { recursive: true });
}
