import type { Region } from '../regions/region.js';

/**
 * The gain of a region in front of a rule: what it was before the rule spoke, as long as nobody has changed it since. So a decision
 * that adds to a gain can be made again, also with other settings, and never adds twice.
 */
export function gainBefore(rule: string, { gainDb, reason }: Region): number {
  const { gainDb: decidedDb, baseGainDb } = reason.numbers;
  return reason.rule === rule && decidedDb === gainDb && baseGainDb !== undefined ? baseGainDb : gainDb;
}
