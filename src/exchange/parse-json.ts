import { brokenShape, type JsonShape } from './json-shape.js';
import { MOST_CHARACTERS_IN_FILE, MOST_JSON_SHAPE } from './region-format.js';
import type { Problem, Result } from './result.js';

/** Most problems that one reading reports; it stops there. */
export const MOST_PROBLEMS = 100;

/** What a JSON text may hold at most. */
export interface JsonLimits {
  /** Most UTF-16 code units. */
  readonly characters: number;
  readonly shape: JsonShape;
}

const REGION_FILE_LIMITS: JsonLimits = { characters: MOST_CHARACTERS_IN_FILE, shape: MOST_JSON_SHAPE };

/**
 * What a JSON text holds, or why it is not worth parsing: no text, too long, too deep, too many objects, no JSON. One
 * byte-order mark at the start is passed over.
 */
export function parseJson(text: unknown, most: JsonLimits = REGION_FILE_LIMITS): Result<unknown> {
  const sound = readText(text, most.characters);
  if (!sound.ok) return sound;
  const { value } = sound;
  const broken = brokenShape(value, most.shape);
  if (broken !== undefined) {
    const rule = `must ${broken === 'depth' ? 'nest' : 'hold'} at most ${most.shape[broken]} objects and arrays`;
    return oneProblem('$', rule, `more, in ${value.length} characters`);
  }
  try {
    return { ok: true, value: JSON.parse(value.startsWith('\uFEFF') ? value.slice(1) : value) };
  } catch (error) {
    const received = error instanceof Error ? error.message : 'broken text';
    return oneProblem('$', 'must be JSON text (RFC 8259)', received);
  }
}

/** The text of a file, or why it is none that will be read. */
export function readText(text: unknown, mostCharacters: number): Result<string> {
  if (typeof text !== 'string')
    return oneProblem('$', 'must be a string', text === null ? 'null' : typeof text);
  if (text.length > mostCharacters)
    return oneProblem('$', `must be at most ${mostCharacters} characters long`, String(text.length));
  return { ok: true, value: text };
}

/** A failed reading with a single problem. */
export function oneProblem(path: string, rule: string, received: string): Result<never> {
  return Object.freeze({ ok: false, problems: Object.freeze([newProblem(path, rule, received)]) });
}

/** A problem; what was received is cut to a short line. */
function newProblem(path: string, rule: string, received: string): Problem {
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
