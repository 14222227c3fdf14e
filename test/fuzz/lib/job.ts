/** A stretch of cases of one function or one form. */
export interface Job {
  readonly part: 'properties' | 'forms';
  readonly name: string;
  /** First case. */
  readonly from: number;
  /** Behind the last case. */
  readonly to: number;
}

/** A case that broke a rule. */
export interface Failure {
  readonly part: Job['part'];
  readonly name: string;
  readonly index: number;
  readonly message: string;
  /** Where it was; empty where the thread was lost. */
  readonly details: string;
}

/** What came of a job, or of as much of it as was done. */
export interface JobResult {
  readonly job: Job;
  /** Endings and how often each came. */
  readonly endings: Readonly<Record<string, number>>;
  readonly failures: readonly Failure[];
  /** Longest case in milliseconds. */
  readonly longestMs: number;
}

/** What a thread is told when it starts. */
export interface ThreadData {
  readonly seed: number;
  /** Two numbers shared with the thread: the case that it is at, and a count that rises with each. */
  readonly progress: SharedArrayBuffer;
  /** The address of a module whose PROPERTIES and FORMS are tried in place of the library's. */
  readonly extra: string | null;
}

/** Failures of one function or form after which no more of them are kept. */
export const MOST_FAILURES_KEPT = 5;
