/**
 * Times of a search out of a browser's trace (Trace Event Format: `ts` and `dur` in microseconds of wall clock, `tdur` of
 * processor time of the thread; from memory). A machine that does other work stretches the clock, not the processor time.
 */

/** Trace categories that are needed. */
export const TRACE_CATEGORIES: readonly string[] = ['toplevel', 'blink.user_timing', '__metadata'];

/** What a search cost, in seconds and milliseconds. */
export interface SearchTimes {
  /** From the start of the search to its regions on the page, by the clock. */
  readonly seconds: number;
  /** Processor time of the thread that searched, until its regions were on the page. */
  readonly processorSeconds: number;
  /** The same tasks by the clock: as much more as the thread had to wait for a core. */
  readonly taskSeconds: number;
  /** The longest task of the main thread by the clock, and by processor time, in milliseconds. */
  readonly longestTaskMs: number;
  readonly longestProcessorMs: number;
}

interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly dur?: number;
  readonly tdur?: number;
  readonly args?: { readonly name?: string };
}

/** Reads a trace in which the page marked `phase finding` and `phase ready`; throws where it did not. */
export function searchTimes(trace: Buffer): SearchTimes {
  const { traceEvents } = JSON.parse(trace.toString('utf8')) as {
    readonly traceEvents: readonly TraceEvent[];
  };
  const mark = (name: string): number => {
    const found = traceEvents.filter((event) => event.name === name).at(-1);
    if (found === undefined) throw new Error(`the trace has no mark "${name}"`);
    return found.ts;
  };
  const begun = mark('phase finding');
  const ended = mark('phase ready');
  const threads = new Map<string, string>();
  for (const { name, pid, tid, args } of traceEvents)
    if (name === 'thread_name') threads.set(`${pid} ${tid}`, args?.name ?? '');
  const tasks = traceEvents.filter(({ name, ph }) => ph === 'X' && name.endsWith('RunTask'));
  const onThread = (thread: string) =>
    tasks.filter(({ pid, tid }) => threads.get(`${pid} ${tid}`) === thread);

  const during = onThread('DedicatedWorker thread').filter(({ ts }) => ts >= begun && ts <= ended);
  // One worker searches, the other draws: the search is the longer work by far.
  const search = [...new Set(during.map(({ tid }) => tid))]
    .map((thread) => during.filter(({ tid }) => tid === thread))
    .map((events) => ({ processor: sum(events, 'tdur'), clock: sum(events, 'dur') }))
    .sort((a, b) => b.processor - a.processor)[0];
  const main = onThread('CrRendererMain');
  if (search === undefined || main.length === 0) throw new Error('the trace has no tasks');
  return {
    seconds: (ended - begun) / 1e6,
    processorSeconds: search.processor / 1e6,
    taskSeconds: search.clock / 1e6,
    longestTaskMs: Math.max(...main.map(({ dur = 0 }) => dur)) / 1e3,
    longestProcessorMs: Math.max(...main.map(({ tdur = 0 }) => tdur)) / 1e3,
  };
}

function sum(events: readonly TraceEvent[], field: 'dur' | 'tdur'): number {
  return events.reduce((total, event) => total + (event[field] ?? 0), 0);
}
