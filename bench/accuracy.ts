/**
 * Scores the detector on a corpus of labelled voices: a folder of folders, each with NAME.wav and NAME.tsv (start
 * seconds, end seconds, phone, tab between). `--help` lists the options.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { parseArgs } from 'node:util';
import { settingsGrid } from '../src/evaluation/settings-grid.js';
import { corpusFolders, type LabelledClip, loadCorpus } from './lib/corpus.js';
import { type NamedDetector, ownDetector, RULE } from './lib/detectors.js';
import { errorPictures } from './lib/error-pictures.js';
import { errorLines, listErrors } from './lib/list-errors.js';
import { ALPHABETS, type Alphabet } from './lib/phone-map.js';
import { accuracyReport, reportText } from './lib/report.js';
import { type FolderScore, scoreClips } from './lib/score-folder.js';
import { sweep, sweepTable } from './lib/sweep.js';
import { tradeOffPicture } from './lib/trade-off-picture.js';

const HELP = `npm run bench:accuracy -- [options]

  --corpus DIR         folder of folders of NAME.wav + NAME.tsv (default ../shared/corpus)
  --folder NAME        only this folder; may be repeated
  --phones ALPHABET    how phones are written: ${ALPHABETS.join(', ')} (default: guessed per folder)
  --by-voice           one row a voice instead of one a folder
  --detector NAME      lenition or rule (default lenition)
  --baseline           add the plain two-threshold rule for comparison
  --settings FILE      JSON object of settings for the detector
  --min-confidence X   report regions from this confidence on, 0 to 1
  --sweep FILE         JSON object of lists, one a setting: tries every combination; or a list of settings
  --curve FILE         with --sweep: where to write precision against recall as SVG
  --list-errors        print every event behind the figures that is not as labelled, instead of tables
  --pictures DIR       with --list-errors: a spectrogram of each as SVG
  --json               print figures as JSON
  --write FILE         write the report as Markdown
  --title TEXT         its heading (default Accuracy)`;

const { values: options } = parseArgs({
  options: {
    corpus: { type: 'string', default: '../shared/corpus' },
    folder: { type: 'string', multiple: true },
    phones: { type: 'string' },
    'by-voice': { type: 'boolean', default: false },
    detector: { type: 'string', default: 'lenition' },
    baseline: { type: 'boolean', default: false },
    settings: { type: 'string' },
    'min-confidence': { type: 'string' },
    sweep: { type: 'string' },
    curve: { type: 'string' },
    'list-errors': { type: 'boolean', default: false },
    pictures: { type: 'string' },
    json: { type: 'boolean', default: false },
    write: { type: 'string' },
    title: { type: 'string', default: 'Accuracy' },
    help: { type: 'boolean', default: false },
  },
});

await main();

async function main(): Promise<void> {
  if (options.help) return console.log(HELP);
  const present = corpusFolders(options.corpus);
  if (present.length === 0)
    return console.log(
      `No labelled voices in ${options.corpus}: nothing is scored. --corpus DIR names another folder.`,
    );
  const missing = (options.folder ?? []).filter((folder) => !present.includes(folder));
  if (missing.length > 0) return refuse(`--folder: ${missing.join(', ')} not in ${options.corpus}`);
  const detector = await chooseDetector();
  const groups = load(present.filter((folder) => options.folder?.includes(folder) ?? true));
  if (options.sweep !== undefined) return runSweep(groups, detector, options.sweep);
  const scores = scoreAll(groups, detector.withSettings(settings()), detector.name);
  if (options['list-errors']) return printErrors(scores);
  if (options.json)
    return console.log(
      JSON.stringify(
        scores.map(({ folder, figures }) => ({ folder, ...figures })),
        null,
        2,
      ),
    );
  const baseline = options.baseline ? scoreAll(groups, RULE.withSettings({}), RULE.name) : [];
  const report = accuracyReport(scores, baseline);
  console.log(reportText(report));
  if (options.write !== undefined) write(options.write, `${preface(detector)}\n${reportText(report)}`);
}

async function chooseDetector(): Promise<NamedDetector> {
  if (options.detector === 'rule') return RULE;
  if (options.detector !== 'lenition') refuse('--detector: lenition or rule');
  const own = await ownDetector();
  return (
    own ?? refuse('src/detection/detect-consonants.ts is not there yet; --detector rule runs the plain rule')
  );
}

function load(folders: readonly string[]): ReadonlyMap<string, readonly LabelledClip[]> {
  const alphabet = options.phones as Alphabet | undefined;
  if (alphabet !== undefined && !ALPHABETS.includes(alphabet)) refuse(`--phones: ${ALPHABETS.join(', ')}`);
  const groups = new Map<string, LabelledClip[]>();
  for (const folder of folders) {
    progress(`reading ${folder}`);
    for (const clip of loadCorpus(join(options.corpus, folder), alphabet === undefined ? {} : { alphabet })) {
      const key = byVoice(clip) ? clip.voice : folder;
      groups.set(key, [...(groups.get(key) ?? []), clip]);
    }
  }
  return groups;
}

/** A composite stays a folder of its own: its edges are of another kind than those of the voices it borrows. */
function byVoice(clip: LabelledClip): boolean {
  return options['by-voice'] && clip.voice.split(':')[0] === clip.folder;
}

