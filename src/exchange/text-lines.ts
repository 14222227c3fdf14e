import type { NoteProblem } from './parse-json.js';
import { MOST_REGIONS_IN_FILE } from './region-format.js';

/** One line of a text file. */
export interface TextLine {
  /** Its number, from 1. */
  readonly number: number;
  /** What stands on it, without the line end. */
  readonly text: string;
}

/** Most characters for one region in a text form, where escapes make some of them six: labels of a novel's length. */
export const MOST_CHARACTERS_OF_REGION: number = 2 ** 20;

/** Most lines of a text form: up to six for each of the most regions, and as many again for comments. */
const MOST_LINES = 12 * MOST_REGIONS_IN_FILE;

/**
 * The lines of a text, one at a time, ended by LF, CR LF or CR; a byte-order mark at the start is passed over, and a line
 * end at the very end begins no further line. Never all at once, and with limits on both length and number, where it notes a
 * problem and ends: a file of nothing but line ends or escapes could use up the memory, which no try/catch survives.
 */
export function* textLines(text: string, note: NoteProblem): Generator<TextLine, undefined> {
  const lineEnd = /\r\n?|\n/g;
  let at = text.startsWith('\uFEFF') ? 1 : 0;
  for (let number = 1; at < text.length; number++) {
    lineEnd.lastIndex = at;
    const end = lineEnd.exec(text);
    const length = (end?.index ?? text.length) - at;
    if (number > MOST_LINES || length > MOST_CHARACTERS_OF_REGION) {
      const rule =
        number > MOST_LINES
          ? `must be the last of at most ${MOST_LINES} lines`
          : `must be at most ${MOST_CHARACTERS_OF_REGION} characters long`;
      note(`line ${number}`, rule, 'more');
      return undefined;
    }
    yield { number, text: text.slice(at, at + length) };
    at = end === null ? text.length : lineEnd.lastIndex;
  }
  return undefined;
}

/** The first line of a text; empty where there is none or it is too long. */
export function firstLine(text: string): TextLine {
  return textLines(text, () => undefined).next().value ?? { number: 1, text: '' };
}
