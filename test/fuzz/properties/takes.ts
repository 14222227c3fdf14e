import fc from 'fast-check';
import { measureLevels } from '../../../src/levels/index.js';
import { REGION_KINDS } from '../../../src/regions/region.js';
import * as t from '../../../src/takes/index.js';
import { guards, stacks } from '../arbitraries/measured.js';
import { options, within } from '../arbitraries/numbers.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const grouped = stacks.map((takes) => [takes, t.groupEvents(takes)] as const);
const lead = { leadId: fc.constant('lead') };
const levelled = stacks.map(
  (takes) =>
    [takes, new Map(takes.map((take) => [take.id, measureLevels(take.channels, take.list)]))] as const,
);
/** Messages of a take begin with its name, as in "holdSum: take 2: channels". */
const rules = {
  made: [0, 1],
  weight: 0.25,
  mayRefuse: /must place it where another take sounds|must be (one|finite)/,
};

function keepsTakes(result: readonly t.Take[], takes: readonly t.Take[]): void {
  must(result.length === takes.length, 'must keep the takes', result.length);
  for (const [i, take] of result.entries()) {
    must(take.channels === takes[i]!.channels && take.id === takes[i]!.id, 'must keep sound and id', take.id);
    must(take.list.regions.length === takes[i]!.list.regions.length, 'must keep the regions', take.id);
  }
}

export const TAKES: Properties = {
  checkTakes: property(
    (takes: unknown) => t.checkTakes(takes),
    stacks.map((takes) => [takes] as const),
    {
      made: [],
      weight: 0.25,
    },
  ),
  groupEvents: property(
    t.groupEvents,
    fc.tuple(
      stacks,
      options({
        kinds: fc.subarray([...REGION_KINDS]),
        toleranceSeconds: within(0.001, 1),
        minConfidence: within(0, 1),
      }),
    ),
    { ...rules, made: [0], frozen: true },
  ),
  measureGroups: property(
    t.measureGroups,
    fc.tuple(grouped, options(lead)).map(([a, o]) => [...a, o] as const),
    {
      ...rules,
      infinite: 'negative',
    },
  ),
  holdSum: property(
    t.holdSum,
    fc
      .tuple(
        grouped,
        guards,
        options({
          ...lead,
          targetDb: within(-20, 40),
          maxCutDb: within(0, 120),
          toleranceDb: within(0.001, 3),
        }),
      )
      .map(([a, guard, o]) => [...a, { ...guard, ...o }] as const),
    { ...rules, check: keepsTakes },
  ),
  leadCarries: property(
    t.leadCarries,
    fc
      .tuple(
        grouped,
        options({
          ...lead,
          how: fc.constantFrom('cut', 'fade' as const),
          cutDb: within(0, 120),
          fadeSeconds: within(0, 0.5),
        }),
      )
      .map(([a, o]) => [...a, o] as const),
    { ...rules, check: (result, takes) => must(result.length === takes.length, 'must keep the takes') },
  ),
  fadeRaggedEnds: property(
    t.fadeRaggedEnds,
    fc
      .tuple(
        grouped,
        options({
          ...lead,
          outlastSeconds: within(0, 0.2),
          fadeSeconds: within(0.001, 0.5),
          sKeptSeconds: within(0, 0.5),
          shKeptSeconds: within(0, 0.5),
        }),
      )
      .map(([a, o]) => [...a, o] as const),
    { ...rules, check: (result, takes) => must(result.length === takes.length, 'must keep the takes') },
  ),
  sameFeel: property(
    t.sameFeel,
    fc
      .tuple(
        levelled,
        guards,
        options({
          ...lead,
          targetPercentile: within(0, 100),
          maxCutDb: within(0, 120),
          minConfidence: within(0, 1),
        }),
      )
      .map(([a, guard, o]) => [...a, { ...guard, ...o }] as const),
    { ...rules, check: keepsTakes },
  ),
};
