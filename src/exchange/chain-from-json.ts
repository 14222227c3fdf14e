import type { Chain, Stage } from '../forecast/chain.js';
import { visitChainBreaches } from '../forecast/chain-rules.js';
import { describe } from '../signal/check.js';
import { atCurrentVersion } from './at-current-version.js';
import {
  CHAIN_FORMAT,
  CHAIN_FORMAT_VERSION,
  MOST_CHAIN_SHAPE,
  MOST_CHARACTERS_IN_CHAIN_FILE,
} from './chain-format.js';
import { CHAIN_MIGRATIONS, type FileKind } from './migrations.js';
import { collectProblems, type JsonLimits, type NoteProblem, parseJson } from './parse-json.js';
import type { Result } from './result.js';

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
  const parsed = parseJson(text, CHAIN_LIMITS);
  return parsed.ok ? collectProblems((note) => readChain(parsed.value, note)) : parsed;
}

const CHAIN_LIMITS: JsonLimits = { characters: MOST_CHARACTERS_IN_CHAIN_FILE, shape: MOST_CHAIN_SHAPE };

const CHAIN_FILE: FileKind = {
  format: CHAIN_FORMAT,
  version: CHAIN_FORMAT_VERSION,
  migrations: CHAIN_MIGRATIONS,
};

function readChain(data: unknown, note: NoteProblem): Chain | undefined {
  const current = atCurrentVersion(data, '$', CHAIN_FILE, note);
  if (current === undefined) return undefined;
  let sound = true;
  const report = (path: string, rule: string, received: unknown): void => {
    sound = false;
    note(path, rule, describe(received));
  };
  visitChainBreaches(current, '$', report, undefined, ['format', 'version']);
  if (!sound) return undefined;
  const { name, stages } = current as unknown as Chain;
  const value: Chain = { ...(name === undefined ? {} : { name }), stages: stages.map(frozenStage) };
  return Object.freeze({ ...value, stages: Object.freeze(value.stages) });
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
