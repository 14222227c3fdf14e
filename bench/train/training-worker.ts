import { parentPort, workerData } from 'node:worker_threads';
import type { TrainingClip } from './training-clip.js';
import { runTrainingJob, type TrainingJob } from './training-job.js';
import type { TrainingOptions } from './training-options.js';

/** The thread side of `createTrainingPool`. */
const { clips, options } = workerData as {
  readonly clips: readonly TrainingClip[];
  readonly options: TrainingOptions;
};

parentPort?.on('message', (job: TrainingJob) => {
  const report = (text: string): void => parentPort?.postMessage({ report: text });
  parentPort?.postMessage({ result: runTrainingJob(clips, job, options, report) });
});