function scoreAll(
  groups: ReadonlyMap<string, readonly LabelledClip[]>,
  detect: ReturnType<NamedDetector['withSettings']>,
  name: string,
): readonly FolderScore[] {
  return [...groups].map(([folder, clips]) => {
    progress(`${name}: ${folder}`);
    return scoreClips(folder, clips, detect);
  });
}

function settings(): Readonly<Record<string, unknown>> {
  const fromFile =
    options.settings === undefined ? {} : (readJson(options.settings) as Record<string, unknown>);
  const least = options['min-confidence'];
  return least === undefined ? fromFile : { ...fromFile, minConfidence: Number(least) };
}

function runSweep(
  groups: ReadonlyMap<string, readonly LabelledClip[]>,
  detector: NamedDetector,
  file: string,
): void {
  const plan = readJson(file) as
    | Readonly<Record<string, readonly unknown[]>>
    | readonly Record<string, unknown>[];
  const choices = Array.isArray(plan)
    ? (plan as readonly Record<string, unknown>[])
    : settingsGrid(plan as Readonly<Record<string, readonly unknown[]>>);
  const all = choices.map((choice) => ({ ...settings(), ...choice }));
  const points = sweep(groups, detector, all, (done) => progress(`choice ${done + 1} of ${all.length}`));
  if (options.json) console.log(JSON.stringify(points, null, 2));
  else console.log(sweepTable(points));
  if (options.curve !== undefined)
    write(options.curve, tradeOffPicture(points, `${detector.name}: ${points.length} choices of settings`));
  if (options.write !== undefined) {
    const picture =
      options.curve === undefined
        ? ''
        : `\n![Precision against recall](${relative(dirname(options.write), options.curve)})\n`;
    write(options.write, `# Settings tried\n\n${sweepTable(points)}\n${picture}`);
  }
}

function printErrors(scores: readonly FolderScore[]): void {
  for (const score of scores) {
    const errors = listErrors(score);
    console.log(`${score.folder}: ${errors.length} errors\n${errorLines(errors)}\n`);
    if (options.pictures === undefined) continue;
    for (const { name, svg } of errorPictures(score, errors)) write(join(options.pictures, name), svg);
  }
}

function preface(detector: NamedDetector): string {
  const asGiven = process.argv.slice(2).map((word) => (word.includes(' ') ? `'${word}'` : word));
  return `# ${options.title}

Written by \`npm run bench:accuracy -- ${asGiven.join(' ')}\`. Detector: ${detector.name}, settings ${JSON.stringify(settings())}.

A label and a region match when they overlap by at least half of the shorter of the two, one to one, largest overlap first.
Sibilant labels that touch are one. Strict figures compare regions of kind sibilant with sibilant labels. Unvoiced recall asks
for a region of any harsh kind (sibilant, fricative, burst) at each s, sh, ch or ts. A harsh region is in the wrong place when
less than 30 % of it lies within 20 ms of an obstruent. Voiced cut is the part of vowels, nasals and glides inside harsh
regions, wherever one reaches more than 20 ms into them. t/k found: a harsh region matches the label with 30 ms added at
its end; told: of those, the share that says burst. Labels made by forced alignment start up to 50 ms early, so edge errors mean something
only on the spliced folders, whose edges are known to the sample.
`;
}

function write(file: string, text: string): void {
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
  progress(`wrote ${file}`);
}

function readJson(file: string): unknown {
  if (!existsSync(file)) refuse(`${file} is not there`);
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    return refuse(`${file}: ${(error as Error).message}`);
  }
}

function progress(text: string): void {
  process.stderr.write(`${text}\n`);
}

function refuse(text: string): never {
  process.stderr.write(`${text}\n`);
  process.exit(1);
}
