/**
 * Measures how fast the library is against raw transforms, another library, plain copies and real time, and how the time grows. Ends
 * with 1 where a figure falls short. `--help` lists the options.
 */
import { parseArgs } from 'node:util';
import { runBuilt } from './lib/run-built.js';

const HELP = `npm run bench:speed -- [options]

  --short          a minute: ratios against the ceilings of bench/lib/speed/ceilings.ts
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
else
  process.exitCode = import.meta.url.endsWith('.ts')
    ? await runBuilt('speed', 'bench/speed.ts')
    : await measure();

async function measure(): Promise<number> {
  if (options.short) return (await import('./lib/speed/short-form.js')).shortForm();
  return (await import('./lib/speed/full-form.js')).fullForm({ ...options, write: options.write });
}
