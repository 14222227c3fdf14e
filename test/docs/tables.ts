/** The rows of the first table below a heading, without its head: cells as they are written. */
export function tableUnder(markdown: string, heading: string): readonly (readonly string[])[] {
  const lines = markdown.split('\n');
  const start = lines.findIndex((line) => /^#+ /.test(line) && line.replace(/^#+ /, '') === heading);
  if (start < 0) throw new Error(`no heading "${heading}"`);
  return tableFrom(lines.slice(start + 1));
}

/** The rows of the table that has such a column. */
export function tableWith(markdown: string, column: string): readonly (readonly string[])[] {
  const lines = markdown.split('\n');
  const start = lines.findIndex((line) => line.startsWith('|') && cellsOf(line).includes(column));
  if (start < 0) throw new Error(`no table with a column "${column}"`);
  return tableFrom(lines.slice(start));
}

/** What a cell says the default is: a number, a word, null, or numbers by name; what follows a semicolon or bracket is talk. */
export function defaultIn(cell: string): unknown {
  const text = cell.split(/;| \(/)[0]?.replaceAll('`', '').replaceAll('−', '-').trim() ?? '';
  const named = [...text.matchAll(/([a-z]+) ([\d.]+)(?:, |$)/gy)];
  if (named.length > 1) return Object.fromEntries(named.map(([, name, value]) => [name, Number(value)]));
  const plain = text.replace(/(\d),(\d{3})\b/g, '$1$2');
  if (/^-?\d+(\.\d+)?$/.test(plain)) return Number(plain);
  return text === 'null' ? null : text;
}

function tableFrom(lines: readonly string[]): readonly (readonly string[])[] {
  const first = lines.findIndex((line) => line.startsWith('|'));
  const end = lines.findIndex((line, index) => index > first && !line.startsWith('|'));
  if (first < 0) throw new Error('no table');
  return lines.slice(first + 2, end < 0 ? undefined : end).map(cellsOf);
}

function cellsOf(line: string): readonly string[] {
  return line
    .trim()
    .slice(1, -1)
    .split(/(?<!\\)\|/)
    .map((cell) => cell.trim().replaceAll('\\|', '|'));
}
