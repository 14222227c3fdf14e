/**
 * Measures how fast the library is against raw transforms, another library, plain copies and real time, and how the time grows. Ends
 * with 1 where a figure falls short. `--help` lists the options.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';

const HELP = `npm run bench:speed -- [options]

  --short          half a minute: ratios against the ceilings of bench/lib/speed/ceilings.ts
  --corpus DIR     folder with pjs_singing and kathleen_en48k (default ../shared/corpus)
  --long           an hour for npm start instead of five minutes, and ten hours streamed
  --essentia       fetch essentia.js into a temporary folder and compare with it
  --write FILE     write the figures as a page
  --help           these lines`;

const { values: options } = parseArgs({
  options: {
    short: { type: 'boolean', default: false },
    corpus: { type: 'string', default: '../shared/corpus' },
    long: { type: 'boolean', default: false },
    essentia: { type: 'boolean', default: false },
    write: { type: 'string' },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) console.log(HELP);
else process.exitCode = import.meta.url.endsWith('.ts') ? await runBuilt() : await measure();

/**
 * Builds this file as the package is built and runs that: what turns TypeScript into JavaScript at run time adds calls to inner
 * functions (for their names) that the package does not have, and they slow the inner loops.
 */
async function runBuilt(): Promise<number> {
  const { build } = await import('tsup');
  mkdirSync('out', { recursive: true });
  const outDir = mkdtempSync(join('out', 'speed-'));
  try {
    await build({
      config: false,
      entry: { speed: 'bench/speed.ts' },
      outDir,
      format: 'esm',
      target: 'es2022',
      skipNodeModulesBundle: true,
      silent: true,
    });
    const args = [join(outDir, 'speed.js'), ...process.argv.slice(2)];
    return spawnSync(process.execPath, args, { stdio: 'inherit' }).status ?? 1;
  } finally {
    rmSync(outDir, { recursive: true });
  }
}

async function measure(): Promise<number> {
  if (options.short) return (await import('./lib/speed/short-form.js')).shortForm();
  return (await import('./lib/speed/full-form.js')).fullForm({ ...options, write: options.write });
}
