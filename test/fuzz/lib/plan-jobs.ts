import type { Job } from './job.js';
import type { Subjects } from './subjects.js';

/** How many cases of each part. */
export interface CaseCounts {
  readonly properties: number;
  readonly forms: number;
}

/** Cases of one job at most: so many that threads are kept busy, so few that little is run twice where one is lost. */
const MOST_IN_JOB = { properties: 100, forms: 1000 };

/** Shares cases out by weight, at least one each; expensive subjects first, so that no thread is left alone with one at the end. */
export function planJobs(subjects: Subjects, counts: CaseCounts, only: string | null): readonly Job[] {
  return [...planPart('properties', subjects, counts, only), ...planPart('forms', subjects, counts, only)];
}

function planPart(
  part: Job['part'],
  subjects: Subjects,
  counts: CaseCounts,
  only: string | null,
): readonly Job[] {
  const all = Object.entries(subjects[part]).map(([name, { weight = 1 }]) => ({ name, weight }));
  const chosen = all.filter(({ name }) => only === null || name === only);
  const total = chosen.reduce((sum, { weight }) => sum + weight, 0);
  let given = 0;
  let passed = 0;
  const shares = chosen.map(({ name, weight }) => {
    passed += weight;
    // Rounded on the running sum, so that the counts add up.
    const count = Math.max(1, Math.round((counts[part] * passed) / total) - given);
    given += count;
    return { name, count, weight };
  });
  shares.sort((a, b) => a.weight - b.weight);
  return shares.flatMap(({ name, count }) => {
    const jobs: Job[] = [];
    for (let from = 0; from < count; from += MOST_IN_JOB[part])
      jobs.push({ part, name, from, to: Math.min(from + MOST_IN_JOB[part], count) });
    return jobs;
  });
}
