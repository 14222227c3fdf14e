/**
 * Mutation testing: small faults are put into the sources one by one, and a test of the same folder has to notice each.
 *
 *     npm run mutation [-- FOLDER...]        all files of these folders, by default of all that FOLDERS names
 *     npm run mutation:changed [-- REVISION] the files of these folders that differ from a revision, by default from the one before
 *     tsx .ci/mutation.ts --files FILE...    just these
 *
 * Prints a line for each folder and one for all, keeps the reports in out/mutation, and ends with an error where less than 85 % was noticed.
 * `--every N` tries one fault in N, the same ones each time. `--survivors` lists what was not noticed, `--progress` tells how far it is.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { LogLevel } from '@stryker-mutator/api/core';
import { Stryker } from '@stryker-mutator/core';

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
const IS_DATA = /(?:\/index|\/consonant-weights)\.ts$/;

interface Mutant {
  readonly id: string;
  readonly mutatorName: string;
  readonly replacement: string;
  readonly status: string;
  readonly location: { readonly start: Place; readonly end: Place };
}

interface Place {
  readonly line: number;
  readonly column: number;
}

interface Report {
  readonly files: Readonly<Record<string, { readonly source: string; readonly mutants: readonly Mutant[] }>>;
}

function filesOf(folder: string): readonly string[] {
  return readdirSync(join(ROOT, 'src', folder))
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `src/${folder}/${name}`);
}

/** The files that differ from a revision, those of the work tree included. */
function changedSince(revision: string): readonly string[] {
  const names = execFileSync('git', ['diff', '--name-only', '--diff-filter=d', revision, '--', 'src'], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  return names.split('\n').filter((name) => name !== '');
}

/** Runs Stryker on files of one folder, and gives its report. */
async function mutate(
  folder: string,
  files: readonly string[],
  every: string,
  shows: boolean,
): Promise<Report> {
  // For the command that bundles the tests and for the runner.
  Object.assign(process.env, { MUTATION_FOLDER: folder, MUTATION_EVERY: every });
  const report = join(OUT, `${folder}.json`);
  await new Stryker({
    // All tests of a folder in one process: the runner's file says why.
    plugins: [join(ROOT, '.ci/mutation/in-process-runner.mjs')],
    testRunner: 'in-process',
    buildCommand: 'node .ci/mutation/bundle-tests.mjs',
    mutate: [...files],
    coverageAnalysis: 'perTest',
    concurrency: 2,
    // Most endless loops end by Stryker's count of hits; this is for what escapes it. Long, since a slow machine must not pass for
    // a fault that was noticed.
    dryRunTimeoutMinutes: 20,
    timeoutMS: 20_000,
    timeoutFactor: 1.5,
    reporters: shows ? ['json', 'progress-append-only'] : ['json'],
    jsonReporter: { fileName: report },
    tempDirName: join('out', 'mutation', 'sandbox'),
    ignorePatterns: ['/dist', '/out', '/coverage', '/docs/site'],
    // The sources are only bundled: what a fault does to their types is of no account.
    checkers: [],
    allowConsoleColors: false,
    logLevel: 'warn' as LogLevel,
  }).runMutationTest();
  return JSON.parse(readFileSync(report, 'utf8')) as Report;
}

const isNoticed = ({ status }: Mutant): boolean => status === 'Killed' || status === 'Timeout';
const isMissed = ({ status }: Mutant): boolean => status === 'Survived' || status === 'NoCoverage';

/** One line: so many noticed of so many. */
function score(
  name: string,
  mutants: readonly Mutant[],
): { readonly text: string; readonly percent: number } {
  const count = (test: (mutant: Mutant) => boolean): number => mutants.filter(test).length;
  const noticed = count(isNoticed);
  const missed = count(isMissed);
  const percent = noticed + missed === 0 ? 100 : (100 * noticed) / (noticed + missed);
  const byTime = count(({ status }) => status === 'Timeout');
  const untried = count(({ status }) => status === 'NoCoverage');
  const text =
    `${name.padEnd(10)} ${percent.toFixed(1).padStart(5)} %  ${noticed} of ${noticed + missed} noticed` +
    ` (${byTime} by endless loops), ${missed} missed (${untried} in lines that no test runs)`;
  return { text, percent };
}

async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      changed: { type: 'boolean', default: false },
      files: { type: 'boolean', default: false },
      every: { type: 'string', default: '1' },
      progress: { type: 'boolean', default: false },
      survivors: { type: 'boolean', default: false },
    },
  });
  const wanted = values.files
    ? positionals
    : values.changed
      ? changedSince(positionals[0] ?? 'HEAD~1')
      : (positionals.length > 0 ? positionals : FOLDERS).flatMap(filesOf);
  const all: Mutant[] = [];
  for (const folder of FOLDERS) {
    const files = wanted.filter((file) => file.startsWith(`src/${folder}/`) && !IS_DATA.test(file));
    if (files.length === 0) continue;
    const report = await mutate(folder, files, values.every, values.progress);
    const mutants = Object.values(report.files)
      .flatMap((file) => file.mutants)
      .filter(({ id }) => Number(id) % Number(values.every) === 0);
    all.push(...mutants);
    console.log(score(folder, mutants).text);
    if (values.survivors) listMissed(report, Number(values.every));
  }
  const { text, percent } = score('all', all);
  console.log(text);
  if (percent >= LEAST_PERCENT) return 0;
  console.log(`FAILED: less than ${LEAST_PERCENT} % of the faults were noticed`);
  return 1;
}

function listMissed(report: Report, every: number): void {
  for (const [path, { source, mutants }] of Object.entries(report.files)) {
    const lines = source.split('\n');
    for (const { location, mutatorName, replacement } of mutants.filter(
      (mutant) => isMissed(mutant) && Number(mutant.id) % every === 0,
    )) {
      const line = lines[location.start.line - 1]?.trim() ?? '';
      console.log(
        `  ${path}:${location.start.line}:${location.start.column} ${mutatorName}: ${line} -> ${replacement}`,
      );
    }
  }
}

process.chdir(ROOT);
process.exitCode = await main();
