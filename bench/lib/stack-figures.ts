import { measureLevels } from '../../src/levels/measure-levels.js';
import type { LevelTable } from '../../src/levels/region-level.js';
import type { EventGroup, EventMember } from '../../src/takes/event-group.js';
import { DEFAULT_FADE_RAGGED_ENDS_OPTIONS, fadeRaggedEnds } from '../../src/takes/fade-ragged-ends.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { DEFAULT_HOLD_SUM_OPTIONS, holdSum } from '../../src/takes/hold-sum.js';
import { leadCarries } from '../../src/takes/lead-carries.js';
import { measureGroups } from '../../src/takes/measure-groups.js';
import { sameFeel } from '../../src/takes/same-feel.js';
import type { Take } from '../../src/takes/take.js';
import type { Figure } from './decision-figures.js';
import { type DecisionMark, decisionPicture, number } from './decision-picture.js';

/** The number in a reason that says what a region was brought down to. */
const TARGET = 'targetDb';

/** One figure for each decision for a stack; the lead is the first take. */
export function stackFigures(stack: readonly Take[]): readonly Figure[] {
  const groups = groupEvents(stack, { kinds: ['sibilant'] });
  const levels = new Map(stack.map(({ id, channels, list }) => [id, measureLevels(channels, list)] as const));
  return [
    sum('hold', 'Hold the sum: the others down until all together stay near the lead', stack, groups, () =>
      holdSum(stack, groups, { levels }),
    ),
    sum('give', 'The lead carries: the others down by 12 dB more', stack, groups, () =>
      leadCarries(stack, groups),
    ),
    ragged(stack, groups, levels),
    feel(stack, levels),
  ];
}

function sum(
  name: string,
  title: string,
  stack: readonly Take[],
  groups: readonly EventGroup[],
  decide: () => readonly Take[],
): Figure {
  const before = measureGroups(stack, groups);
  const after = measureGroups(decide(), groups);
  const marks = groups.flatMap((group, i): readonly DecisionMark[] => {
    const [was, is] = [before[i]?.overLeadDb, after[i]?.overLeadDb];
    if (was == null || is == null || group.members.length < 2) return [];
    return [{ seconds: seconds(group, stack), before: was, after: is, label: number(is) }];
  });
  const most = (pick: (mark: DecisionMark) => number): string => number(Math.max(...marks.map(pick)));
  const svg = decisionPicture({
    title,
    facts: `${marks.length} sibilants that the lead shares with others; all takes together stand up to ${most((m) => m.before)} dB above the lead alone, and up to ${most((m) => m.after)} dB now.`,
    unit: 'dB',
    words: {
      before: 'sum over lead, as recorded',
      after: 'with the gains',
      label: 'sum over lead now, dB',
    },
    durationSeconds: duration(stack),
    marks,
    lines: [
      { value: 0, text: 'the lead alone', style: 'solid' },
      ...(name === 'hold'
        ? [
            {
              value: DEFAULT_HOLD_SUM_OPTIONS.targetDb,
              text: 'as far as it may stand above',
              style: 'dashed' as const,
            },
          ]
        : []),
    ],
  });
  return { name: `decision-${name}`, svg };
}

