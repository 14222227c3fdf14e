/**
 * Checks what `npm pack` would publish: no file beyond the list below, every file that package.json names, and a source map for
 * each script, holding the sources as they are in src and pointing to the right lines of them. Run it after the build.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** All that may be published. */
const ALLOWED = [
  /^(package\.json|README\.md|CHANGELOG\.md|LICENSE|THIRD-PARTY-NOTICES\.md)$/,
  /^dist\/[\w-]+\.(js|cjs)(\.map)?$/,
  /^dist\/[\w-]+\.d\.(ts|cts)$/,
  /^docs\/schema\/[\w.]+\.json$/,
];

/** A tarball of more than this holds something that it should not. */
const MOST_PACKED_BYTES = 4_000_000;

const problems = [];
const [packed] = [Object.values(JSON.parse(npm('pack', '--dry-run', '--ignore-scripts', '--json')))].flat();
const files = packed.files.map(({ path }) => path);

for (const file of files)
  if (!ALLOWED.some((pattern) => pattern.test(file))) problems.push(`${file} would be published`);
for (const file of named()) if (!files.includes(file)) problems.push(`${file} is named and not published`);
if (packed.size > MOST_PACKED_BYTES) problems.push(`the tarball has ${packed.size} bytes`);

const scripts = files.filter((file) => /\.c?js$/.test(file));
let sources = 0;
let functions = 0;
for (const script of scripts) checkMap(script);
// Scripts with none, or with no function found in them, would pass every comparison.
if (sources === 0 || functions === 0) problems.push('no source was compared');

for (const problem of problems) console.log(`NOT ok ${problem}`);
console.log(
  `${files.length} files, ${packed.size} bytes packed, ${packed.unpackedSize} unpacked; ${scripts.length} scripts, ${sources} sources in their maps, ${functions} functions traced`,
);
process.exitCode = problems.length === 0 ? 0 : 1;

function npm(...args) {
  return execFileSync('npm', args, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
}

/** The files that package.json and its exports point to. */
function named() {
  const { exports: all, main, module, types } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  const targets = (value) => (typeof value === 'string' ? [value] : Object.values(value).flatMap(targets));
  return [...targets(all), main, module, types].map((path) => path.replace(/^\.\//, ''));
}

function checkMap(script) {
  const path = join(ROOT, script);
  const code = readFileSync(path, 'utf8');
  const name = code.match(/\/\/# sourceMappingURL=(\S+)\s*$/)?.[1];
  const mapFile = name === undefined ? undefined : relative(ROOT, join(dirname(path), name));
  if (mapFile === undefined || !files.includes(mapFile)) {
    problems.push(`${script} names no source map that is published`);
    return;
  }
  const map = JSON.parse(readFileSync(join(ROOT, mapFile), 'utf8'));
  map.sources.forEach((source, i) => {
    const original = resolve(dirname(path), source);
    sources++;
    if (!existsSync(original)) problems.push(`${mapFile}: there is no ${source}`);
    else if (map.sourcesContent?.[i] !== readFileSync(original, 'utf8'))
      problems.push(`${mapFile}: its text of ${source} is not the file's`);
  });
  if (map.sources.length > 0) traceFunctions(script, code, new SourceMap(map));
}

/** Each function of the script must be traced to a line that declares one of that name; the bundler adds a digit where two share it. */
function traceFunctions(script, code, map) {
  code.split('\n').forEach((line, number) => {
    const name = line.match(/^function (\w+?)\d*\(/)?.[1];
    const entry = name === undefined ? {} : map.findEntry(number, 0);
    if (entry.originalSource === undefined || entry.originalSource.includes('node_modules')) return;
    const original = readFileSync(resolve(ROOT, dirname(script), entry.originalSource), 'utf8').split('\n');
    functions++;
    if (!original[entry.originalLine]?.includes(`function ${name}`))
      problems.push(
        `${script}: ${name} is traced to line ${entry.originalLine + 1} of ${entry.originalSource}`,
      );
  });
}
