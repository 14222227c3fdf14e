import { rangeError } from '../signal/check.js';
import { MOST_CHARACTERS_IN_FILE } from './region-format.js';
import { MOST_CHARACTERS_OF_REGION } from './text-lines.js';

/**
 * The parts of a file, each ended by a line feed, as its text: two lines of head or more, then one part a region. A RangeError
 * where it would be too long to be read again.
 */
export function joinLines(functionName: string, head: readonly string[], regions: readonly string[]): string {
  let characters = head.join('\n').length + 1;
  for (let i = 0; i < regions.length; i++) {
    const { length } = regions[i] as string;
    if (length > MOST_CHARACTERS_OF_REGION)
      throw rangeError(
        functionName,
        `list.regions[${i}]`,
        `must give at most ${MOST_CHARACTERS_OF_REGION} characters`,
        length,
      );
    characters += length + 1;
  }
  // Counted before they are joined: a text beyond what the engine can hold could not even be measured.
  if (characters <= MOST_CHARACTERS_IN_FILE) return `${[...head, ...regions].join('\n')}\n`;
  throw rangeError(
    functionName,
    'list',
    `must give at most ${MOST_CHARACTERS_IN_FILE} characters`,
    characters,
  );
}
