import { hostileValues } from '../../exchange/outside-data.js';
import { WRONG_VALUES } from '../lib/damage-arguments.js';
import type { Random } from '../lib/random-tools.js';

const MORE: readonly (() => unknown)[] = [
  () => new Array(2 ** 32 - 1),
  () => ({ length: 2 ** 53 }),
  () => JSON.parse('{"__proto__":{"polluted":true}}'),
  () => Object.create({ polluted: true }),
  () => {
    const circle: unknown[] = [];
    circle.push(circle);
    return circle;
  },
  () => ({
    get deltaTime() {
      throw new Error('a getter');
    },
  }),
  () => 'x'.repeat(5000),
  () => '\uD800',
  () => new Map([[1, 2]]),
  () => new Date(Number.NaN),
  ...hostileValues().map((value) => () => value),
];
const VALUES = [...WRONG_VALUES, ...MORE];

/** Plain data with one to three parts, at any depth, exchanged, taken away or doubled. */
export function damagedData(sound: unknown, random: Random): unknown {
  const holder = { whole: structuredClone(sound) as unknown };
  for (let hits = 1 + random.below(3); hits > 0; hits--) {
    const places = placesIn(holder);
    if (places.length === 0) break;
    const [at, key] = places[random.below(places.length)]!;
    const way = random.below(8);
    try {
      if (way === 0) delete at[key];
      else if (way === 1 && Array.isArray(at)) at.push(at[Number(key)]);
      else if (way === 2) at[key] = valueAt(random.pick(places));
      else at[key] = random.pick(VALUES)();
    } catch {
      // A typed array or a proxy that will not have it.
    }
  }
  return holder.whole;
}

type Place = readonly [holder: Record<string, unknown>, key: string];

function valueAt([holder, key]: Place): unknown {
  try {
    return holder[key];
  } catch {
    return undefined;
  }
}

function placesIn(root: object): readonly Place[] {
  const places: Place[] = [];
  const gather = (value: unknown, depth: number): void => {
    if (typeof value !== 'object' || value === null || depth > 7 || places.length > 5000) return;
    try {
      for (const key of Object.keys(value)) {
        places.push([value as Record<string, unknown>, key]);
        gather((value as Record<string, unknown>)[key], depth + 1);
      }
    } catch {
      // It throws when it is looked into, as it is meant to.
    }
  };
  gather(root, 0);
  return places;
}
