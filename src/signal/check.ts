import type { Channels, Doubles, Samples } from './samples.js';

/** Writes a received value so that a person can recognise it in an error message. */
export function describe(value: unknown): string {
  if (typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number') return Object.is(value, -0) ? '-0' : String(value);
  if (value === null || value === undefined || typeof value === 'boolean') return String(value);
  if (typeof value === 'bigint') return `${value}n`;
  if (typeof value === 'function') return 'a function';
  if (ArrayBuffer.isView(value)) return `a ${value.constructor.name}`;
  if (Array.isArray(value)) return `an array of ${value.length}`;
  return typeof value === 'object' ? 'an object' : typeof value;
}

/** A RangeError: right kind of value, wrong value. Names function, parameter, rule and value received. */
export function rangeError(
  functionName: string,
  parameter: string,
  rule: string,
  received: unknown,
): RangeError {
  return new RangeError(`${functionName}: ${parameter} ${rule}; received ${describe(received)}`);
}

/** A TypeError: wrong kind of value. Names function, parameter, rule and value received. */
export function typeError(
  functionName: string,
  parameter: string,
  rule: string,
  received: unknown,
): TypeError {
  return new TypeError(`${functionName}: ${parameter} ${rule}; received ${describe(received)}`);
}

/** Throws unless `value` is an object with fields: neither null nor an array of any kind. */
export function checkObject(
  functionName: string,
  parameter: string,
  value: unknown,
): asserts value is object {
  if (typeof value !== 'object' || value === null || Array.isArray(value) || ArrayBuffer.isView(value))
    throw typeError(functionName, parameter, 'must be an object', value);
}

/** Throws where an object has a field of another name: one that is misspelt must not silently do nothing. */
export function checkFields(
  functionName: string,
  parameter: string,
  value: object,
  names: readonly string[],
): void {
  for (const [name, given] of Object.entries(value))
    if (!names.includes(name))
      throw typeError(
        functionName,
        `${parameter}.${name}`,
        `is not a field of ${parameter}: those are ${names.join(', ')}`,
        given,
      );
}

/** Throws unless `value` is an array; looks at none of its items. */
export function checkArray(
  functionName: string,
  parameter: string,
  value: unknown,
): asserts value is readonly unknown[] {
  if (!Array.isArray(value)) throw typeError(functionName, parameter, 'must be an array', value);
}

/** Throws unless `value` is a Float64Array, of that length where one is stated. */
export function checkDoubles(
  functionName: string,
  parameter: string,
  value: unknown,
  length?: number,
): asserts value is Doubles {
  if (!(value instanceof Float64Array))
    throw typeError(functionName, parameter, 'must be a Float64Array', value);
  if (length !== undefined && value.length !== length)
    throw rangeError(functionName, `${parameter}.length`, `must be ${length}`, value.length);
}

/** Throws unless `value` is a finite number within [least, most]. */
export function checkNumber(
  functionName: string,
  parameter: string,
  value: unknown,
  least: number = Number.NEGATIVE_INFINITY,
  most: number = Number.POSITIVE_INFINITY,
): asserts value is number {
  checkWithin(functionName, parameter, value, Number.isFinite(value), 'must be finite', least, most);
}

/** Throws unless `value` is a safe integer within [least, most]. */
export function checkInteger(
  functionName: string,
  parameter: string,
  value: unknown,
  least: number = Number.MIN_SAFE_INTEGER,
  most: number = Number.MAX_SAFE_INTEGER,
): asserts value is number {
  checkWithin(
    functionName,
    parameter,
    value,
    Number.isSafeInteger(value),
    'must be a whole number',
    least,
    most,
  );
}

function checkWithin(
  functionName: string,
  parameter: string,
  value: unknown,
  sound: boolean,
  rule: string,
  least: number,
  most: number,
): void {
  if (typeof value !== 'number') throw typeError(functionName, parameter, 'must be a number', value);
  if (!sound) throw rangeError(functionName, parameter, rule, value);
  if (value < least || value > most)
    throw rangeError(functionName, parameter, `must lie within [${least}, ${most}]`, value);
}

/** Throws unless `value` is a sample rate that the library supports: 8,000 to 192,000 Hz. */
export function checkSampleRate(functionName: string, value: unknown): asserts value is number {
  checkNumber(functionName, 'sampleRateHz', value, 8000, 192000);
}

/** Throws unless `value` is one of the named choices. */
export function checkChoice<T extends string>(
  functionName: string,
  parameter: string,
  value: unknown,
  choices: readonly T[],
): asserts value is T {
  if ((choices as readonly unknown[]).includes(value)) return;
  const error = typeof value === 'string' ? rangeError : typeError;
  throw error(functionName, parameter, `must be one of ${choices.join(', ')}`, value);
}

/** Throws when a sample in [start, end) is NaN or infinite; the message carries its index. */
export function checkFinite(
  functionName: string,
  parameter: string,
  samples: Samples,
  start: number = 0,
  end: number = samples.length,
): void {
  // x − x is 0 for every finite x and NaN otherwise; eight at a time, one comparison for all of them.
  let i = start;
  for (; i + 8 <= end; i += 8) {
    const a = samples[i] as number;
    const b = samples[i + 1] as number;
    const c = samples[i + 2] as number;
    const d = samples[i + 3] as number;
    const e = samples[i + 4] as number;
    const f = samples[i + 5] as number;
    const g = samples[i + 6] as number;
    const h = samples[i + 7] as number;
    if (a - a + (b - b) + (c - c + (d - d)) + (e - e + (f - f) + (g - g + (h - h))) !== 0) break;
  }
  for (; i < end; i++) {
    const x = samples[i] as number;
    if (x - x !== 0) throw rangeError(functionName, `${parameter}[${i}]`, 'must be finite', x);
  }
}

/** One or several channels as a list; throws unless each is a Float32Array and all are equally long. */
export function channelList(
  functionName: string,
  channels: Channels,
  parameter: string = 'channels',
): readonly Samples[] {
  const list = (channels instanceof Float32Array ? [channels] : channels) as readonly Samples[];
  if (!Array.isArray(list))
    throw typeError(functionName, parameter, 'must be a Float32Array or an array of them', channels);
  if (list.length === 0) throw rangeError(functionName, parameter, 'must hold at least one channel', list);
  const length = list[0]?.length;
  for (let c = 0; c < list.length; c++) {
    const channel = list[c];
    if (!(channel instanceof Float32Array))
      throw typeError(functionName, `${parameter}[${c}]`, 'must be a Float32Array', channel);
    if (channel.length !== length)
      throw rangeError(
        functionName,
        `${parameter}[${c}].length`,
        `must equal that of channel 0 (${length})`,
        channel.length,
      );
  }
  return list;
}
