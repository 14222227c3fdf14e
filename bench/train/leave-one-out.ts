/**
 * Scores the detector on voices, or on recordings, that it never heard. One network for frames per group of them, trained without it;
 * the events of every group are found by its own network, and judged by what the events of all others taught. Where voices are
 * held out, those that only breathe are heard by every network for frames. Only folders of the first `--corpus` are scored, those of the others
 * teach. About as long as six trainings; for recordings, two. `--help` lists the options.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createConvClassifier } from '../../src/detection/conv-classifier.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { phoneFigures } from '../../src/evaluation/phone-figures.js';
import { corpusFolders, type LabelledClip } from '../lib/corpus.js';
import { errorPictures } from '../lib/error-pictures.js';
import { errorLines, listErrors } from '../lib/list-errors.js';
import { accuracyReport, reportText } from '../lib/report.js';
import { type ClipDetector, type FolderScore, scoreClips } from '../lib/score-folder.js';
import { addedClips } from './added-clips.js';
import { breathingVoices } from './breathing-voices.js';
import { atTemperature, fitTemperature, judgeEvents } from './calibrate-events.js';
import { type GroupsOf, inOrderOfPart, recordingGroups, voiceGroups } from './held-out-groups.js';
import { trainingPool } from './keep-networks.js';
import { loadClips } from './load-clips.js';
import { packModel, unpackModel } from './packed-model.js';
import { preparedClips } from './prepared-clips.js';
import { trainEventModel } from './train-event-model.js';
import type { TrainedModel } from './train-model.js';
import { TRAINING_HELP, trainingArguments } from './training-arguments.js';
import type { TrainingClip } from './training-clip.js';
import type { TrainingJob, TrainingResult } from './training-job.js';

const HELP = `npm run bench:held-out -- [options]

Scores the folders of the first --corpus; those of the others only teach.

${TRAINING_HELP}
  --by WHAT            what is held out together: voices (default: a folder, a sixth of an4), or recordings (a fifth
                       of each folder, whose voices are heard in the others)
  --json FILE          where to write the figures (default out/held-out.json)
  --write FILE         where to write the report as Markdown
  --errors DIR         where to write every event behind the figures that is not as labelled:
                       a list for each folder, and a spectrogram of each event as SVG`;

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
  const args = trainingArguments(process.argv.slice(2), ['by', 'json', 'write', 'errors']);
  if (args.help) return console.log(HELP);
  const by = args.given.get('by') ?? 'voices';
  if (by !== 'voices' && by !== 'recordings')
    throw new Error(`--by: must be voices or recordings; received ${by}`);
  const clips = loadClips(args.corpora, args.folders, report);
  // Copies are held out with what they were made from, and not scored.
  const prepared = preparedClips(clips, addedClips(clips, args.options));
  const toScore = new Set(corpusFolders(args.corpora[0] as string));
  const groupsOf = by === 'voices' ? voiceGroups(clips, toScore) : recordingGroups(prepared);
  const teaching = prepared.filter(({ teachesFrames }) => teachesFrames);
  const shared = by === 'voices' ? breathingVoices(teaching) : new Set<string>();
  const groups = inOrderOfPart([...new Set(prepared.map((clip) => groupsOf(clip)[0] as string))]);
  const pool = trainingPool(prepared, args, report);
  // From 2 on: the numbers by which networks of earlier runs are kept.
  const results = await pool
    .run(
      groups.map((group, k) => jobWithout(group, prepared, { groupsOf, shared }, args.options.seed + 2 + k)),
    )
    .finally(() => pool.close());

  const { events: eventOptions, seed } = args.options;
  const judges = groups.flatMap((group, k) => {
    // Not composites of several groups: this model heard one of them.
    const own = clips.filter(
      (clip) => toScore.has(clip.folder) && groupsOf(clip).every((each) => each === group),
    );
    if (own.length === 0) return [];
    report(`without ${group}: events`);
    const { frames, events } = results[k] as TrainingResult;
    const others = results.flatMap((result, n) => (n === k ? [] : result.events));
    const model = trainEventModel(others, eventOptions, seed);
    return [{ group, own, frames, model, judged: judgeEvents(model, events) }];
  });
  const temperature = fitTemperature(judges.flatMap(({ judged }) => judged));
  report(`scoring; temperature ${temperature.toFixed(2)}`);

  const tallies = judges.flatMap(({ group, own, frames, model }) => {
    const packed = packModel({ frames, events: atTemperature(model, temperature) });
    return scoreClips(group, own, detectorOf(unpackModel(packed))).tallies;
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
  if (document !== undefined)
    write(
      document,
      `# Accuracy on ${by} held out of training\n\n${by === 'voices' ? about(shared) : aboutRecordings()}${text}`,
    );
  const errors = args.given.get('errors');
  if (errors !== undefined) for (const score of scores) writeErrors(errors, score);
}

function writeErrors(directory: string, score: FolderScore): void {
  const errors = listErrors(score);
  for (const { name, svg } of errorPictures(score, errors)) writeFile(join(directory, name), svg);
  write(join(directory, `${score.folder}.tsv`), `${errorLines(errors)}\n`);
}

function aboutRecordings(): string {
  return `Written by \`npm run bench:held-out -- --by recordings --corpus ../shared/corpus --corpus ../voices --write docs/held-out-recordings.md\`. A fifth of the recordings of
each folder is judged by two networks that never heard these, but others of the same voices. Composites are not here, since their parts come from several recordings; none was
heard by networks that judge one of its parts. Confidences share one temperature, a single number fitted on all of these events together.
[Held out](held-out.md) has voices that were never heard, [Accuracy](accuracy.md) says what each figure means. The goal for the mean of strict F1 is 0.94 here (aim 0.97), not
that of the table.\n\n`;
}

function about(shared: ReadonlySet<string>): string {
  const heard = [...shared].sort().join(', ');
  return `Written by \`npm run bench:held-out -- --corpus ../shared/corpus --corpus ../voices --write docs/held-out.md\`. Every group of
voices is judged by two networks that never heard it: a folder, and of an4 a sixth of its speakers. The voices of other corpora, which only teach, are one group. ${
    heard === ''
      ? ''
      : `Of ${heard} there is nothing but breath: its network for frames heard it all the same, that
for events did not. `
  }Of composites only those are here whose parts are all of one group. Confidences share one temperature, a single number fitted on all
of these events together.
[Accuracy](accuracy.md) says what each figure means.\n\n`;
}

/**
 * A network for frames that hears no clip of the group, and then finds the events of the group's own clips.
 * Voices that only breathe are heard all the same: where there is but one, nothing else teaches what a breath is.
 */
function jobWithout(
  group: string,
  clips: readonly TrainingClip[],
  { groupsOf, shared }: { readonly groupsOf: GroupsOf; readonly shared: ReadonlySet<string> },
  seed: number,
): TrainingJob {
  const places = clips.map((_, i) => i);
  const clip = (i: number): TrainingClip => clips[i] as TrainingClip;
  const isHeldOut = ({ voices, recordings }: TrainingClip): boolean =>
    groupsOf({ voices: voices.filter((voice) => !shared.has(voice)), recordings }).includes(group);
  return {
    name: `without ${group}`,
    train: places.filter((i) => clip(i).teachesFrames && !isHeldOut(clip(i))),
    collect: places.filter((i) => groupsOf(clip(i))[0] === group),
    seed,
  };
}

function detectorOf({ frames, events }: TrainedModel): ClipDetector {
  const classifier = createConvClassifier(frames);
  return ({ channels, sampleRateHz }: LabelledClip) =>
    detectConsonants(channels, { sampleRateHz, classifier, eventModel: events }).regions;
}

function write(file: string, text: string): void {
  writeFile(file, text);
  report(`wrote ${file}`);
}

function writeFile(file: string, text: string): void {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
}
