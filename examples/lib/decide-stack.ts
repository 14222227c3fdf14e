import { basename } from 'node:path';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { drawStack } from '../../src/picture/draw-stack.js';
import type { EventGroup } from '../../src/takes/event-group.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { holdSum } from '../../src/takes/hold-sum.js';
import { leadCarries } from '../../src/takes/lead-carries.js';
import { type GroupLevel, measureGroups } from '../../src/takes/measure-groups.js';
import type { Take } from '../../src/takes/take.js';
import { clock, shown } from './format-table.js';
import type { Problem } from './result.js';
import { shortNames } from './short-names.js';
import type { LoadedTake } from './tame-file.js';
import type { TameOptions } from './tame-options.js';

const GROUPING = { kinds: ['sibilant'] } as const;

/** What was decided for a stack. */
export interface StackDecision {
  readonly takes: readonly LoadedTake[];
  /** Takes that do not belong to this stack. */
  readonly refused: readonly { readonly file: string; readonly problem: Problem }[];
  /** Lanes by take with the groups lined up, as SVG; null where nothing was found. */
  readonly picture: string | null;
  /** The report of the stack: a line a group. */
  readonly lines: readonly string[];
}

/** Decides how the other takes give way to the lead, the first. Takes of another sample rate than the lead's are refused. */
export function decideStack(loaded: readonly LoadedTake[], options: TameOptions): StackDecision {
  const lead = loaded[0];
  if (lead === undefined) return { takes: [], refused: [], picture: null, lines: [] };
  const fits = (take: LoadedTake): boolean => take.list.sampleRateHz === lead.list.sampleRateHz;
  const together = loaded.filter(fits);
  const refused = loaded
    .filter((take) => !fits(take))
    .map(({ file, list }) => ({
      file,
      problem: {
        path: 'sample rate',
        rule: `must be that of the lead (${lead.list.sampleRateHz} Hz) in a stack`,
        received: `${list.sampleRateHz} Hz`,
      },
    }));
  const stack = together.map(
    ({ wav, list }, index): Take => ({
      id: index,
      channels: wav.channels,
      list,
      offsetSamples: 0,
      gainDb: 0,
    }),
  );
  const groups = groupEvents(stack, GROUPING);
  const decided = giveWay(stack, groups, options);
  const takes = together.map((take, index) => ({ ...take, list: (decided[index] as Take).list }));
  const before = measureGroups(stack, groups);
  const after = measureGroups(decided, groups);
  const names = shortNames(together.map(({ file }) => basename(file)));
  // The picture names takes by their files.
  const named = decided.map((take, index) => ({ ...take, id: names[index] as string }));
  const picture =
    groups.length > 0
      ? drawStack(named, groupEvents(named, GROUPING), { name: `stack of ${basename(lead.file)}` })
      : null;
  return { takes, refused, picture, lines: stackLines(together, groups, before, after) };
}

function giveWay(
  stack: readonly Take[],
  groups: readonly EventGroup[],
  { others }: TameOptions,
): readonly Take[] {
  if (others === 'own') return stack;
  if (others === 'give') return leadCarries(stack, groups);
  const levels = new Map(stack.map(({ id, channels, list }) => [id, measureLevels(channels, list)]));
  return holdSum(stack, groups, { levels });
}

function stackLines(
  takes: readonly LoadedTake[],
  groups: readonly EventGroup[],
  before: readonly GroupLevel[],
  after: readonly GroupLevel[],
): string[] {
  const [lead] = takes;
  if (lead === undefined || groups.length === 0) return [];
  const decibels = (value: number | null | undefined): string => (value == null ? '-' : value.toFixed(1));
  const milliseconds = (seconds: number): string => (1000 * seconds).toFixed(0);
  const rows = groups.map((group, i) => [
    clock(group.startSample / lead.list.sampleRateHz),
    `${group.members.length} of ${takes.length - group.absentTakeIds.length}`,
    milliseconds(group.onsetSpreadSeconds),
    milliseconds(group.endSpreadSeconds),
    decibels(before[i]?.overLeadDb),
    decibels(after[i]?.overLeadDb),
    group.missingTakeIds.map((id) => shown(basename((takes[Number(id)] as LoadedTake).file))).join(', '),
  ]);
  const head = ['sibilant at', 'takes', 'starts, ms', 'ends, ms', 'sum over lead, dB', 'now', 'not in'];
  const widths = head.map((_, c) => Math.max(...[head, ...rows].map((row) => (row[c] as string).length)));
  return [
    `stack of ${takes.length} takes, ${shown(basename(lead.file))} leads; starts and ends: how far the takes lie apart`,
    ...[head, ...rows].map((row) =>
      `  ${row.map((cell, c) => (c === row.length - 1 ? cell : cell.padStart(widths[c] as number))).join('  ')}`.trimEnd(),
    ),
  ];
}
