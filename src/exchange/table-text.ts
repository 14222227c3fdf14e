/**
 * A text as a field of a table, which may hold no tab and no line end (IANA, text/tab-separated-values). `\t`, `\n`, `\r`,
 * `\\` and `\uXXXX` stand for a tab, line ends, a backslash and any other unit that could not stay: controls, what Unicode
 * counts as line ends, halves of surrogate pairs, which UTF-8 cannot carry, and at the start of a field the characters by
 * which spreadsheets tell quotes and formulas, so that no label runs as one (CWE-1236).
 */
export function escapeField(text: string): string {
  return text
    .replace(/[\\\p{Cc}\p{Cs}\u2028\u2029\uFEFF]/gu, escapeUnit)
    .replace(/^[=+\-@"#']/, (unit) => `\\u${hex(unit)}`);
}

function escapeUnit(unit: string): string {
  return ESCAPES.get(unit) ?? `\\u${hex(unit)}`;
}

function hex(unit: string): string {
  return unit.charCodeAt(0).toString(16).padStart(4, '0');
}

/** The text that a field stands for; undefined where a backslash begins none of the known escapes. */
export function unescapeField(field: string): string | undefined {
  let sound = true;
  const text = field.replace(/\\(u[0-9a-fA-F]{4}|.?)/gs, (_, name: string) => {
    if (name.length === 5) return String.fromCharCode(Number.parseInt(name.slice(1), 16));
    const unit = UNITS.get(name);
    sound &&= unit !== undefined;
    return unit ?? '';
  });
  return sound ? text : undefined;
}

/** A field as it was before a spreadsheet put it into quotes on saving: those that are written never begin with one. */
export function unquoteField(field: string): string {
  if (field.length < 2 || !field.startsWith('"') || !field.endsWith('"')) return field;
  const inner = field.slice(1, -1);
  // No regular expression over the whole field: a long one would overflow its stack.
  return inner.replaceAll('""', '').includes('"') ? field : inner.replaceAll('""', '"');
}

const UNITS: ReadonlyMap<string, string> = new Map([
  ['t', '\t'],
  ['n', '\n'],
  ['r', '\r'],
  ['\\', '\\'],
]);

const ESCAPES: ReadonlyMap<string, string> = new Map([...UNITS].map(([name, unit]) => [unit, `\\${name}`]));
