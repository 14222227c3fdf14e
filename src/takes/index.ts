/**
 * Several takes that sound together: which consonants belong together, how loud they are in sum, and decisions for all of them.
 *
 * @packageDocumentation
 */
export { checkTakes } from './check-takes.js';
export type { EventGroup, EventMember } from './event-group.js';
export {
  DEFAULT_FADE_RAGGED_ENDS_OPTIONS,
  type FadeRaggedEndsOptions,
  fadeRaggedEnds,
} from './fade-ragged-ends.js';
export { DEFAULT_GROUP_OPTIONS, type GroupOptions, groupEvents } from './group-events.js';
export { DEFAULT_HOLD_SUM_OPTIONS, type HoldSumOptions, holdSum, type StackLevels } from './hold-sum.js';
export { DEFAULT_LEAD_CARRIES_OPTIONS, type LeadCarriesOptions, leadCarries } from './lead-carries.js';
export { type GroupLevel, type MemberLevel, measureGroups } from './measure-groups.js';
export { DEFAULT_SAME_FEEL_OPTIONS, type SameFeelOptions, sameFeel } from './same-feel.js';
export type { LeadOption, Take, TakeId } from './take.js';
