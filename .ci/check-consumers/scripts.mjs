import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { ROOT, run } from './run.mjs';

/** Lines of the newcomer's script, blank ones and comments not counted. */
const MOST_LINES = 12;

/** Runs a consumer that reports by itself. */
export async function checkScript(folder, file) {
  const { code, output } = await run(process.execPath, [file], folder);
  process.stdout.write(output);
  return code === 0 ? [] : [`${file} ended with ${code}`];
}

/**
 * Runs the block of "As a library" just as the README has it, its types taken off, and compares each line that ends in `// =>` with
 * what it promises. Beside it lies the whole block as TypeScript, for compilers and for a Node that takes types.
 */
export async function checkReadme(folder) {
  const readme = readFileSync(join(folder, 'node_modules', 'lenition', 'README.md'), 'utf8');
  const block = readme.match(/^## As a library\n[\s\S]*?^```ts\n([\s\S]*?)^```$/m)?.[1];
  if (block === undefined) return ['README.md has no code block under "As a library"'];
  let promises = 0;
  const checked = block.replace(/^(.+?);? \/\/ => (.+)$/gm, (_, expression, expected) => {
    promises++;
    return `assert.deepEqual(${expression}, ${expected});`;
  });
  if (promises === 0) return ['the block of README.md promises no result'];
  writeFileSync(join(folder, 'readme.mts'), block);
  const ts = createRequire(join(folder, 'index.js'))('typescript-5.9');
  const { outputText } = ts.transpileModule(checked, {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  writeFileSync(join(folder, 'readme.mjs'), `import assert from 'node:assert/strict';\n${outputText}`);
  const ran = await run(process.execPath, ['readme.mjs'], folder);
  const compiler = join('node_modules', 'typescript-5.9', 'bin', 'tsc');
  const options = ['--noEmit', '--strict', '--target', 'es2022', '--module', 'nodenext'];
  const typed = await run(process.execPath, [compiler, ...options, 'readme.mts'], folder);
  const problems = [ran, typed].filter(({ code }) => code !== 0).map(({ output }) => output);
  if (problems.length === 0) console.log(`${promises} results of the README are true; its types hold`);
  return problems;
}

/** The newcomer's script: short, and right for each kind of WAV that it may meet. */
export async function checkFirstScript(folder) {
  const text = readFileSync(new URL('.ci/consumers/first-script.mjs', ROOT), 'utf8');
  const lines = text.split('\n').filter((line) => !/^\s*(\/\/.*)?$/.test(line)).length;
  const problems =
    lines > MOST_LINES ? [`first-script.mjs has ${lines} lines, ${MOST_LINES} are allowed`] : [];
  for (const [depth, channels] of [
    ['16', 1],
    ['24', 1],
    ['24', 2],
    ['32f', 2],
  ]) {
    const { code, output } = await run(process.execPath, ['first-script-check.mjs', depth, channels], folder);
    process.stdout.write(output);
    if (code !== 0) problems.push(`the first script fails on ${depth}, ${channels} channels`);
  }
  if (problems.length === 0) console.log(`the first script has ${lines} lines`);
  return problems;
}
