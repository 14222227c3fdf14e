import type { Chain } from '../forecast/chain.js';
import { visitChainBreaches } from '../forecast/chain-rules.js';
import { rangeError, typeError } from '../signal/check.js';
import { CHAIN_FORMAT, CHAIN_FORMAT_VERSION } from './chain-format.js';

/**
 * A chain as the text of a chain file: JSON (RFC 8259), two spaces a level, fields in the order that the chain has
 * them, a line feed at the end. `chainFromJson` gives an equal chain back; −0 becomes 0.
 *
 * @param chain A chain; it is checked, so that what is written can be read.
 * @returns The text, to be stored as UTF-8 without a byte-order mark.
 * @throws TypeError or RangeError where the chain breaks a rule; the message names stage and field.
 *
 * Source of the format of numbers and text: T. Bray (ed.), "The JavaScript Object Notation (JSON) Data Interchange
 * Format", RFC 8259, 2017.
 *
 * @example
 * import { chainFromJson, chainToJson } from 'lenition/exchange';
 * const text = chainToJson({ name: 'as it is', stages: [] });
 * const result = chainFromJson(text);
 * result.ok && result.value.name; // => 'as it is'
 */
export function chainToJson(chain: Chain): string {
  visitChainBreaches(chain, 'chain', (path, rule, received, wrongKind) => {
    throw (wrongKind ? typeError : rangeError)('chainToJson', path, rule, received);
  });
  const { name, stages } = chain;
  return `${JSON.stringify({ format: CHAIN_FORMAT, version: CHAIN_FORMAT_VERSION, name, stages }, null, 2)}\n`;
}
