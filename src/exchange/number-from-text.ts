/**
 * The number that a text spells as JSON does (RFC 8259, section 6; leading zeros are let pass), or the text itself where it
 * spells none: the rules of regions then report it as it stood. Never NaN; what is too large for a double is infinite.
 */
export function numberFromText(text: string): number | string {
  const isNumber = text.length <= MOST_DIGITS && /^-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?$/.test(text);
  return isNumber ? Number(text) : text;
}

/** No double needs more than 767 significant digits, and none is written with more than 25. */
const MOST_DIGITS = 800;
