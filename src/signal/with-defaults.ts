/** Settings with what they leave out; a field that is there but undefined counts as left out, since the checks take it so. */
export function withDefaults<D extends object, S extends object>(
  defaults: D,
  settings: S,
): D & Omit<S, keyof D> {
  const given = Object.entries(settings).filter(([, value]) => value !== undefined);
  return { ...defaults, ...Object.fromEntries(given) } as D & Omit<S, keyof D>;
}
