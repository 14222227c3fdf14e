/**
 * Tries every public function with any arguments, and every reader with hostile data. Ends with 1 where a case breaks a rule, and prints the
 * command that repeats it. `--help` lists the options.
 */
import { availableParallelism } from 'node:os';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import type { Job } from './lib/job.js';
import { planJobs } from './lib/plan-jobs.js';
import { createTally, repeatCommand } from './lib/report.js';
import { caseText } from './lib/run-job.js';
import { runJobs } from './lib/run-jobs.js';
import { loadSubjects } from './lib/subjects.js';

const HELP = `npm run fuzz -- [options]

  --cases N        cases of the properties; four times as many of outside data (default 5000)
  --hostile N      cases of outside data, if another number
  --nightly        200,000 and 1,000,000 cases
  --seed S         the same seed gives the same cases (default: of the time)
  --only NAME      one function or one form
  --case I         that case alone, here and not in a thread, with what it is made from
  --time-limit MS  most time of a case (default 10000)
  --threads N      threads (default: one a core, at most 4)
  --subjects FILE  other functions and forms than the library's: a module with PROPERTIES and FORMS
  --help           these lines`;

const { values } = parseArgs({
  options: {
    cases: { type: 'string' },
    hostile: { type: 'string' },
    nightly: { type: 'boolean', default: false },
    seed: { type: 'string' },
    only: { type: 'string' },
    case: { type: 'string' },
    'time-limit': { type: 'string', default: '10000' },
    threads: { type: 'string' },
    subjects: { type: 'string' },
    help: { type: 'boolean', default: false },
  },
});

if (values.help) console.log(HELP);
else process.exitCode = await fuzz();

async function fuzz(): Promise<number> {
  const seed = number('seed', values.seed, Math.floor(Date.now() / 1000) % 1_000_000);
  const extra = values.subjects === undefined ? null : pathToFileURL(values.subjects).href;
  const subjects = await loadSubjects(extra);
  const only = values.only ?? null;
  if (only !== null && !(only in subjects.properties) && !(only in subjects.forms))
    throw new RangeError(`--only: no function and no form is called ${only}`);
  const properties = number('cases', values.cases, values.nightly ? 200_000 : 5000);
  const forms = number('hostile', values.hostile, values.nightly ? 1_000_000 : 4 * properties);
  const alone = values.case === undefined ? null : number('case', values.case, 0);
  const jobs = planJobs(subjects, { properties, forms }, only);
  const tally = createTally();
  if (alone !== null && only !== null) {
    const part: Job['part'] = only in subjects.properties ? 'properties' : 'forms';
    const job: Job = { part, name: only, from: alone, to: alone + 1 };
    await run([job]);
    // A case that hung or took all memory is not run again here.
    const safe = tally.failures.every(({ details }) => details !== '');
    console.log(`made from ${caseText(subjects, job, seed, safe && tally.failures.length > 0)}`);
  } else await run(jobs);

  for (const failure of tally.failures.slice(0, 100)) {
    console.log(`\nFAILED ${failure.name}, case ${failure.index}: ${failure.message}`);
    if (failure.details !== '') console.log(failure.details);
    console.log(`  ${repeatCommand(failure, seed, values.subjects ?? null)}`);
  }
  for (const line of tally.lines()) console.log(line);
  const failed = tally.failedCases();
  console.log(`seed ${seed}: ${failed === 0 ? 'no case failed' : `${failed} cases failed`}`);
  return failed === 0 ? 0 : 1;

  async function run(list: readonly Job[]): Promise<void> {
    const word = setInterval(
      () => console.error(`${tally.cases()} cases, ${tally.failedCases()} failed`),
      60_000,
    );
    await runJobs(list, {
      seed,
      extra,
      threads: Math.min(list.length, number('threads', values.threads, Math.min(4, availableParallelism()))),
      timeLimitMs: number('time-limit', values['time-limit'], 10_000),
      onResult: tally.add,
    });
    clearInterval(word);
  }
}

function number(name: string, text: string | undefined, otherwise: number): number {
  if (text === undefined) return otherwise;
  const value = Number(text);
  if (!Number.isSafeInteger(value) || value < 0)
    throw new RangeError(`--${name} must be a whole number; received ${text}`);
  return value;
}
