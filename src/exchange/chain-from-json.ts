import type { Chain, Stage } from '../forecast/chain.js';
import { visitChainBreaches } from '../forecast/chain-rules.js';
import { describe } from '../signal/check.js';
import {
  CHAIN_FORMAT,
  CHAIN_FORMAT_VERSION,
  MOST_CHAIN_SHAPE,
  MOST_CHARACTERS_IN_CHAIN_FILE,
} from './chain-format.js';
import { brokenShape } from './json-shape.js';
import type { Problem, Result } from './result.js';

/** Most problems that one reading of a chain reports. */
const MOST_PROBLEMS = 100;

/**
 * A chain from the text of a chain file. Never throws, and takes time linear in the length of the text. Reports every
 * problem, up to 100: text that is not JSON, an unknown format or version, a missing field, a field of the wrong type or
 * value, and a field that version 1 does not know (such files are written by hand, and a misspelt setting must not
 * silently do nothing). Whether frequencies lie under half the sample rate shows only when the chain is run: here they
 * must lie under 96,000 Hz.
 *
 * The file: `{ "format": "lenition.chain", "version": 1, "name": "…", "stages": [ … ] }`; each stage is the `Stage` of
 * `lenition/forecast` as JSON, field by field, and what may be left out there may be left out here.
 *
 * @param text The text of the file; anything but a string is a problem, not an error. At most 2^20 characters long. One
 * byte-order mark at the start is passed over.
 * @returns The chain, frozen all the way down, or the problems with their paths.
 *
 * Source: T. Bray (ed.), "The JavaScript Object Notation (JSON) Data Interchange Format", RFC 8259, 2017.
 *
 * @example
 * import { chainFromJson } from 'lenition/exchange';
 * const compressor = { kind: 'compressor', thresholdDb: -20, ratio: 0.5, attackSeconds: 0.01, releaseSeconds: 0.1 };
 * const text = JSON.stringify({ format: 'lenition.chain', version: 1, stages: [compressor] });
 * const result = chainFromJson(text);
 * result.ok ? [] : result.problems.map(({ path, rule }) => `${path} ${rule}`); // => ['$.stages[0].ratio must lie within [1, 1000]']
 */
export function chainFromJson(text: unknown): Result<Chain> {
  if (typeof text !== 'string') return problem('$', 'must be a string', text === null ? 'null' : typeof text);
  if (text.length > MOST_CHARACTERS_IN_CHAIN_FILE)
    return problem(
      '$',
      `must be at most ${MOST_CHARACTERS_IN_CHAIN_FILE} characters long`,
      String(text.length),
    );
  const broken = brokenShape(text, MOST_CHAIN_SHAPE);
  if (broken !== undefined)
    return problem('$', `must keep to the most ${broken} (${MOST_CHAIN_SHAPE[broken]})`, 'more');
  let data: unknown;
  try {
    data = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text);
  } catch (error) {
    return problem(
      '$',
      'must be JSON text (RFC 8259)',
      error instanceof Error ? error.message : 'broken text',
    );
  }
  return readData(data);
}

function readData(data: unknown): Result<Chain> {
  if (typeof data !== 'object' || data === null || Array.isArray(data))
    return problem('$', 'must be an object', describe(data));
  const { format, version } = data as Partial<Record<'format' | 'version', unknown>>;
  // Another format or version has other rules: applying ours would only report noise.
  if (format !== CHAIN_FORMAT) return problem('$.format', `must be "${CHAIN_FORMAT}"`, describe(format));
  if (version !== CHAIN_FORMAT_VERSION)
    return problem('$.version', `must be ${CHAIN_FORMAT_VERSION}`, describe(version));
  const problems: Problem[] = [];
  const report = (path: string, rule: string, received: unknown): void => {
    if (problems.length < MOST_PROBLEMS) problems.push(newProblem(path, rule, describe(received)));
  };
  visitChainBreaches(data, '$', report, undefined, ['format', 'version']);
  if (problems.length > 0) return Object.freeze({ ok: false, problems: Object.freeze(problems) });
  const { name, stages } = data as unknown as Chain;
  const value: Chain = { ...(name === undefined ? {} : { name }), stages: stages.map(frozenStage) };
  return Object.freeze({ ok: true, value: Object.freeze({ ...value, stages: Object.freeze(value.stages) }) });
}

/** Every field has been judged by name, so a copy of the own fields holds nothing else. */
function frozenStage(stage: Stage): Stage {
  const copy = { ...stage };
  for (const value of Object.values(copy)) {
    if (!Array.isArray(value)) continue;
    value.forEach(Object.freeze);
    Object.freeze(value);
  }
  return Object.freeze(copy);
}

function problem(path: string, rule: string, received: string): Result<never> {
  return Object.freeze({ ok: false, problems: Object.freeze([newProblem(path, rule, received)]) });
}

function newProblem(path: string, rule: string, received: string): Problem {
  return Object.freeze({
    path,
    rule,
    received: received.length > 120 ? `${received.slice(0, 119)}…` : received,
  });
}
