import { brokenShape } from './json-shape.js';
import { MOST_CHARACTERS_IN_FILE, MOST_JSON_SHAPE } from './region-format.js';
import type { Problem, Result } from './result.js';

/** Most problems that one reading reports; it stops there. */
export const MOST_PROBLEMS = 100;

/**
 * What a JSON text holds, or why it is not worth parsing: no text, too long, too deep, too many objects, no JSON. One
 * byte-order mark at the start is passed over.
 */
export function parseJson(text: unknown): Result<unknown> {
  if (typeof text !== 'string')
    return oneProblem('$', 'must be a string', text === null ? 'null' : typeof text);
  if (text.length > MOST_CHARACTERS_IN_FILE)
    return oneProblem('$', `must be at most ${MOST_CHARACTERS_IN_FILE} characters long`, String(text.length));
  const broken = brokenShape(text, MOST_JSON_SHAPE);
  if (broken !== undefined) return oneProblem('$', SHAPE_RULES[broken], `more, in ${text.length} characters`);
  try {
    return { ok: true, value: JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text) };
  } catch (error) {
    const received = error instanceof Error ? error.message : 'broken text';
    return oneProblem('$', 'must be JSON text (RFC 8259)', received);
  }
}

const SHAPE_RULES = {
  depth: `must nest at most ${MOST_JSON_SHAPE.depth} objects and arrays`,
  containers: `must hold at most ${MOST_JSON_SHAPE.containers} objects and arrays`,
} as const;

/** A failed reading with a single problem. */
export function oneProblem(path: string, rule: string, received: string): Result<never> {
  return Object.freeze({ ok: false, problems: Object.freeze([newProblem(path, rule, received)]) });
}

/** A problem; what was received is cut to a short line. */
export function newProblem(path: string, rule: string, received: string): Problem {
  return Object.freeze({
    path,
    rule,
    received: received.length > 120 ? `${received.slice(0, 119)}…` : received,
  });
}

/** Where a reader notes what is wrong, until there is enough of it. */
export type NoteProblem = (path: string, rule: string, received: string) => void;

/**
 * Runs a reader that notes problems and returns the value, or undefined where there were any. It is stopped at
 * MOST_PROBLEMS.
 */
export function collectProblems<T>(read: (note: NoteProblem) => T | undefined): Result<T> {
  const problems: Problem[] = [];
  try {
    const value = read((path, rule, received) => {
      problems.push(newProblem(path, rule, received));
      if (problems.length >= MOST_PROBLEMS) throw ENOUGH;
    });
    if (value !== undefined && problems.length === 0) return Object.freeze({ ok: true, value });
  } catch (error) {
    if (error !== ENOUGH) throw error;
  }
  return Object.freeze({ ok: false, problems: Object.freeze(problems) });
}

/** Thrown and caught in this file alone, to end a reading. */
const ENOUGH: unique symbol = Symbol('enough problems');
