/** Measures what classifier, smoothing and events cost, of the time of the features. `--help` lists the options. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';

const HELP = `npm run bench:cost -- [options]

  --corpus DIR     folder with pjs_singing and kathleen_en48k (default ../shared/corpus); the demonstration where they are not there
  --seconds N      sound of each (default 60)
  --rounds N       (default 7)
  --json           print figures as JSON`;

const { values: options } = parseArgs({
  options: {
    corpus: { type: 'string', default: '../shared/corpus' },
    seconds: { type: 'string', default: '60' },
    rounds: { type: 'string', default: '7' },
    json: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) console.log(HELP);
else process.exitCode = import.meta.url.endsWith('.ts') ? await runBuilt() : await measure();

/** Builds this file as the package is built and runs that: what runs TypeScript as it is slows inner loops. */
async function runBuilt(): Promise<number> {
  const { build } = await import('tsup');
  mkdirSync('out', { recursive: true });
  const outDir = mkdtempSync(join('out', 'cost-'));
  try {
    await build({
      config: false,
      entry: { cost: 'bench/detector-cost.ts' },
      outDir,
      format: 'esm',
      target: 'es2022',
      skipNodeModulesBundle: true,
      silent: true,
    });
    const args = [join(outDir, 'cost.js'), ...process.argv.slice(2)];
    return spawnSync(process.execPath, args, { stdio: 'inherit' }).status ?? 1;
  } finally {
    rmSync(outDir, { recursive: true });
  }
}

async function measure(): Promise<number> {
  const { measuredCosts, costTable } = await import('./lib/ends/measured-costs.js');
  const costs = measuredCosts(options.corpus, Number(options.seconds), Number(options.rounds));
  console.log(options.json ? JSON.stringify(costs) : costTable(costs));
  return 0;
}
