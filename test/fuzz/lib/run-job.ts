import { type Failure, type Job, type JobResult, MOST_FAILURES_KEPT } from './job.js';
import { caseSeed } from './random-tools.js';
import { runFormCase, shownCase } from './run-form-case.js';
import { drawnCase, runPropertyCase, smallestCase } from './run-property-case.js';
import type { Subjects } from './subjects.js';

/** Runs the cases of a job one after another; `atCase` hears the number of each before it begins. */
export function runJob(
  { properties, forms }: Subjects,
  job: Job,
  seed: number,
  atCase: (index: number) => void,
): JobResult {
  const endings: Record<string, number> = {};
  const failures: Failure[] = [];
  let longestMs = 0;
  for (let index = job.from; index < job.to; index++) {
    atCase(index);
    const began = performance.now();
    const own = caseSeed(seed, job.name, index);
    let ending: string;
    try {
      ending =
        job.part === 'properties'
          ? runPropertyCase(job.name, properties[job.name]!, own)
          : runFormCase(forms[job.name]!, own);
    } catch (error) {
      ending = 'failed';
      if (failures.length < MOST_FAILURES_KEPT) failures.push(failureOf(job, index, error));
    }
    endings[ending] = (endings[ending] ?? 0) + 1;
    longestMs = Math.max(longestMs, performance.now() - began);
  }
  return { job, endings, failures, longestMs };
}

function failureOf({ part, name }: Job, index: number, error: unknown): Failure {
  const message = error instanceof Error ? error.message : String(error);
  const stack =
    error instanceof Error ? (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line)) : [];
  return { part, name, index, message, details: stack.slice(0, 6).join('\n') };
}

/** What a case was made from, for a person: the input, or the smallest arguments found where running it again is safe. */
export function caseText({ properties, forms }: Subjects, job: Job, seed: number, safe: boolean): string {
  const own = caseSeed(seed, job.name, job.from);
  if (job.part === 'forms') return shownCase(forms[job.name]!, own);
  const property = properties[job.name]!;
  return safe ? smallestCase(job.name, property, own) : drawnCase(property, own);
}
