/**
 * Makes src/detection/consonant-weights.ts anew from a corpus of labelled voices. `--help` lists the options.
 * The same seed, corpus and version of Node give the same file.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { addedClips } from './added-clips.js';
import { isHeldOut } from './is-held-out.js';
import { trainingPool } from './keep-networks.js';
import { loadClips } from './load-clips.js';
import { originLines } from './origin-lines.js';
import { packModel } from './packed-model.js';
import { preparedClips } from './prepared-clips.js';
import { trainModel } from './train-model.js';
import { TRAINING_HELP, trainingArguments } from './training-arguments.js';
import { weightsSource } from './weights-source.js';

const HELP = `npm run train -- [options]

${TRAINING_HELP}
  --hold-out NAMES     folders, or FOLDER:SPEAKER, with commas between, that must not be heard
  --out FILE           where to write (default src/detection/consonant-weights.ts)`;

const report = (text: string): void => {
  process.stderr.write(`${text}\n`);
};

try {
  await main();
} catch (error) {
  report((error as Error).message);
  process.exitCode = 1;
}

async function main(): Promise<void> {
  const args = trainingArguments(process.argv.slice(2), ['hold-out', 'out']);
  if (args.help) return console.log(HELP);
  const held = (args.given.get('hold-out') ?? '').split(',').filter((name) => name !== '');
  const recorded = loadClips(args.corpora, args.folders, report).filter(
    ({ voices }) => !isHeldOut(voices, held),
  );
  const added = addedClips(recorded, args.options);
  const clips = preparedClips(recorded, added);
  const pool = trainingPool(clips, args, report);
  try {
    const places = clips.map((_, i) => i);
    const model = await trainModel(pool, clips, places, args.options, 'model');
    const out = args.given.get('out') ?? 'src/detection/consonant-weights.ts';
    mkdirSync(dirname(out), { recursive: true });
    writeFileSync(out, weightsSource(packModel(model), originLines(recorded, added, args.options, held)));
    report(`wrote ${out}`);
  } finally {
    await pool.close();
  }
}
