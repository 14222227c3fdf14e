import { parentPort, workerData } from 'node:worker_threads';
import type { Job, ThreadData } from './job.js';
import { runJob } from './run-job.js';
import { loadSubjects } from './subjects.js';

const { seed, progress, extra } = workerData as ThreadData;
const counters = new Int32Array(progress);
const subjects = await loadSubjects(extra);

parentPort?.on('message', (job: Job) => {
  const result = runJob(subjects, job, seed, (index) => {
    Atomics.store(counters, 0, index);
    Atomics.add(counters, 1, 1);
  });
  parentPort?.postMessage(result);
});
parentPort?.postMessage('ready');
