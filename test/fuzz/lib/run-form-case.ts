import { getHeapStatistics } from 'node:v8';
import { must, shown } from './failure.js';
import type { Form, Reading } from './form.js';
import { randomFrom } from './random-tools.js';

/**
 * What one reading may allocate, as far as the heap shows it: this many bytes, and so many for each byte of the input. A problem or a region
 * takes a few hundred bytes, JSON's shortest value (`0,`) some 8 a byte, and what is thrown away in between counts too until it is collected.
 */
export const MOST_BYTES = 4_000_000;
export const MOST_BYTES_A_BYTE = 200;
/** MOST_PROBLEMS of the library, restated. */
const MOST_PROBLEMS = 100;

/** Runs the case of that seed. */
export function runFormCase(form: Form, seed: number): 'read' | 'refused' {
  const input = form.make(randomFrom(seed));
  const before = intrinsics();
  const heap = heapBytes();
  const reading = (form.read as (input: unknown) => Reading)(input);
  const grown = heapBytes() - heap;
  const most = MOST_BYTES + MOST_BYTES_A_BYTE * sizeOf(input);
  must(grown <= most, `one reading must allocate at most ${most} bytes for ${sizeOf(input)}`, grown);
  must(intrinsics() === before, 'the prototypes of the language must stay as they are');
  if (!reading.ok) {
    checkProblems(form, reading.problems);
    return 'refused';
  }
  (form.check as ((value: unknown, input: unknown) => void) | undefined)?.(reading.value, input);
  must(intrinsics() === before, 'the prototypes of the language must stay as they are');
  return 'read';
}

/** The input of a case on one line, for a person to read. */
export function shownCase(form: Form, seed: number): string {
  const input = form.make(randomFrom(seed));
  return shown(ArrayBuffer.isView(input) ? Buffer.from(input as Uint8Array).toString('latin1') : input, 1500);
}

function checkProblems(form: Form, problems: Extract<Reading, { ok: false }>['problems']): void {
  must(
    problems.length > 0 && problems.length <= MOST_PROBLEMS,
    'a refusal must name 1 to 100 problems',
    problems.length,
  );
  for (const { path, rule, received } of problems) {
    must(form.path.test(path) && path.length <= 200, `a path must match ${form.path}`, path);
    must((form.rule ?? /^must /).test(rule) && rule.length <= 400, 'a rule must say what must be', rule);
    must(
      typeof received === 'string' && received.length <= 120,
      'what was received must be a short line',
      received,
    );
  }
}

function heapBytes(): number {
  const { used_heap_size, external_memory } = getHeapStatistics();
  return used_heap_size + external_memory;
}

/** Bytes of texts and arrays of bytes; values count as 10 kB, more than any of them holds. */
function sizeOf(input: unknown): number {
  if (typeof input === 'string') return input.length;
  return ArrayBuffer.isView(input) ? input.byteLength : 10_000;
}

const WATCHED: readonly object[] = [
  Object.prototype,
  Array.prototype,
  Function.prototype,
  String.prototype,
  Map.prototype,
];

/** What the prototypes hold, in short. */
function intrinsics(): string {
  let text = '';
  for (const watched of WATCHED) text += `${Reflect.ownKeys(watched).length} `;
  return text;
}
