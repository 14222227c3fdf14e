/** A place that a table of docs/misses.md lists: where it is, and what was seen there. */
export interface JudgedPlace {
  readonly clip: string;
  readonly seconds: number;
  readonly verdict: string;
}

/** A place is the same as before where it begins within this many seconds of it. */
const SAME_PLACE_SECONDS = 0.03;

/** What stands where nobody has looked yet. */
export const NOT_LOOKED_AT = '?';

/** The verdicts of an earlier table for the places of a new one, in its order. Each goes to one place, the nearest first. */
export function carriedVerdicts(
  places: readonly Pick<JudgedPlace, 'clip' | 'seconds'>[],
  earlier: readonly JudgedPlace[],
): readonly string[] {
  const verdicts = places.map(() => NOT_LOOKED_AT);
  const pairs = places.flatMap(({ clip, seconds }, place) =>
    earlier.flatMap((old, from) => {
      const apart = Math.abs(old.seconds - seconds);
      return old.clip === clip && apart <= SAME_PLACE_SECONDS ? [{ place, from, apart }] : [];
    }),
  );
  const used = new Set<number>();
  for (const { place, from } of pairs.sort((a, b) => a.apart - b.apart)) {
    if (used.has(from) || verdicts[place] !== NOT_LOOKED_AT) continue;
    used.add(from);
    verdicts[place] = (earlier[from] as JudgedPlace).verdict;
  }
  return verdicts;
}
