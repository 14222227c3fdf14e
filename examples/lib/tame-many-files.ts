import { Piscina } from 'piscina';
import type { OutputPlan } from './output-plan.js';
import type { Result } from './result.js';
import { systemProblem } from './system-problem.js';
import type { FileJob, FileReport } from './tame-one-file.js';

/**
 * Tames files on several threads at a time, each to where its plan says; results in the order of the files. What goes wrong with one, a thread that
 * breaks down included, becomes its result and costs the others nothing.
 */
export async function tameManyFiles(
  files: readonly string[],
  plans: readonly Result<OutputPlan>[],
  options: {
    readonly gainDb: number;
    readonly threads: number;
    readonly progress: (file: string, result: Result<FileReport>) => void;
  },
): Promise<readonly Result<FileReport>[]> {
  const { gainDb, threads, progress } = options;
  const pool = new Piscina<FileJob, Result<FileReport>>({
    filename: new URL('./tame-thread.mjs', import.meta.url).href,
    minThreads: 1,
    maxThreads: Math.max(1, Math.min(threads, files.length)),
  });
  const tame = async (file: string, plan: Result<OutputPlan>): Promise<Result<FileReport>> => {
    if (!plan.ok) return plan;
    try {
      return await pool.run({ file, plan: plan.value, gainDb });
    } catch (error) {
      return { ok: false, problems: [systemProblem('file', error)] };
    }
  };
  try {
    return await Promise.all(
      files.map(async (file, i) => {
        const result = await tame(file, plans[i] as Result<OutputPlan>);
        progress(file, result);
        return result;
      }),
    );
  } finally {
    await pool.destroy();
  }
}
