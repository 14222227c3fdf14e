import type { NoteProblem } from './parse-json.js';
import { MOST_CHARACTERS_OF_REGION, type TextLine, textLines } from './text-lines.js';

/** One block of a WebVTT file: a cue, or a comment, style or region definition. */
export interface WebVttBlock {
  /** The line with the times of a cue; undefined for any other block. */
  readonly times: TextLine | undefined;
  /** The first line of the block. */
  readonly line: number;
  /** The lines of a cue below its times, or all lines of another block. */
  readonly body: readonly string[];
}

/** True: the text begins as a WebVTT file must (W3C, WebVTT, section 6.1). */
export function isWebVtt(text: string): boolean {
  return /^\uFEFF?WEBVTT(?:$|[ \t\r\n])/.test(text.slice(0, 8));
}

/**
 * The blocks of a WebVTT file, one at a time, parted as W3C, WebVTT, section 6.1, says: by blank lines, and by an arrow, which
 * on the first or second line of a block makes it a cue and further down begins the next one. The header is left out. A block
 * that is too long to be a region ends the file with a problem.
 */
export function* webVttBlocks(text: string, note: NoteProblem): Generator<WebVttBlock, undefined> {
  let inHeader = true;
  let block: (WebVttBlock & { body: string[]; characters: number }) | undefined;
  for (const { number, text: written } of textLines(text, note)) {
    if (number === 1) continue;
    const line = written.replaceAll('\0', '\uFFFD');
    const isArrow = line.includes('-->');
    if (inHeader && !isArrow && line !== '') continue;
    inHeader = false;
    if (isArrow) {
      if (block !== undefined && (block.times !== undefined || block.body.length > 1)) {
        yield block;
        block = undefined;
      }
      // What stood above the arrow is the identifier of the cue.
      const start: number = block?.line ?? number;
      block = { times: { number, text: line }, line: start, body: [], characters: 0 };
    } else if (line !== '') {
      block ??= { times: undefined, line: number, body: [], characters: 0 };
      block.body.push(line);
      block.characters += line.length + 1;
      if (block.characters <= MOST_CHARACTERS_OF_REGION + 1) continue;
      note(
        `line ${block.line}`,
        `must have at most ${MOST_CHARACTERS_OF_REGION} characters in its block`,
        'more',
      );
      return undefined;
    } else if (block !== undefined) {
      yield block;
      block = undefined;
    }
  }
  if (block !== undefined) yield block;
  return undefined;
}
