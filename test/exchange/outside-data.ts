import fc from 'fast-check';

/** Values that throw when they are looked into. fast-check looks into what it makes, so these stand apart. */
export function hostileValues(): readonly unknown[] {
  const trap = new Proxy(
    {},
    {
      get() {
        throw new Error('trap');
      },
    },
  );
  const { proxy, revoke } = Proxy.revocable([], {});
  revoke();
  return [trap, proxy];
}

/** Values that no careful program hands over: wrong kinds, numbers out of range, holes. */
export function anyOutsideValue(): fc.Arbitrary<unknown> {
  const odd = fc.constantFrom<unknown>(
    undefined,
    null,
    Number.NaN,
    -0,
    -1,
    0.5,
    2 ** 32,
    2 ** 53,
    Number.POSITIVE_INFINITY,
    '7',
    10n,
    Symbol('x'),
    new Array(5),
    Object.create(null),
    () => 1,
  );
  return fc.oneof(odd, fc.anything(), fc.integer(), fc.string());
}

/** A sound value with one to three of its parts, at any depth, replaced by something else or taken away. */
export function damaged(sound: unknown): fc.Arbitrary<unknown> {
  const hostile = hostileValues();
  const hit = fc.record({ pick: fc.nat(), how: fc.nat(9), value: anyOutsideValue() });
  return fc.array(hit, { minLength: 1, maxLength: 3 }).map((hits) => {
    const copy = structuredClone(sound);
    for (const { pick, how, value } of hits) {
      const places = placesIn(copy);
      if (places.length === 0) return copy;
      const [holder, key] = places[pick % places.length] as [Record<string, unknown>, string];
      if (how === 0) delete holder[key];
      else holder[key] = hostile[how - 1] ?? value;
    }
    return copy;
  });
}

function placesIn(value: unknown, depth = 0): (readonly [object, string])[] {
  if (typeof value !== 'object' || value === null || depth > 6) return [];
  try {
    return Object.keys(value).flatMap((key) => [
      [value, key] as const,
      ...placesIn((value as Record<string, unknown>)[key], depth + 1),
    ]);
  } catch {
    return [];
  }
}
