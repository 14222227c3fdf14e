/**
 * Scores the detector on voices that it never heard. One network for frames per group of voices, trained without it;
 * the events of every group are found by its own network, and judged by what the events of all others taught. About as
 * long as a dozen trainings. `--help` lists the options.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { createConvClassifier } from '../../src/detection/conv-classifier.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { EventModel } from '../../src/detection/event-classifier.js';
import { phoneFigures } from '../../src/evaluation/phone-figures.js';
import type { LabelledClip } from '../lib/corpus.js';
import { accuracyReport, reportText } from '../lib/report.js';
import { type ClipDetector, scoreClips } from '../lib/score-folder.js';
import { atTemperature, fitTemperature, judgeEvents } from './calibrate-events.js';
import { changedCopies } from './changed-copies.js';
import { heldOutGroups } from './held-out-groups.js';
import { loadClips } from './load-clips.js';
import { packModel, unpackModel } from './packed-model.js';
import { trainEventModel } from './train-event-model.js';
import type { TrainedModel } from './train-model.js';
import { TRAINING_HELP, trainingArguments } from './training-arguments.js';
import { type TrainingClip, trainingClip } from './training-clip.js';
import type { TrainingJob, TrainingResult } from './training-job.js';
import { createTrainingPool } from './training-pool.js';

const HELP = `npm run bench:held-out -- [options]

${TRAINING_HELP}
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
  const args = trainingArguments(process.argv.slice(2), ['json', 'write']);
  if (args.help) return console.log(HELP);
  const clips = loadClips(args.corpora, args.folders, report);
  const groupOf = heldOutGroups(clips);
  // Copies are held out with the voices that they were made from, and not scored.
  const copies = changedCopies(clips, args.options.copiedShare, args.options.seed);
  const prepared = [...clips, ...copies].map(trainingClip);
  const groups = [...new Set(prepared.map(({ voice }) => groupOf(voice)))];
  const pool = createTrainingPool(prepared, args.options, { workers: args.workers, report });
  const results = await pool
    .run(groups.map((group, k) => jobWithout(group, prepared, groupOf, args.options.seed + 1 + k)))
    .finally(() => pool.close());

  const { events: eventOptions, seed } = args.options;
  const models = groups.map((_, k) => {
    const others = results.flatMap(({ events }, n) => (n === k ? [] : events));
    return trainEventModel(others, eventOptions, seed);
  });
  const judged = results.flatMap(({ events }, k) => judgeEvents(models[k] as EventModel, events));
  const temperature = fitTemperature(judged);
  report(`scoring; temperature ${temperature.toFixed(2)}`);

  const tallies = groups.flatMap((group, k) => {
    // Not composites of several groups: this model heard one of them.
    const own = clips.filter(({ voices }) => voices.every((voice) => groupOf(voice) === group));
    const { frames } = results[k] as TrainingResult;
    const model = unpackModel(
      packModel({ frames, events: atTemperature(models[k] as EventModel, temperature) }),
    );
    return scoreClips(group, own, detectorOf(model)).tallies;
  });
  const scores = [...new Set(tallies.map(({ clip }) => clip.folder))].sort().map((folder) => {
    const own = tallies.filter(({ clip }) => clip.folder === folder);
    return { folder, figures: phoneFigures(own.map(({ tally }) => tally)), tallies: own };
  });
  const text = reportText(accuracyReport(scores, []));
  console.log(text);
  const figures = scores.map(({ folder, figures: own }) => ({ folder, ...own }));
  write(
    args.given.get('json') ?? 'out/held-out.json',
    JSON.stringify({ options: args.options, figures }, null, 2),
  );
  const document = args.given.get('write');
  if (document !== undefined) write(document, `# Accuracy on voices held out of training\n\n${text}`);
}

/** A network for frames that hears no clip with a voice of the group, and then finds the events of the group's own clips. */
function jobWithout(
  group: string,
  clips: readonly TrainingClip[],
  groupOf: (voice: string) => string,
  seed: number,
): TrainingJob {
  const places = clips.map((_, i) => i);
  const clip = (i: number): TrainingClip => clips[i] as TrainingClip;
  return {
    name: `without ${group}`,
    train: places.filter((i) => !clip(i).voices.some((voice) => groupOf(voice) === group)),
    collect: places.filter((i) => groupOf(clip(i).voice) === group),
    seed,
  };
}

function detectorOf({ frames, events }: TrainedModel): ClipDetector {
  const classifier = createConvClassifier(frames);
  return ({ channels, sampleRateHz }: LabelledClip) =>
    detectConsonants(channels, { sampleRateHz, classifier, eventModel: events }).regions;
}

function write(file: string, text: string): void {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
  report(`wrote ${file}`);
}
