import type { Cost } from './paired-rounds.js';

/** Results are put here, so that the engine cannot leave out work whose result nobody looks at. */
const kept: { last: unknown } = { last: undefined };

/**
 * Work as something whose processor time can be told: of all threads of this process, so collecting garbage and compiling count too.
 * `repeats` makes short work long enough to be measured; the cost is that of one.
 */
export function cpuCost(work: () => unknown, repeats: number = 1): Cost {
  return () => {
    const before = process.cpuUsage();
    for (let i = 0; i < repeats; i++) kept.last = work();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / repeats;
  };
}

/** How often work must be repeated to take `milliseconds` at least; a power of two. */
export function repeatsFor(work: () => unknown, milliseconds: number): number {
  // The first calls run uncompiled.
  for (let i = 0; i < 5; i++) work();
  let repeats = 1;
  while (cpuCost(work, repeats)() * repeats < milliseconds * 1000 && repeats < 1 << 24) repeats *= 2;
  return repeats;
}
