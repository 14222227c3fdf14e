import { Worker } from 'node:worker_threads';
import type { Failure, Job, JobResult, ThreadData } from './job.js';

export interface RunOptions {
  readonly seed: number;
  readonly threads: number;
  /** Most milliseconds of one case. */
  readonly timeLimitMs: number;
  readonly extra: string | null;
  readonly onResult: (result: JobResult) => void;
}

/** Memory of one thread beyond which it is lost: twenty times what the largest case takes. */
const MOST_HEAP_MB = 768;
/** Arrays of numbers lie outside of that heap. All threads together stay under 1 GB where nothing is wrong. */
const MOST_PROCESS_BYTES = 4e9;
const LOOK_EVERY_MS = 200;

/**
 * Runs jobs in threads and watches each: one that stays at a case for longer than the limit is ended. A case that was ended is tried once more by
 * itself with three times the limit, since a machine may be busy or another thread may have taken the memory; if that is not enough either, it is reported and the job goes on behind it.
 */
export async function runJobs(jobs: readonly Job[], options: RunOptions): Promise<void> {
  const queue = [...jobs];
  await Promise.all(Array.from({ length: options.threads }, () => workThrough(queue, options)));
}

async function workThrough(queue: Job[], options: RunOptions): Promise<void> {
  let thread: Thread | undefined;
  for (let job = queue.shift(); job !== undefined; job = queue.shift()) {
    thread ??= await startThread(options);
    const outcome = await thread.run(job, options.timeLimitMs);
    if ('result' in outcome) {
      options.onResult(outcome.result);
      continue;
    }
    thread = undefined;
    const { index } = outcome;
    // What was done before is run once more: its counts were lost with the thread.
    if (index > job.from) queue.unshift({ ...job, to: index });
    if (index + 1 < job.to) queue.push({ ...job, from: index + 1 });
    const alone = { ...job, from: index, to: index + 1 };
    thread = await startThread(options);
    const again = await thread.run(alone, 3 * options.timeLimitMs);
    if ('result' in again) options.onResult(again.result);
    else {
      thread = undefined;
      options.onResult(lost(alone, again.reason));
    }
  }
  await thread?.end();
}

function lost(job: Job, reason: string): JobResult {
  const failure: Failure = { part: job.part, name: job.name, index: job.from, message: reason, details: '' };
  return { job, endings: { failed: 1 }, failures: [failure], longestMs: 0 };
}

type Outcome = { readonly result: JobResult } | { readonly index: number; readonly reason: string };

interface Thread {
  run(job: Job, timeLimitMs: number): Promise<Outcome>;
  end(): Promise<void>;
}

interface Clock {
  readonly wallMs: number;
  readonly processorMs: number;
}

function clock(): Clock {
  const { user, system } = process.cpuUsage();
  return { wallMs: performance.now(), processorMs: (user + system) / 1000 };
}

/**
 * Time since then, as far as the process was let run: on a machine that is busy with other work a case may take a minute by the clock and no time by
 * the processor. A case that waits for something and uses none at all ends after thirty times as long.
 */
function spentMs(since: Clock): number {
  const now = clock();
  const wallMs = now.wallMs - since.wallMs;
  return Math.max(Math.min(wallMs, now.processorMs - since.processorMs), wallMs / 30);
}

async function startThread({ seed, extra }: RunOptions): Promise<Thread> {
  const progress = new SharedArrayBuffer(8);
  const counters = new Int32Array(progress);
  const data: ThreadData = { seed, progress, extra };
  const worker = new Worker(new URL('./fuzz-thread.mjs', import.meta.url), {
    workerData: data,
    execArgv: [],
    resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB },
  });
  // Heard by whoever waits; the listeners themselves stay, since taking all of them off would stop the thread's messages too.
  let hear: (message: unknown) => void = () => undefined;
  let fail: (error: Error) => void = () => undefined;
  worker.on('message', (message) => hear(message));
  worker.on('error', (error) => fail(error as Error));
  await new Promise<void>((resolve, reject) => {
    hear = () => resolve();
    fail = reject;
  });
  return {
    end: async () => void (await worker.terminate()),
    run: (job, timeLimitMs) =>
      new Promise((resolve) => {
        let seen = Atomics.load(counters, 1);
        let since = clock();
        const lose = (reason: string): void => {
          clearInterval(watch);
          void worker.terminate().then(() => resolve({ index: Atomics.load(counters, 0), reason }));
        };
        const watch = setInterval(() => {
          const now = Atomics.load(counters, 1);
          if (now !== seen) {
            seen = now;
            since = clock();
          }
          if (process.memoryUsage.rss() > MOST_PROCESS_BYTES)
            lose(`the process must stay under ${MOST_PROCESS_BYTES} bytes`);
          else if (spentMs(since) > timeLimitMs) lose(`a case must end within ${timeLimitMs} ms`);
        }, LOOK_EVERY_MS);
        hear = (result) => {
          clearInterval(watch);
          resolve({ result: result as JobResult });
        };
        fail = (error) => lose(`the thread was lost: ${error.message}`);
        worker.postMessage(job);
      }),
  };
}
