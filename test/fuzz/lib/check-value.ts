import { checkRegionList } from '../../../src/regions/check-region-list.js';
import { must } from './failure.js';

/** What a result may hold. */
export interface ValueRules {
  /** Numbers that are not finite and documented: −∞ for the level of silence, or any. */
  readonly infinite?: 'negative' | 'any';
  /** True: every plain object and array of it must be frozen; lists and regions always are. */
  readonly frozen?: boolean;
}

/** Every number of a result is finite, and what is documented as frozen is frozen; region lists keep every rule. */
export function checkValue(
  value: unknown,
  rules: ValueRules,
  path = 'result',
  frozen = rules.frozen ?? false,
): void {
  if (typeof value === 'number') {
    const sound =
      Number.isFinite(value) ||
      rules.infinite === 'any' ||
      (rules.infinite === 'negative' && value === Number.NEGATIVE_INFINITY);
    must(sound, `${path} must be finite`, value);
  } else if (value instanceof Float32Array || value instanceof Float64Array) {
    for (let i = 0; i < value.length; i++)
      if (!Number.isFinite(value[i])) checkValue(value[i], rules, `${path}[${i}]`);
  } else if (value instanceof Map)
    for (const [key, inner] of value) checkValue(inner, rules, `${path}.get(${key})`, frozen);
  else if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value))
    checkObject(value, rules, path, frozen);
}

function checkObject(value: object, rules: ValueRules, path: string, frozen: boolean): void {
  const isList = 'regions' in value && 'nextId' in value;
  const isRegion = 'fadeShape' in value && 'gainDb' in value && 'startSample' in value;
  if (isList) checkRegionList(value);
  const mustFreeze = frozen || isList || isRegion;
  if (mustFreeze) must(Object.isFrozen(value), `${path} must be frozen`);
  for (const [key, inner] of Object.entries(value)) checkValue(inner, rules, `${path}.${key}`, mustFreeze);
}
