/**
 * The number that a text spells as JSON does (RFC 8259, section 6; leading zeros and a plus sign are let pass); NaN for anything
 * else, so that every comparison with it fails. What is too large for a double is infinite.
 */
export function numberOrNaN(text: string): number {
  const isNumber = text.length <= MOST_DIGITS && /^[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?$/.test(text);
  return isNumber ? Number(text) : Number.NaN;
}

/** The same number, or the text itself where it spells none: the rules of regions then report it as it stood. Never NaN. */
export function numberFromText(text: string): number | string {
  const number = numberOrNaN(text);
  return Number.isNaN(number) ? text : number;
}

/** No double needs more than 767 significant digits, and none is written with more than 25. */
const MOST_DIGITS = 800;
