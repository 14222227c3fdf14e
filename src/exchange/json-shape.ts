/** What a JSON text may hold at most before it is worth parsing. */
export interface JsonShape {
  /** Most objects and arrays open at once. */
  readonly depth: number;
  /** Most objects and arrays altogether. */
  readonly containers: number;
}

/**
 * Which limit a JSON text breaks, or undefined: one walk over the characters that skips strings and builds nothing.
 * Parsers take text that is small on disk and huge in memory: a million nested arrays took seconds, and a file of
 * nothing but `{},` could use up the memory of the process, which no try/catch survives. What is not JSON may pass.
 */
export function brokenShape(text: string, most: JsonShape): keyof JsonShape | undefined {
  let depth = 0;
  let containers = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === QUOTE) {
      i = endOfString(text, i);
    } else if (code === OPEN_BRACE || code === OPEN_BRACKET) {
      depth++;
      containers++;
      if (depth > most.depth) return 'depth';
      if (containers > most.containers) return 'containers';
    } else if (code === CLOSE_BRACE || code === CLOSE_BRACKET) {
      depth--;
    }
  }
  return undefined;
}

/** Index of the quotation mark that ends the string begun at `start`; the text's length where none does. */
function endOfString(text: string, start: number): number {
  let i = start + 1;
  while (i < text.length) {
    const code = text.charCodeAt(i);
    if (code === QUOTE) return i;
    i += code === BACKSLASH ? 2 : 1;
  }
  return i;
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const OPEN_BRACKET = 0x5b;
const CLOSE_BRACKET = 0x5d;
const OPEN_BRACE = 0x7b;
const CLOSE_BRACE = 0x7d;
