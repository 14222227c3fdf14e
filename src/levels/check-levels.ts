import { checkListShape } from '../regions/check-list-shape.js';
import type { RegionList } from '../regions/region.js';
import { rangeError, typeError } from '../signal/check.js';
import type { LevelTable } from './region-level.js';

/** Throws unless it is a table of measureLevels; looks at no row. */
export function checkLevelTable(
  functionName: string,
  levels: LevelTable | null | undefined,
  parameter: string = 'levels',
): void {
  if (!(levels?.byId instanceof Map))
    throw typeError(functionName, parameter, 'must be a table of measureLevels', levels);
}

/** Throws unless there is a list and a table of its sample rate. */
export function checkLevels(functionName: string, list: RegionList, levels: LevelTable): void {
  checkListShape(functionName, list);
  checkLevelTable(functionName, levels);
  if (levels.sampleRateHz !== list.sampleRateHz)
    throw rangeError(
      functionName,
      'levels.sampleRateHz',
      `must equal list.sampleRateHz (${list.sampleRateHz})`,
      levels.sampleRateHz,
    );
}
