import { copyFileSync, readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { TYPESCRIPT_VERSIONS } from './install.mjs';
import { run } from './run.mjs';

/** How users resolve modules, with the file that each way compiles. */
const WAYS = [
  { module: 'node16', moduleResolution: 'node16', files: ['typed.mts', 'typed.cts'] },
  { module: 'nodenext', moduleResolution: 'nodenext', files: ['typed.mts', 'typed.cts'] },
  { module: 'esnext', moduleResolution: 'bundler', files: ['typed.ts'] },
];

/**
 * Type checks a strict consumer with the oldest and newest compilers that are supported. The package's own types are checked too
 * (skipLibCheck false), with the language's library alone: no DOM, no Node.
 */
export async function checkTypes(folder) {
  for (const file of ['typed.mts', 'typed.cts']) copyFileSync(join(folder, 'typed.ts'), join(folder, file));
  refuseForgottenEntries(folder);
  const jobs = TYPESCRIPT_VERSIONS.flatMap((version) =>
    WAYS.flatMap((way) => [true, false].map((exact) => ({ version, way, exact }))),
  );
  const problems = [];
  await Promise.all(
    Array.from({ length: availableParallelism() }, async () => {
      for (let job = jobs.shift(); job !== undefined; job = jobs.shift())
        problems.push(...(await compile(folder, job)));
    }),
  );
  return problems;
}

async function compile(folder, { version, way, exact }) {
  const { files, module, moduleResolution } = way;
  const options = { target: 'es2022', lib: 'es2022', module, moduleResolution, skipLibCheck: 'false' };
  const args = Object.entries({ ...options, exactOptionalPropertyTypes: exact }).flatMap(([name, value]) => [
    `--${name}`,
    String(value),
  ]);
  const compiler = join(folder, 'node_modules', `typescript-${version}`, 'bin', 'tsc');
  const strict = ['--noEmit', '--strict', '--noUncheckedIndexedAccess'];
  const { code, output } = await run(process.execPath, [compiler, ...strict, ...args, ...files], folder);
  const name = `TypeScript ${version}, ${moduleResolution}, exact optional properties ${exact ? 'on' : 'off'}`;
  if (code === 0) console.log(`ok ${name}`);
  return code === 0 ? [] : [`${name}\n${output.split('\n').slice(0, 12).join('\n')}`];
}

/** Every entry of the package must be imported by the consumer. */
function refuseForgottenEntries(folder) {
  const { exports: all } = JSON.parse(
    readFileSync(join(folder, 'node_modules', 'lenition', 'package.json'), 'utf8'),
  );
  const text = readFileSync(join(folder, 'typed.ts'), 'utf8');
  for (const subpath of Object.keys(all))
    if (!subpath.endsWith('.json') && !text.includes(`from 'lenition${subpath.slice(1)}'`))
      throw new Error(`.ci/consumers/typed.ts does not import lenition${subpath.slice(1)}`);
}
