/** One record of a CSV text. */
export interface CsvRecord {
  /** Line on which it begins, from 1. */
  readonly line: number;
  readonly fields: readonly string[];
  /** The rule that it breaks, if any; its fields then mean nothing. */
  readonly broken?: string;
}

/**
 * The records of a CSV text as RFC 4180 has them: fields between commas, a field in quotation marks may hold commas, line ends and (doubled)
 * quotation marks, the last line need not end. More widely than there, a line may end in LF alone, and empty lines are passed over. A record with more than
 * `mostFields` is broken, so that a line of nothing but commas takes no memory.
 */
export function* csvRecords(text: string, mostFields: number): Generator<CsvRecord> {
  let at = text.startsWith('\uFEFF') ? 1 : 0;
  let line = 1;
  while (at < text.length) {
    const begin = line;
    const fields: string[] = [];
    let broken: string | undefined;
    for (;;) {
      const field = readField(text, at);
      line += field.lines;
      if (fields.length < mostFields) fields.push(field.text);
      else broken ??= `must have at most ${mostFields} fields`;
      broken ??= field.broken;
      at = field.end;
      if (text[at] !== ',') break;
      at++;
    }
    const empty = fields.length === 1 && fields[0] === '';
    if (broken !== undefined) yield { line: begin, fields, broken };
    else if (!empty) yield { line: begin, fields };
    // At a line's end, or at that of the text.
    at += text.startsWith('\r\n', at) ? 2 : 1;
    line++;
  }
}

interface CsvField {
  readonly text: string;
  /** Index of the comma or line end behind it, or the length of the text. */
  readonly end: number;
  /** Line ends within it. */
  readonly lines: number;
  readonly broken?: string;
}

function readField(text: string, start: number): CsvField {
  if (text[start] !== '"') {
    const end = fieldEnd(text, start);
    const bare = text.slice(start, end);
    const broken = bare.includes('"') ? { broken: 'must be quoted as a whole or not at all' } : {};
    return { text: bare, end, lines: 0, ...broken };
  }
  let close = text.indexOf('"', start + 1);
  while (close >= 0 && text[close + 1] === '"') close = text.indexOf('"', close + 2);
  if (close < 0)
    return { text: '', end: text.length, lines: 0, broken: 'must end each quoted field with a mark' };
  const quoted = text.slice(start + 1, close).replace(/""/g, '"');
  const end = fieldEnd(text, close + 1);
  const broken = end > close + 1 ? { broken: 'must have nothing between a quoted field and a comma' } : {};
  return { text: quoted, end, lines: quoted.split('\n').length - 1, ...broken };
}

function fieldEnd(text: string, start: number): number {
  let end = start;
  while (end < text.length && text[end] !== ',' && text[end] !== '\n' && !text.startsWith('\r\n', end)) end++;
  return end;
}
