import { describe, expect, it } from 'vitest';
import { fadeRaggedEnds } from '../../src/takes/fade-ragged-ends.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { holdSum } from '../../src/takes/hold-sum.js';
import { leadCarries } from '../../src/takes/lead-carries.js';
import { measureGroups } from '../../src/takes/measure-groups.js';
import { sameFeel } from '../../src/takes/same-feel.js';
import { messageOf } from '../lib/message-of.js';
import { silentTake } from './stacks.js';

const takes = [silentTake('lead', [[100, 200]], 1000), silentTake('high', [[110, 210]], 1000)];
const groups = groupEvents(takes);
const group = groups[0]!;
const levels = new Map(
  takes.map(({ id }) => [id, { sampleRateHz: 48_000, byId: new Map(), voiceDbfs: null }]),
);
const wrong = (value: unknown): never => value as never;
const moved = (fields: object) => [
  { ...group, members: [group.members[0]!, { ...group.members[1]!, ...fields }] },
];

/**
 * Function, parameter, rule and value, as `src/signal/check.ts` writes them; the ranges are those of the doc blocks. Each limit is tried just
 * beyond it, and below all of them once at it.
 */
const REFUSALS: readonly (readonly [() => unknown, string])[] = [
  [
    () => groupEvents(takes, { kinds: wrong('sibilant') }),
    'groupEvents: kinds must be an array; received "sibilant"',
  ],
  [
    () => groupEvents(takes, { toleranceSeconds: 0.0009 }),
    'groupEvents: toleranceSeconds must lie within [0.001, 1]; received 0.0009',
  ],
  [
    () => groupEvents(takes, { toleranceSeconds: 1.01 }),
    'groupEvents: toleranceSeconds must lie within [0.001, 1]; received 1.01',
  ],
  [
    () => groupEvents(takes, { minConfidence: -0.1 }),
    'groupEvents: minConfidence must lie within [0, 1]; received -0.1',
  ],
  [
    () => groupEvents(takes, { minConfidence: 1.1 }),
    'groupEvents: minConfidence must lie within [0, 1]; received 1.1',
  ],
  [
    () => holdSum(takes, groups, { targetDb: -20.1 }),
    'holdSum: targetDb must lie within [-20, 40]; received -20.1',
  ],
  [
    () => holdSum(takes, groups, { targetDb: 40.1 }),
    'holdSum: targetDb must lie within [-20, 40]; received 40.1',
  ],
  [() => holdSum(takes, groups, { maxCutDb: -1 }), 'holdSum: maxCutDb must lie within [0, 120]; received -1'],
  [
    () => holdSum(takes, groups, { maxCutDb: 121 }),
    'holdSum: maxCutDb must lie within [0, 120]; received 121',
  ],
  [
    () => holdSum(takes, groups, { toleranceDb: 0 }),
    'holdSum: toleranceDb must lie within [0.001, 3]; received 0',
  ],
  [
    () => holdSum(takes, groups, { toleranceDb: 3.1 }),
    'holdSum: toleranceDb must lie within [0.001, 3]; received 3.1',
  ],
  [() => holdSum(takes, groups, { levels: wrong({}) }), 'holdSum: levels must be a Map; received an object'],
  [
    () => leadCarries(takes, groups, { how: wrong('mute') }),
    'leadCarries: how must be one of cut, fade; received "mute"',
  ],
  [
    () => leadCarries(takes, groups, { cutDb: -1 }),
    'leadCarries: cutDb must lie within [0, 120]; received -1',
  ],
  [
    () => leadCarries(takes, groups, { cutDb: 121 }),
    'leadCarries: cutDb must lie within [0, 120]; received 121',
  ],
  [
    () => leadCarries(takes, groups, { fadeSeconds: -0.1 }),
    'leadCarries: fadeSeconds must lie within [0, 1]; received -0.1',
  ],
  [
    () => leadCarries(takes, groups, { fadeSeconds: 1.1 }),
    'leadCarries: fadeSeconds must lie within [0, 1]; received 1.1',
  ],
  [
    () => fadeRaggedEnds(takes, groups, { outlastSeconds: 1.1 }),
    'fadeRaggedEnds: outlastSeconds must lie within [0, 1]; received 1.1',
  ],
  [
    () => fadeRaggedEnds(takes, groups, { fadeSeconds: 0 }),
    'fadeRaggedEnds: fadeSeconds must lie within [0.001, 0.5]; received 0',
  ],
  [
    () => fadeRaggedEnds(takes, groups, { sKeptSeconds: 1.1 }),
    'fadeRaggedEnds: sKeptSeconds must lie within [0, 1]; received 1.1',
  ],
  [
    () => fadeRaggedEnds(takes, groups, { shKeptSeconds: 1.1 }),
    'fadeRaggedEnds: shKeptSeconds must lie within [0, 1]; received 1.1',
  ],
  [
    () => fadeRaggedEnds(takes, groups, { levels: wrong([]) }),
    'fadeRaggedEnds: levels must be a Map; received an array of 0',
  ],
  [
    () => sameFeel(takes, levels, { targetPercentile: 101 }),
    'sameFeel: targetPercentile must lie within [0, 100]; received 101',
  ],
  [
    () => sameFeel(takes, levels, { maxCutDb: 121 }),
    'sameFeel: maxCutDb must lie within [0, 120]; received 121',
  ],
  [() => sameFeel(takes, wrong({})), 'sameFeel: levels must be a Map; received an object'],
  [
    () => sameFeel(takes, new Map([...levels].slice(1))),
    'sameFeel: levels must hold every take; received "take \\"lead\\""',
  ],
  [
    () => measureGroups(takes, wrong(undefined)),
    'measureGroups: groups must be an array; received undefined',
  ],
  [
    () => measureGroups(takes, moved({ takeId: 'low' })),
    'measureGroups: group 1: members must be of takes of the stack; received "low"',
  ],
  [
    () => measureGroups(takes, moved({ onsetSample: -1 })),
    'measureGroups: group 1: member of take "high" must lie within its take, [0, 1000): group again after takes were moved; received -1',
  ],
  [
    () => measureGroups(takes, moved({ endSample: 1001 })),
    'measureGroups: group 1: member of take "high" must lie within its take, [0, 1000): group again after takes were moved; received 110',
  ],
  [
    () => measureGroups(takes, moved({ endSample: 110 })),
    'measureGroups: group 1: member of take "high" must lie within its take, [0, 1000): group again after takes were moved; received 110',
  ],
  [
    () => leadCarries(takes, moved({ regionIds: [7] })),
    'leadCarries: take "high": groups must name regions of its list; received 7',
  ],
  [
    () => holdSum(takes, groups, { leadId: 'low' }),
    'holdSum: leadId must be the id of a take; received "low"',
  ],
];

describe('what decisions for a stack refuse', () => {
  it.each(REFUSALS)('says function, parameter, rule and value: %#', (call, message) => {
    expect(messageOf(call)).toBe(message);
  });

  it('is nothing that lies at a limit', () => {
    // 10 samples apart, a fifth of a millisecond: one group at either limit.
    for (const toleranceSeconds of [0.001, 1])
      for (const minConfidence of [0, 1])
        expect(groupEvents(takes, { toleranceSeconds, minConfidence })).toHaveLength(1);
    for (const maxCutDb of [0, 120])
      for (const targetDb of [-20, 40])
        for (const toleranceDb of [0.001, 3])
          expect(holdSum(takes, groups, { targetDb, maxCutDb, toleranceDb })).toBe(takes);
    for (const maxCutDb of [0, 120])
      for (const targetPercentile of [0, 100])
        expect(sameFeel(takes, levels, { maxCutDb, targetPercentile })).toBe(takes);
  });

  it('is nothing of a member that fills its take', () => {
    expect(measureGroups(takes, moved({ onsetSample: 0, endSample: 1000 }))).toHaveLength(1);
  });
});
