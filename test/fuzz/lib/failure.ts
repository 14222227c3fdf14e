/** A rule that a case broke. */
export class Breach extends Error {}

/** Ends a case unless a rule holds. */
export function must(holds: boolean, rule: string, received?: unknown): asserts holds {
  if (!holds) throw new Breach(received === undefined ? rule : `${rule}; received ${shown(received)}`);
}

/** A value on one short line. */
export function shown(value: unknown, most = 200): string {
  let text: string;
  try {
    text = typeof value === 'string' ? JSON.stringify(value) : String(value);
    if (typeof value === 'object' && value !== null) text = JSON.stringify(value) ?? text;
  } catch {
    text = `a ${typeof value}`;
  }
  return text.length > most ? `${text.slice(0, most)}… (${text.length} characters)` : text;
}