/** How long after the lead's end the last of the others is still heard. */
function ragged(
  stack: readonly Take[],
  groups: readonly EventGroup[],
  levels: ReadonlyMap<Take['id'], LevelTable>,
): Figure {
  const faded = fadeRaggedEnds(stack, groups, { levels });
  const leadId = (stack[0] as Take).id;
  const rate = (stack[0] as Take).list.sampleRateHz;
  const marks = groups.flatMap((group): readonly DecisionMark[] => {
    const lead = group.members.find(({ takeId }) => takeId === leadId);
    const others = group.members.filter(({ takeId }) => takeId !== leadId);
    if (lead === undefined || others.length === 0) return [];
    const ms = (samples: number): number => (1000 * (samples - lead.endSample)) / rate;
    const before = ms(Math.max(...others.map(({ endSample }) => endSample)));
    const after = ms(Math.max(...others.map((member) => heardUntil(member, faded))));
    return [{ seconds: seconds(group, stack), before, after, label: number(Math.round(after - before)) }];
  });
  const allowed = 1000 * DEFAULT_FADE_RAGGED_ENDS_OPTIONS.outlastSeconds;
  const late = (pick: (mark: DecisionMark) => number): number =>
    marks.filter((mark) => pick(mark) > allowed + 0.1).length;
  const svg = decisionPicture({
    title: 'Ragged ends: tails that outlast the lead, faded early',
    facts: `${marks.length} sibilants that the lead shares with others; ${late((m) => m.before)} have a take that goes on more than ${allowed} ms after the lead, ${late((m) => m.after)} now. 50 ms of an s and 30 ms of an sh always stay.`,
    unit: 'ms',
    words: {
      before: 'last of the others ends, as recorded',
      after: 'is gone now',
      label: 'how much sooner, ms',
    },
    durationSeconds: duration(stack),
    marks,
    lines: [
      { value: 0, text: "the lead's end", style: 'solid' },
      { value: allowed, text: 'as long as it may go on', style: 'dashed' },
    ],
  });
  return { name: 'decision-ragged-ends', svg };
}

/** Where a member is faded out, on the common time line; its end where it is not. */
function heardUntil({ takeId, regionIds, endSample }: EventMember, takes: readonly Take[]): number {
  const { list, offsetSamples } = takes.find(({ id }) => id === takeId) as Take;
  const last = list.regions.findIndex(({ id }) => id === regionIds.at(-1));
  const tail = [list.regions[last], list.regions[last + 1]].find((r) => r?.reason.rule === 'fadeRaggedEnds');
  return tail === undefined ? endSample : tail.startSample + tail.fadeInSamples + offsetSamples;
}

/** The take that sameFeel changes most. */
function feel(stack: readonly Take[], levels: ReadonlyMap<Take['id'], LevelTable>): Figure {
  const decided = sameFeel(stack, levels);
  const cutOf = ({ list }: Take): number => list.regions.reduce((total, { gainDb }) => total - gainDb, 0);
  const take = decided.slice(1).reduce((a, b) => (cutOf(b) > cutOf(a) ? b : a));
  const table = levels.get(take.id) as LevelTable;
  const changed = take.list.regions.filter(({ reason }) => reason.rule === 'sameFeel');
  const marks = changed.map((region): DecisionMark => {
    const before = table.byId.get(region.id)?.sibilanceDb as number;
    const at = (region.startSample + region.endSample) / 2 / take.list.sampleRateHz;
    return { seconds: at, before, after: before + region.gainDb, label: number(region.gainDb) };
  });
  const targets = [...new Set(changed.flatMap(({ reason: { numbers } }) => numbers[TARGET] ?? []))];
  const svg = decisionPicture({
    title: `One feel: ${take.id} held to the sibilance of the lead`,
    facts: `${marks.length} sibilants of one harmony, each beside its own voice; ${marks.filter((m) => m.after < m.before).length} are turned down to where the softer ones of the lead are.`,
    unit: 'dB',
    words: { before: 'as recorded', after: 'with its gain', label: 'gain in dB' },
    durationSeconds: duration(stack),
    marks,
    lines: targets
      .sort((a, b) => b - a)
      .map((value) => ({ value, text: `the lead's, ${number(value)} dB`, style: 'dashed' })),
  });
  return { name: 'decision-same-feel', svg };
}

function seconds(group: EventGroup, stack: readonly Take[]): number {
  return (group.startSample + group.endSample) / 2 / (stack[0] as Take).list.sampleRateHz;
}

function duration(stack: readonly Take[]): number {
  return Math.max(
    ...stack.map(({ list, offsetSamples }) => (list.lengthSamples + offsetSamples) / list.sampleRateHz),
  );
}
