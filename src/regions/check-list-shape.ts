import { typeError } from '../signal/check.js';
import type { RegionList } from './region.js';

/**
 * Throws unless `list` has the shape of a region list. It looks at no region, so it costs the same for any list: enough for functions that are
 * called too often to look through 50,000 regions, whose soundness is a stated precondition.
 */
export function checkListShape(
  functionName: string,
  list: unknown,
  parameter: string = 'list',
): asserts list is RegionList {
  const { sampleRateHz, lengthSamples, nextId, regions } = (list ?? {}) as Readonly<Record<string, unknown>>;
  if (
    !Array.isArray(regions) ||
    typeof sampleRateHz !== 'number' ||
    typeof lengthSamples !== 'number' ||
    typeof nextId !== 'number'
  )
    throw typeError(functionName, parameter, 'must be a region list', list);
}
