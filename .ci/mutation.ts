/**
 * Mutation testing: small faults are put into the sources one by one, and a test of the same folder has to notice each.
 *
 *     npm run mutation [-- FOLDER...]        all files of these folders, by default of all that FOLDERS names
 *     npm run mutation:changed [-- REVISION] lines that differ from a revision, by default ten commits back
 *     tsx .ci/mutation.ts --files FILE...    just these files; FILE:10-20 takes lines
 *
 * Prints a line for each folder and one for all, keeps the reports in out/mutation, and ends with an error where less than 85 % was noticed; of
 * changed lines, where so few cannot be chance. `--every N` tries one fault in N, the same ones each time, and `--offset K` others of them, K from 0
 * to N - 1. `--seconds N` is for tests and faults of all folders; a folder's
 * start comes on top of that, and there is time for a folder in each 30 s. `--patience N`: a fault that no test has noticed after N s of processor time, 5
 * unless stated, counts as missed; the tests of `detection` are worth more. `--survivors` lists what was not noticed, `--progress` tells how far it is.
 */
import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { LogLevel } from '@stryker-mutator/api/core';
import { Stryker } from '@stryker-mutator/core';
import { changedLines } from './mutation/changed-lines.js';
import { makeOnly } from './mutation/only-some.js';
import { isMissed, type Mutant, type Report, type Score, score } from './mutation/score.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const OUT = join(ROOT, 'out', 'mutation');

/** The folders whose tests have to notice every fault. */
const FOLDERS: readonly string[] = [
  'features',
  'detection',
  'regions',
  'gain',
  'takes',
  'forecast',
  'exchange',
];

/** The share of faults that must be noticed, in percent: asked for by the project's goals. */
const LEAST_PERCENT = 85;

/** Files that hold no decision: re-exports, and the packed numbers of the trained networks. */
const IS_DATA = /(?:\/index|\/consonant-weights)\.ts(?::|$)/;

/** Less is not worth the start of a folder. */
const LEAST_SECONDS = 30;

/** Processes that try faults. */
const WORKERS = Number(process.env.MUTATION_WORKERS ?? 2);

/** Of changed lines, of which each has about one fault, so many are tried. */
const MOST_CHANGED = 150;

function filesOf(folder: string): readonly string[] {
  return readdirSync(join(ROOT, 'src', folder))
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `src/${folder}/${name}`);
}

/** Runs Stryker on one folder, and gives its report. Its tests and faults take `seconds` at most. */
async function mutate(
  folder: string,
  patterns: readonly string[],
  seconds: number,
  patience: string,
  shows: boolean,
): Promise<Report> {
  // For the command that bundles the tests, and for the runner.
  const report = join(OUT, `${folder}.json`);
  const cut = join(OUT, `${folder}.cut`);
  Object.assign(process.env, {
    MUTATION_FOLDER: folder,
    MUTATION_FILES: patterns.map((path) => path.replace(/\.ts.*/, '')).join(),
    MUTATION_SECONDS: String(seconds),
    MUTATION_PATIENCE: patience,
    MUTATION_CUT: cut,
  });
  for (const path of [report, cut]) rmSync(path, { force: true });
  await new Stryker({
    // All tests of a folder in one process: the runner's file says why.
    plugins: [join(ROOT, '.ci/mutation/in-process-runner.mjs')],
    testRunner: 'in-process',
    buildCommand: 'node .ci/mutation/bundle-tests.mjs',
    mutate: [...patterns],
    coverageAnalysis: 'perTest',
    concurrency: WORKERS,
    // Endless loops end by Stryker's count of hits; this is for what escapes it. Long, since a machine that does much else must not pass for
    // a fault that was noticed: what the clock cuts off is counted apart.
    dryRunTimeoutMinutes: 20,
    timeoutMS: 300_000,
    timeoutFactor: 10,
    reporters: shows ? ['json', 'progress-append-only'] : ['json'],
    jsonReporter: { fileName: report },
    tempDirName: join('out', 'mutation', 'sandbox'),
    ignorePatterns: ['/dist', '/out', '/coverage', '/docs/site'],
    // The sources are only bundled: what a fault does to their types is of no account.
    checkers: [],
    allowConsoleColors: false,
    logLevel: 'warn' as LogLevel,
  }).runMutationTest();
  // Lines without a single fault, as of comments, leave no report.
  const { files } = existsSync(report) ? (JSON.parse(readFileSync(report, 'utf8')) as Report) : { files: {} };
  // Where not all tests had time, lines that none of them ran say nothing.
  const isCut = existsSync(cut);
  const isAsked = ({ status }: Mutant): boolean =>
    status !== 'Ignored' && !(isCut && status === 'NoCoverage');
  return {
    files: Object.fromEntries(
      Object.entries(files).map(([path, file]) => [path, { ...file, mutants: file.mutants.filter(isAsked) }]),
    ),
  };
}

