import type { Failure, Job, JobResult } from './job.js';

/** Adds up results by name. */
export interface Tally {
  add(result: JobResult): void;
  readonly failures: readonly Failure[];
  cases(): number;
  failedCases(): number;
  lines(): readonly string[];
}

const HEADINGS: Readonly<Record<Job['part'], string>> = {
  properties: 'properties: cases a function (taken, refused)',
  forms: 'outside data: cases a form (read, refused)',
};
const ENDINGS: Readonly<Record<Job['part'], readonly string[]>> = {
  properties: ['taken', 'refused'],
  forms: ['read', 'refused'],
};

export function createTally(): Tally {
  const sums = new Map<string, { part: Job['part']; endings: Map<string, number>; longestMs: number }>();
  const failures: Failure[] = [];
  const totalOf = (endings: ReadonlyMap<string, number>): number =>
    [...endings.values()].reduce((a, b) => a + b, 0);
  return {
    failures,
    add({ job, endings, failures: more, longestMs }) {
      const key = `${job.part}/${job.name}`;
      const sum = sums.get(key) ?? { part: job.part, endings: new Map<string, number>(), longestMs: 0 };
      sums.set(key, sum);
      for (const [ending, n] of Object.entries(endings))
        sum.endings.set(ending, (sum.endings.get(ending) ?? 0) + n);
      sum.longestMs = Math.max(sum.longestMs, longestMs);
      failures.push(...more);
    },
    cases: () => [...sums.values()].reduce((all, { endings }) => all + totalOf(endings), 0),
    failedCases: () => [...sums.values()].reduce((all, { endings }) => all + (endings.get('failed') ?? 0), 0),
    lines() {
      const lines: string[] = [];
      let whole = 0;
      for (const part of ['properties', 'forms'] as const) {
        const rows = [...sums].filter(([, sum]) => sum.part === part).sort(([a], [b]) => (a < b ? -1 : 1));
        if (rows.length === 0) continue;
        let cases = 0;
        lines.push(`\n${HEADINGS[part]}`);
        for (const [key, { endings, longestMs }] of rows) {
          const total = totalOf(endings);
          cases += total;
          const counts = ENDINGS[part].map((ending) => endings.get(ending) ?? 0).join(', ');
          const failed = endings.get('failed') ?? 0;
          const name = key.slice(part.length + 1).padEnd(34);
          const fault = failed > 0 ? `  ${failed} FAILED` : '';
          lines.push(
            `${name} ${String(total).padStart(7)}  (${counts})  longest ${longestMs.toFixed(0)} ms${fault}`,
          );
        }
        lines.push(`${part}: ${cases} cases of ${rows.length}`);
        whole += cases;
      }
      lines.push(`\n${whole} cases in all`);
      return lines;
    },
  };
}

/** The command that repeats one case. */
export function repeatCommand({ name, index }: Failure, seed: number, extra: string | null): string {
  const quoted = /^[\w-]+$/.test(name) ? name : `'${name}'`;
  const more = extra === null ? '' : ` --subjects ${extra}`;
  return `npm run fuzz -- --only ${quoted} --seed ${seed} --case ${index}${more}`;
}
