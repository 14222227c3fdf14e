import { Worker } from 'node:worker_threads';
import type { TrainingClip } from './training-clip.js';
import type { TrainingJob, TrainingResult } from './training-job.js';
import type { TrainingOptions } from './training-options.js';

/** Threads that train. */
export interface TrainingPool {
  /** Does jobs, as many at a time as there are threads; results in the order of the jobs. Tells each as it is done, by its place. */
  run(
    jobs: readonly TrainingJob[],
    done?: (place: number, result: TrainingResult) => void,
  ): Promise<readonly TrainingResult[]>;
  close(): Promise<void>;
}

type Message = { readonly report: string } | { readonly result: TrainingResult };

/** Starts threads. Band powers and targets are shared with them, not copied. */
export function createTrainingPool(
  clips: readonly TrainingClip[],
  options: TrainingOptions,
  { workers, report }: { readonly workers: number; readonly report: (text: string) => void },
): TrainingPool {
  const threads = Array.from(
    { length: workers },
    () => new Worker(new URL('./training-thread.mjs', import.meta.url), { workerData: { clips, options } }),
  );
  return {
    async run(jobs, done = () => {}) {
      const results: TrainingResult[] = [];
      let next = 0;
      const work = async (thread: Worker): Promise<void> => {
        while (next < jobs.length) {
          const i = next++;
          const result = await doJob(thread, jobs[i] as TrainingJob, report);
          results[i] = result;
          done(i, result);
        }
      };
      await Promise.all(threads.map(work));
      return results;
    },
    async close() {
      await Promise.all(threads.map((thread) => thread.terminate()));
    },
  };
}

function doJob(thread: Worker, job: TrainingJob, report: (text: string) => void): Promise<TrainingResult> {
  return new Promise((resolve, reject) => {
    const hear = (message: Message): void => {
      if ('report' in message) {
        report(message.report);
        return;
      }
      thread.off('message', hear);
      thread.off('error', reject);
      resolve(message.result);
    };
    thread.on('message', hear);
    thread.once('error', reject);
    thread.postMessage(job);
  });
}
