/**
 * Scores the detector on voices that it never heard: for each folder, a model trained without it. Hours with the
 * default options; models are kept and taken up again. `--help` lists the options.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { createConvClassifier } from '../../src/detection/conv-classifier.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { LabelledClip } from '../lib/corpus.js';
import { scoreHeldOut } from '../lib/hold-out.js';
import { accuracyReport, reportText } from '../lib/report.js';
import type { ClipDetector } from '../lib/score-folder.js';
import { heldOutGroups } from './held-out-groups.js';
import { loadClips } from './load-clips.js';
import { cachedModel } from './model-cache.js';
import { type PackedModel, packModel, unpackModel } from './packed-model.js';
import { trainModel } from './train-model.js';
import { TRAINING_HELP, trainingArguments } from './training-arguments.js';
import { type TrainingClip, trainingClip } from './training-clip.js';
import { createTrainingPool } from './training-pool.js';

const HELP = `npm run bench:held-out -- [options]

${TRAINING_HELP}
  --models DIR         where models are kept (default out/held-out)
  --json FILE          where to write the figures (default out/held-out.json)
  --write FILE         where to write the report as Markdown`;

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
  const args = trainingArguments(process.argv.slice(2), ['models', 'json', 'write']);
  if (args.help) return console.log(HELP);
  const clips = loadClips(args.corpus, args.folders, report);
  const groupOf = heldOutGroups(clips);
  const prepared = clips.map(trainingClip);
  const placeOf = new Map(clips.map((clip, i) => [clip, i]));

  // A first round without a detector tells which models are needed.
  const wanted = new Map<string, readonly number[]>();
  scoreHeldOut(clips, groupOf, (training, heldOut) => {
    wanted.set(
      heldOut,
      training.map((clip) => placeOf.get(clip) as number),
    );
    return () => [];
  });

  const detectors = new Map<string, ClipDetector>();
  const pool = createTrainingPool(prepared, args.options, { workers: args.workers, report });
  try {
    for (const [heldOut, places] of wanted) {
      const name = `without ${heldOut} (${detectors.size + 1} of ${wanted.size})`;
      const own = places.map((i) => prepared[i] as TrainingClip);
      const make = async (): Promise<PackedModel> =>
        packModel(await trainModel(pool, prepared, places, args.options, name));
      const directory = args.given.get('models') ?? 'out/held-out';
      detectors.set(heldOut, detectorOf(await cachedModel(directory, own, args.options, make)));
    }
  } finally {
    await pool.close();
  }

  report('scoring');
  const scores = scoreHeldOut(clips, groupOf, (_, heldOut) => detectors.get(heldOut) as ClipDetector);
  const text = reportText(accuracyReport(scores, []));
  console.log(text);
  const figures = scores.map(({ folder, figures }) => ({ folder, ...figures }));
  write(
    args.given.get('json') ?? 'out/held-out.json',
    JSON.stringify({ options: args.options, figures }, null, 2),
  );
  const document = args.given.get('write');
  if (document !== undefined) write(document, `# Accuracy on voices held out of training\n\n${text}`);
}

function detectorOf(packed: PackedModel): ClipDetector {
  const { frames, events } = unpackModel(packed);
  const classifier = createConvClassifier(frames);
  return ({ channels, sampleRateHz }: LabelledClip) =>
    detectConsonants(channels, { sampleRateHz, classifier, eventModel: events }).regions;
}

function write(file: string, text: string): void {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
  report(`wrote ${file}`);
}
