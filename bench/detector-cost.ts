/** Measures what classifier, smoothing and events cost, of the time of the features. `--help` lists the options. */
import { parseArgs } from 'node:util';
import { runBuilt } from './lib/run-built.js';

const HELP = `npm run bench:cost -- [options]

  --corpus DIR     folder with pjs_singing and kathleen_en48k (default ../shared/corpus); the demonstration where they are not there
  --seconds N      sound of each (default 120)
  --rounds N       after three that are not counted (default 9)
  --json           print figures as JSON`;

const { values: options } = parseArgs({
  options: {
    corpus: { type: 'string', default: '../shared/corpus' },
    seconds: { type: 'string', default: '120' },
    rounds: { type: 'string', default: '9' },
    json: { type: 'boolean', default: false },
    help: { type: 'boolean', default: false },
  },
});

if (options.help) console.log(HELP);
else
  process.exitCode = import.meta.url.endsWith('.ts')
    ? await runBuilt('cost', 'bench/detector-cost.ts')
    : await measure();

async function measure(): Promise<number> {
  const { measuredCosts, costTable } = await import('./lib/ends/measured-costs.js');
  const costs = measuredCosts(options.corpus, Number(options.seconds), Number(options.rounds));
  console.log(options.json ? JSON.stringify(costs) : costTable(costs));
  return 0;
}