/** What is to be tried: files, or lines of files, and one fault in how many. */
interface Choice {
  readonly patterns: readonly string[];
  readonly every: number;
}

/** The changed lines; a text where there are none to be found. */
function changedChoice(revision: string): Choice | string {
  const found = changedLines(ROOT, revision);
  if (found === null) return `skipped: there is no revision ${revision} here to compare with`;
  const isOurs = (file: string): boolean => FOLDERS.some((folder) => file.startsWith(`src/${folder}/`));
  const lines = found.filter(({ file }) => isOurs(file) && !IS_DATA.test(file));
  const count = lines.reduce((sum, { lineCount }) => sum + lineCount, 0);
  if (count === 0) return `nothing to try: no line of ${FOLDERS.join(', ')} differs from ${revision}`;
  const every = Math.ceil(count / MOST_CHANGED);
  console.log(`${count} lines differ from ${revision}: one fault in ${every} is tried`);
  return { patterns: lines.map(({ pattern }) => pattern), every };
}

/** True where so few were noticed; of a sample only where two standard errors do not explain it. */
function isTooFew({ noticed, tried }: Pick<Score, 'noticed' | 'tried'>, isSample: boolean): boolean {
  const share = LEAST_PERCENT / 100;
  const error = isSample ? 2 * Math.sqrt(tried * share * (1 - share)) : 0;
  return noticed < tried * share - error;
}

async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      changed: { type: 'boolean', default: false },
      files: { type: 'boolean', default: false },
      every: { type: 'string' },
      offset: { type: 'string', default: '0' },
      seconds: { type: 'string' },
      patience: { type: 'string', default: '5' },
      progress: { type: 'boolean', default: false },
      survivors: { type: 'boolean', default: false },
    },
  });
  const began = performance.now();
  const secondsSince = (moment: number): number => (performance.now() - moment) / 1000;
  const choice = values.changed
    ? changedChoice(positionals[0] ?? 'HEAD~10')
    : {
        patterns: values.files
          ? positionals
          : (positionals.length > 0 ? positionals : FOLDERS).flatMap(filesOf),
        every: 1,
      };
  if (typeof choice === 'string') {
    console.log(choice);
    return 0;
  }
  const every = Number(values.every ?? choice.every);
  const offset = Number(values.offset);
  if (!(Number.isInteger(every) && Number.isInteger(offset) && offset >= 0 && offset < every))
    throw new RangeError('--every must be a whole number, and --offset one from 0 up to it');
  await makeOnly(ROOT, (index) => index % every === offset);
  const folders = FOLDERS.map((folder) => ({
    folder,
    patterns: choice.patterns.filter((path) => path.startsWith(`src/${folder}/`) && !IS_DATA.test(path)),
  })).filter(({ patterns }) => patterns.length > 0);
  const seconds = Number(values.seconds ?? Number.POSITIVE_INFINITY);
  // Those with the most to try first, where there is not time for all.
  if (values.changed) folders.sort((a, b) => b.patterns.length - a.patterns.length);
  const fitting = Math.max(1, Math.floor(seconds / LEAST_SECONDS));
  const all: Mutant[] = [];
  for (const [f, { folder, patterns }] of folders.entries()) {
    if (f >= fitting) {
      console.log(`${folder.padEnd(10)} had no time`);
      continue;
    }
    const folderBegan = performance.now();
    const report = await mutate(
      folder,
      patterns,
      seconds / Math.min(fitting, folders.length),
      values.patience,
      values.progress,
    );
    const mutants = Object.values(report.files).flatMap((file) => file.mutants);
    all.push(...mutants);
    console.log(`${score(folder, mutants).text}; ${Math.round(secondsSince(folderBegan))} s`);
    if (values.survivors) listMissed(report);
  }
  const total = score('all', all);
  console.log(`${total.text}; ${Math.round(secondsSince(began))} s`);
  if (!isTooFew(total, values.changed)) return 0;
  console.log(`FAILED: less than ${LEAST_PERCENT} % of the faults were noticed`);
  return 1;
}

function listMissed(report: Report): void {
  for (const [path, { source, mutants }] of Object.entries(report.files)) {
    const lines = source.split('\n');
    for (const { location, mutatorName, replacement, statusReason } of mutants.filter(isMissed)) {
      const line = lines[location.start.line - 1]?.trim() ?? '';
      const why = statusReason === undefined ? '' : ` (${statusReason})`;
      console.log(
        `  ${path}:${location.start.line}:${location.start.column} ${mutatorName}: ${line} -> ${replacement}${why}`,
      );
    }
  }
}

process.exitCode = await main();
