/** Where and with what an argument is spoilt. */
export interface Spoiler {
  readonly pick: number;
  readonly value: number;
}

/** What no careful program hands over. Functions make fresh ones, since a case might write to them. */
export const WRONG_VALUES: readonly (() => unknown)[] = [
  () => undefined,
  () => null,
  () => Number.NaN,
  () => Number.POSITIVE_INFINITY,
  () => Number.NEGATIVE_INFINITY,
  () => -0,
  () => -1,
  () => 0.5,
  () => 2 ** 32,
  () => 2 ** 53,
  () => -(2 ** 53),
  () => 1e308,
  () => '7',
  () => '',
  () => '__proto__',
  () => 10n,
  () => true,
  () => Symbol('x'),
  () => [],
  () => {},
  () => ({}),
  () => Object.create(null),
  () => new Array(3),
  () => [undefined],
  () => [Number.NaN],
  () => new Float64Array(3),
  () => new Float32Array(3),
  () => new Int16Array(3),
  () => () => 1,
];

type Place = readonly [holder: Record<PropertyKey, unknown>, key: PropertyKey];

/**
 * The arguments with one of them, or one field of an options object, exchanged. What the library itself made (lists, tables, plans: whatever
 * is frozen or holds regions) is only exchanged as a whole: its inside is a stated precondition.
 */
export function spoilt(
  args: readonly unknown[],
  { pick, value }: Spoiler,
  made: readonly number[] = [],
): Spoilt {
  const copy = args.map((arg, i) => (made.includes(i) ? arg : copied(arg)));
  const places: Place[] = [];
  for (const [i, arg] of copy.entries()) {
    places.push([copy as unknown as Record<PropertyKey, unknown>, i]);
    if (!made.includes(i) && isInner(arg)) gather(arg as Record<PropertyKey, unknown>, places, 1);
  }
  if (places.length === 0) return { args: copy, exchanged: false };
  const [holder, key] = places[pick % places.length]!;
  const old = holder[key];
  const wrong = WRONG_VALUES[value % WRONG_VALUES.length]!();
  holder[key] = wrong;
  const isArgument = (holder as unknown) === copy;
  const isMade = isArgument && (made.includes(Number(key)) || Object.isFrozen(old) || old instanceof Map);
  return { args: copy, exchanged: isMade && typeof old === 'object' };
}

/** Spoilt arguments. */
export interface Spoilt {
  readonly args: readonly unknown[];
  /**
   * True where something stands in the place of a whole value of the library (a list, a table), through which no function looks: it may be
   * taken, and then what comes of it may be anything.
   */
  readonly exchanged: boolean;
}

function isInner(value: unknown): boolean {
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value) || value instanceof Map)
    return false;
  return !Object.isFrozen(value);
}

function copied(value: unknown): unknown {
  if (!isInner(value)) return value;
  if (Array.isArray(value)) return value.map(copied);
  const proto = Object.getPrototypeOf(value);
  if (proto !== Object.prototype && proto !== null) return value;
  return Object.fromEntries(Object.entries(value as object).map(([key, inner]) => [key, copied(inner)]));
}

function gather(holder: Record<PropertyKey, unknown>, places: Place[], depth: number): void {
  for (const key of Object.keys(holder)) {
    places.push([holder, key]);
    if (depth < 2 && isInner(holder[key]))
      gather(holder[key] as Record<PropertyKey, unknown>, places, depth + 1);
  }
}
