import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/** Bytes that this process holds in objects and arrays after all garbage was collected. */
export function collectedBytes(): number {
  // The flag may be set while running; a new context then has the function.
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  // What one run frees may have held what the next one finds.
  for (let i = 0; i < 3; i++) collect();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}
