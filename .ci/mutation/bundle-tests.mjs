/**
 * Bundles the tests of the folder MUTATION_FOLDER, with the sources they test, into `out/mutation/tests.cjs` of the present folder: Stryker's
 * sandbox, where the sources carry their mutants. One script that is evaluated anew for every mutant costs milliseconds; a worker that loads
 * a hundred modules costs seconds.
 */
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';

const folders = [process.env.MUTATION_FOLDER];
/** What the runner gives, and packages that `require` finds: they are loaded once, not once for each fault. */
const GIVEN = ['vitest', 'fast-check', 'typescript', 'wavefile', 'mathjs', 'meyda'];
/** Sources that carry faults: what tests them by name runs first, before there is no more time for a first run. */
const faulty = new Set(process.env.MUTATION_FILES?.split(',').map((path) => basename(path)));
const isNamedLikeFaulty = (file) => faulty.has(basename(file, '.test.ts'));
const out = resolve('out/mutation');
const files = folders.flatMap((folder) =>
  readdirSync(join('test', folder))
    // A test of speed would only tell that a counted mutant is slow.
    .filter((name) => name.endsWith('.test.ts') && name !== 'speed.test.ts')
    .map((name) => resolve('test', folder, name))
    .sort((a, b) => Number(isNamedLikeFaulty(b)) - Number(isNamedLikeFaulty(a))),
);

mkdirSync(out, { recursive: true });
const entry = join(out, 'entry.mjs');
writeFileSync(entry, files.map((file) => `import ${JSON.stringify(file)};\n`).join(''));
await build({
  configFile: false,
  logLevel: 'warn',
  // A test finds the files beside it.
  plugins: [
    {
      name: 'one-file-of-many',
      enforce: 'pre',
      transform: (code, id) =>
        id.endsWith('.test.ts')
          ? `import { startFile as startTestFile } from 'vitest';\nstartTestFile(${JSON.stringify(basename(id, '.test.ts'))});\n${code}`
          : undefined,
    },
    {
      name: 'own-url',
      enforce: 'pre',
      transform: (code, id) =>
        id.endsWith('.ts')
          ? code.replaceAll('import.meta.url', JSON.stringify(pathToFileURL(id).href))
          : undefined,
    },
  ],
  ssr: { noExternal: true, external: GIVEN },
  build: {
    ssr: entry,
    outDir: out,
    emptyOutDir: false,
    minify: false,
    target: 'node20',
    rolldownOptions: {
      external: [...GIVEN, /^node:/],
      checks: { bundlerTimings: false, pluginTimings: false },
      // package.json says that no module does anything when it is loaded; tests do.
      treeshake: false,
      output: { format: 'cjs', entryFileNames: 'tests.cjs', codeSplitting: false },
    },
  },
});
