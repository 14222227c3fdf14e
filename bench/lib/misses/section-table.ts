/** The first table under a heading of a Markdown text: its cells below the heading row, and the lines that it takes. */
export interface SectionTable {
  readonly rows: readonly (readonly string[])[];
  readonly firstLine: number;
  readonly endLine: number;
}

/** Finds the first table under `## heading` whose first column is called `column`. Throws where there is none. */
export function sectionTable(text: string, heading: string, column: string): SectionTable {
  const lines = text.split('\n');
  const start = lines.indexOf(`## ${heading}`);
  const next = lines.findIndex((line, at) => at > start && line.startsWith('## '));
  const end = next < 0 ? lines.length : next;
  const firstLine = lines.findIndex((line, at) => at > start && at < end && cellsOf(line)[0] === column);
  if (start < 0 || firstLine < 0) throw new Error(`no table with a column "${column}" under "## ${heading}"`);
  let endLine = firstLine;
  while (endLine < end && lines[endLine]?.startsWith('|')) endLine++;
  return { rows: lines.slice(firstLine + 2, endLine).map(cellsOf), firstLine, endLine };
}

/** The text with another table in the place of this one. */
export function withTable(text: string, { firstLine, endLine }: SectionTable, table: string): string {
  const lines = text.split('\n');
  return [...lines.slice(0, firstLine), table, ...lines.slice(endLine)].join('\n');
}

function cellsOf(line: string): readonly string[] {
  return line.startsWith('|')
    ? line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim())
    : [];
}
