/**
 * A copy of a value of any depth, to be compared later: arrays, typed arrays, maps, sets and plain objects are copied, what else has
 * a prototype or is a function stays as it is.
 */
export function snapshotOf(value: unknown, seen = new Map<object, unknown>()): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (seen.has(value)) return seen.get(value);
  if (ArrayBuffer.isView(value)) return structuredClone(value);
  if (value instanceof Map) {
    const copy = new Map<unknown, unknown>();
    seen.set(value, copy);
    for (const [key, item] of value) copy.set(snapshotOf(key, seen), snapshotOf(item, seen));
    return copy;
  }
  if (value instanceof Set) return new Set([...value].map((item) => snapshotOf(item, seen)));
  if (Array.isArray(value)) {
    const copy: unknown[] = [];
    seen.set(value, copy);
    for (const item of value) copy.push(snapshotOf(item, seen));
    return copy;
  }
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) return value;
  const copy: Record<string, unknown> = {};
  seen.set(value, copy);
  for (const key of Object.keys(value)) {
    // A getter tells of a state, which is the object's own business.
    const property = Object.getOwnPropertyDescriptor(value, key);
    if (property !== undefined && 'value' in property) copy[key] = snapshotOf(property.value, seen);
  }
  return copy;
}
