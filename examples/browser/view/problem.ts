import { element, setText } from './dom.js';

/** Most lines of a message. */
const MOST_LINES = 5;

/** Says what could not be done and why; it stays until it is closed. */
export function showProblems(what: string, lines: readonly string[]): void {
  const more = lines.length > MOST_LINES ? [`and ${lines.length - MOST_LINES} more`] : [];
  setText(
    element('problem-text', HTMLParagraphElement),
    `Could not ${what}: ${[...lines.slice(0, MOST_LINES), ...more].join('\n')}`,
  );
  element('problem', HTMLDivElement).hidden = false;
}

/** Takes the message away. */
export function closeProblem(): void {
  element('problem', HTMLDivElement).hidden = true;
}
