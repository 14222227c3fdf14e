/** Runs `work` and tells the processor time it took: of all threads of this process, so that nothing hides beside the main one. */
export function cpuSeconds<T>(work: () => T): { readonly value: T; readonly seconds: number } {
  const start = process.cpuUsage();
  const value = work();
  const { user, system } = process.cpuUsage(start);
  return { value, seconds: (user + system) / 1e6 };
}
