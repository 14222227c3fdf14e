/**
 * Checks the built package: the ES modules load and work in a context that has nothing but the language, as an audio worklet nearly is;
 * the main entry holds code of fft.js alone; each CommonJS file exports what its ES module does; and every package with code in dist has
 * its notice. Run with --experimental-vm-modules after the build.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createContext, runInContext, SourceTextModule } from 'node:vm';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const { exports: entries } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
const subpaths = Object.keys(entries).filter((subpath) => !subpath.endsWith('.json'));
const require = createRequire(import.meta.url);
/** What an entry may ask for beyond the language: the PNG encoder of pictures wants these, which pages, workers and Node have. */
const GLOBALS = { './picture': { TextEncoder, TextDecoder } };
let failed = 0;

function report(name, problem) {
  if (problem !== undefined) failed++;
  console.log(problem === undefined ? `ok ${name}` : `NOT ok ${name}: ${problem}`);
}

/** Loads a file and what it imports into a bare context; gives the namespace and the files. */
async function loadBare(file, globals) {
  const context = createContext({ ...globals }, { codeGeneration: { strings: false, wasm: false } });
  const modules = new Map();
  const open = (path) => {
    if (!modules.has(path))
      modules.set(path, new SourceTextModule(readFileSync(path, 'utf8'), { context, identifier: path }));
    return modules.get(path);
  };
  const entry = open(file);
  await entry.link((specifier, from) => {
    if (!specifier.startsWith('.')) throw new Error(`${basename(from.identifier)} imports ${specifier}`);
    return open(resolve(dirname(from.identifier), specifier));
  });
  await entry.evaluate();
  return { namespace: entry.namespace, files: [...modules.keys()], context };
}

/** The packages whose code a built file holds, by its source map. */
function packagesIn(files) {
  const found = new Set();
  for (const file of files) {
    const map = JSON.parse(readFileSync(`${file}.map`, 'utf8'));
    for (const source of map.sources) {
      const match = source.match(/node_modules\/((?:@[^/]+\/)?[^/]+)\//);
      if (match !== null) found.add(match[1]);
    }
  }
  return [...found].sort();
}

for (const subpath of subpaths) {
  const name = subpath === '.' ? 'lenition' : `lenition/${subpath.slice(2)}`;
  try {
    const { namespace, files, context } = await loadBare(
      join(ROOT, entries[subpath].import.default),
      GLOBALS[subpath] ?? {},
    );
    const names = Object.keys(namespace);
    report(
      `${name} loads with nothing but the language`,
      names.length > 0 ? undefined : 'it exports nothing',
    );
    const common = Object.keys(require(join(ROOT, entries[subpath].require.default)));
    const differing = [
      ...names.filter((each) => !common.includes(each)),
      ...common.filter((each) => !names.includes(each)),
    ];
    report(`${name} exports the same by require`, differing.length > 0 ? differing.join(', ') : undefined);
    if (subpath !== '.') continue;
    const packages = packagesIn(files);
    report('the main entry bundles fft.js alone', packages.join() === 'fft.js' ? undefined : packages.join());
    report('the main entry works there', works(namespace, runInContext('Float32Array', context)));
  } catch (error) {
    report(name, error.message);
  }
}

const built = readdirSync(join(ROOT, 'dist')).filter((file) => /\.c?js$/.test(file));
const notices = readFileSync(join(ROOT, 'THIRD-PARTY-NOTICES.md'), 'utf8');
for (const name of packagesIn(
  built.map((file) => join(ROOT, 'dist', file)).filter((file) => existsSync(`${file}.map`)),
))
  report(`${name} has its notice`, notices.includes(`## ${name} `) ? undefined : 'it has none');

console.log(failed === 0 ? 'the bundle is sound' : `${failed} faults in the bundle`);
process.exitCode = failed === 0 ? 0 : 1;

/** `Floats` is the context's own Float32Array. Marks half of a short clip, turns it down by 20 dB, renders. Detection, where there is one, is given noise in silence. */
function works({ createRegionList, insertRegion, renderGain, detectConsonants }, Floats) {
  const list = insertRegion(createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 }), {
    startSample: 0,
    endSample: 24000,
    gainDb: -20,
  });
  const out = renderGain(new Floats(48000).fill(0.5), list);
  if (Math.abs(out[0] - 0.05) > 1e-8 || out[24000] !== 0.5) return `rendered ${out[0]} and ${out[24000]}`;
  if (detectConsonants === undefined) return undefined;
  const { regions } = detectConsonants(new Floats(48000), { sampleRateHz: 48000 });
  return regions.length === 0 ? undefined : `found ${regions.length} regions in silence`;
}
