/**
 * Scores the detector on labelled voices that were changed: whispered, sped up, under bleed, clipped and so on; and what the reach of its
 * references costs. `--help` lists the options.
 */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { LabelledClip } from './lib/corpus.js';
import { chooseClips, joinFolders } from './lib/ends/choose-clips.js';
import type { EndCondition } from './lib/ends/end-condition.js';
import { endsPage, scoreTable } from './lib/ends/ends-page.js';
import { type LocalityRow, localityRows } from './lib/ends/locality.js';
import { localityTable } from './lib/ends/locality-text.js';
import type { MeasuredCost } from './lib/ends/measured-costs.js';
import { costTable } from './lib/ends/measured-costs.js';
import { type ConditionScore, scoreCondition } from './lib/ends/score-condition.js';
import { JOINED, WAYS_OF_RECORDING } from './lib/ends/ways-of-recording.js';
import { WAYS_OF_SINGING } from './lib/ends/ways-of-singing.js';
import { writeClip } from './lib/write-clip.js';
import { createRandom } from './train/random.js';

const HELP = `npm run bench:ends -- [options]

  --corpus DIR     folder of labelled voices (default ../shared/corpus)
  --only TEXT      only conditions whose name holds TEXT, and neither reach nor cost; may be repeated
  --seconds N      sound of each folder (default 60)
  --seed N         another choice of clips and other random numbers (default 1)
  --clips DIR      write the first clip of each folder under each condition as WAV with its labels
  --write FILE     write the page`;

const { values: options } = parseArgs({
  options: {
    corpus: { type: 'string', default: '../shared/corpus' },
    only: { type: 'string', multiple: true },
    seconds: { type: 'string', default: '60' },
    seed: { type: 'string', default: '1' },
    clips: { type: 'string' },
    write: { type: 'string' },
    help: { type: 'boolean', default: false },
  },
});
const seed = Number(options.seed);
const UNCHANGED: EndCondition = {
  name: 'unchanged',
  made: 'The clips as they are.',
  advice: '',
  change: (clip) => clip,
};

if (options.help) console.log(HELP);
else await main();

async function main(): Promise<void> {
  const clips = chooseClips(options.corpus, Number(options.seconds), seed);
  if (clips.length === 0)
    return console.log(
      `No labelled voices in ${options.corpus}: nothing is scored. --corpus DIR names another folder.`,
    );
  const joined = joinFolders(clips);
  const wanted = [...WAYS_OF_SINGING, ...WAYS_OF_RECORDING].filter(
    ({ name }) => options.only?.some((text) => name.includes(text)) ?? true,
  );
  const conditions = [UNCHANGED, JOINED, ...wanted];
  const scores: ConditionScore[] = [];
  for (const condition of conditions) {
    progress(condition.name);
    const own = condition.joined ? joined : clips;
    if (options.clips !== undefined) writeFirst(options.clips, condition, own);
    scores.push(scoreCondition(condition, own, seed));
  }
  console.log(scoreTable(scores));
  if (options.only !== undefined) return;
  const locality: readonly LocalityRow[] = await localityRows(clips, progress);
  console.log(`\n${localityTable(locality)}`);
  progress('cost of the classifier');
  const costs = measuredCosts();
  console.log(`\n${costTable(costs)}`);
  if (options.write === undefined) return;
  writeFileSync(options.write, endsPage({ clips, conditions: wanted, scores, locality, costs }));
  progress(`wrote ${options.write}`);
}

/** In a process of its own, built as the package is. */
function measuredCosts(): readonly MeasuredCost[] {
  const args = ['--import', 'tsx', 'bench/detector-cost.ts', '--json', '--corpus', options.corpus];
  const run = spawnSync(process.execPath, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] });
  if (run.status !== 0) throw new Error('bench/detector-cost.ts failed');
  return JSON.parse(run.stdout) as readonly MeasuredCost[];
}

function writeFirst(directory: string, condition: EndCondition, clips: readonly LabelledClip[]): void {
  const seen = new Set<string>();
  for (const [i, clip] of clips.entries()) {
    if (seen.has(clip.folder)) continue;
    seen.add(clip.folder);
    const changed = condition.change(clip, createRandom(seed + i));
    const name = `${clip.folder}-${clip.name}-${condition.name}`.replaceAll(/[^\w.-]+/g, '_');
    writeClip(directory, name, changed);
    progress(join(directory, `${name}.wav`));
  }
}

function progress(text: string): void {
  process.stderr.write(`${text}\n`);
}
