/**
 * A hash of everything that a value holds, bytes of typed arrays included: two readings of one value are equal unless something
 * changed it. 0 and −0, NaN and its kin, an absent field and one that is undefined all differ. Functions count by identity.
 */
export function fingerprint(value: unknown): string {
  const state: State = { a: 0x811c9dc5, b: 0x9e3779b9, seen: new Map() };
  visit(value, state);
  return `${(state.a >>> 0).toString(36)}.${(state.b >>> 0).toString(36)}`;
}

interface State {
  a: number;
  b: number;
  readonly seen: Map<object, number>;
}

const number = new Float64Array(1);
const numberWords = new Uint32Array(number.buffer);

function mix(state: State, word: number): void {
  // Two 32-bit FNV-style hashes that turn differently.
  state.a = Math.imul(state.a ^ word, 16777619);
  state.b = Math.imul((state.b ^ word) + ((state.b << 13) | (state.b >>> 19)), 2246822519);
}

function mixText(state: State, text: string): void {
  mix(state, text.length);
  for (let i = 0; i < text.length; i++) mix(state, text.charCodeAt(i));
}

function visit(value: unknown, state: State): void {
  if (typeof value === 'number') {
    number[0] = value;
    mix(state, numberWords[0]!);
    mix(state, numberWords[1]!);
  } else if (typeof value === 'string') mixText(state, value);
  else if (typeof value !== 'object' || value === null) mixText(state, String(value));
  else visitObject(value, state);
}

function visitObject(value: object, state: State): void {
  const before = state.seen.get(value);
  mix(state, before ?? state.seen.size + 1000);
  if (before !== undefined) return;
  state.seen.set(value, state.seen.size);
  if (ArrayBuffer.isView(value)) {
    const bytes = new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
    const whole = bytes.length - (bytes.length % 4);
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    for (let i = 0; i < whole; i += 4) mix(state, view.getInt32(i, true));
    for (let i = whole; i < bytes.length; i++) mix(state, bytes[i]!);
    return;
  }
  if (value instanceof Map) {
    mix(state, value.size);
    for (const [key, inner] of value) {
      visit(key, state);
      visit(inner, state);
    }
    return;
  }
  try {
    for (const key of Reflect.ownKeys(value)) {
      mixText(state, String(key));
      visit((value as Record<PropertyKey, unknown>)[key], state);
    }
  } catch {
    // A value that throws when it is looked into has nothing that can be compared.
    mix(state, 1);
  }
}
