import type { EventGroup } from '../takes/event-group.js';
import type { GroupLevel } from '../takes/measure-groups.js';
import type { Take } from '../takes/take.js';
import { INK, KIND_STYLES, kindFill, SOFT_INK } from './kind-style.js';
import { fitText, gainText, textWidth } from './numbers.js';
import { decibelText, lineTimeText, type StackScene, spreadText, takeName } from './stack-scene.js';
import { svgLine, svgRect, svgText } from './svg-parts.js';
import { timeTicks } from './time-ticks.js';

const COLUMNS = 3;
const GAP = 26;
const NAMES = 84;
const FIGURES = 78;
const HEAD = 40;
const AXIS = 22;
/** Range of the heights: what lies so far below the loudest of the panel is a line. */
const SHOWN_DB = 30;

/** Groups in detail: one panel each, lanes by take and the sum, lined up on the lead. */
export function drawStackPanels(
  scene: StackScene,
  shown: readonly number[],
  left: number,
  top: number,
  width: number,
): { readonly svg: string; readonly bottom: number } {
  const lane = Math.max(9, Math.min(22, Math.floor(300 / (scene.takes.length + 1))));
  const panelWidth = (width - (COLUMNS - 1) * GAP) / COLUMNS;
  const panelHeight = HEAD + lane * (scene.takes.length + 1) + AXIS;
  const rows = Math.ceil(shown.length / COLUMNS);
  const svg = shown
    .map((g, p) => {
      const x = left + (p % COLUMNS) * (panelWidth + GAP);
      const y = top + Math.floor(p / COLUMNS) * (panelHeight + 18);
      return drawPanel(scene, g, { x, y, width: panelWidth, lane });
    })
    .join('');
  return { svg, bottom: top + rows * (panelHeight + 18) };
}

interface PanelPlace {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly lane: number;
}

function drawPanel(scene: StackScene, g: number, { x, y, width, lane }: PanelPlace): string {
  const group = scene.groups[g] as EventGroup;
  const level = scene.levels[g] as GroupLevel;
  const recorded = scene.recorded[g] as GroupLevel;
  const { sampleRateHz } = scene;
  const from = group.startSample - 0.05 * sampleRateHz;
  const to = group.endSample + 0.05 * sampleRateHz;
  const plot = { left: x + NAMES, width: width - NAMES - FIGURES };
  const xOf = (sample: number): number => plot.left + ((sample - from) / (to - from)) * plot.width;
  const top = y + HEAD;
  const bottom = top + lane * (scene.takes.length + 1);
  const readable = lane >= 13;
  const word = KIND_STYLES[group.kind].word;
  let svg = svgText(x, y + 12, `${group.id} · ${lineTimeText(scene, group.startSample, 2)} · ${word}`, {
    size: 13,
    bold: true,
  });
  const spread = `onset spread ${spreadText(group.onsetSpreadSeconds)} · end spread ${spreadText(group.endSpreadSeconds)}`;
  svg += svgText(x, y + 29, spread, { colour: SOFT_INK });
  svg += svgRect(plot.left, top, plot.width, bottom - top, 'fill="#fff" stroke="#d9d3dc" stroke-width="0.8"');
  svg += svgRect(
    xOf(group.startSample),
    top,
    xOf(group.endSample) - xOf(group.startSample),
    bottom - top,
    'fill="#f1ebe0"',
  );
  const loudest = Math.max(
    level.sumDbfs,
    recorded.sumDbfs,
    ...[...level.members, ...recorded.members].map(({ ownDbfs }) => ownDbfs),
  );
  const bar = (x0: number, x1: number, base: number, db: number, look: string): string => {
    // A silent group has no loudest: lines only.
    const share = Number.isFinite(loudest) ? Math.max(0, 1 + (db - loudest) / SHOWN_DB) : 0;
    const height = Math.max(1, share * (lane - 3));
    return svgRect(x0, base - height, Math.max(1, x1 - x0), height, look);
  };
  const outline = `fill="#fff" stroke="${INK}" stroke-width="0.9"`;
  scene.takes.forEach((take, t) => {
    const base = top + (t + 1) * lane - 1;
    const isLead = take.id === scene.lead.id;
    if (readable)
      svg += svgText(x, base - lane / 2 + 5, fitText(takeName(take), 12, NAMES - 6, isLead), {
        bold: isLead,
      });
    svg += svgLine(
      plot.left,
      base + 1,
      plot.left + plot.width,
      base + 1,
      'stroke="#d9d3dc" stroke-width="0.6"',
    );
    const m = group.members.findIndex(({ takeId }) => takeId === take.id);
    const figure = { colour: SOFT_INK } as const;
    if (m < 0) {
      if (readable)
        svg += svgText(plot.left + plot.width + 6, base - lane / 2 + 5, absence(group, take), figure);
      return;
    }
    const { onsetSample, endSample } = group.members[m] as EventGroup['members'][number];
    const own = level.members[m]?.ownDbfs ?? Number.NEGATIVE_INFINITY;
    const before = recorded.members[m]?.ownDbfs ?? Number.NEGATIVE_INFINITY;
    const [x0, x1] = [xOf(onsetSample), xOf(endSample)];
    if (Math.abs(before - own) >= 0.05) svg += bar(x0, x1, base, before, outline);
    svg += bar(
      x0,
      x1,
      base,
      own,
      `fill="${kindFill(group.kind)}" stroke="${KIND_STYLES[group.kind].colour}" stroke-width="0.6"`,
    );
    if (readable) svg += svgText(plot.left + plot.width + 6, base - lane / 2 + 5, levelText(own), figure);
  });
  const base = bottom - 1;
  const [x0, x1] = [xOf(group.startSample), xOf(group.endSample)];
  if (Math.abs(recorded.sumDbfs - level.sumDbfs) >= 0.05) svg += bar(x0, x1, base, recorded.sumDbfs, outline);
  svg += bar(x0, x1, base, level.sumDbfs, `fill="${INK}"`);
  svg += svgText(x, base - lane / 2 + 5, 'sum', { bold: true });
  const over = level.overLeadDb;
  const sumText = over === null ? levelText(level.sumDbfs) : `${decibelText(over, '+')} dB`;
  svg += svgText(plot.left + plot.width + 6, base - lane / 2 + 5, sumText, { bold: true });
  const lead = group.members.find(({ takeId }) => takeId === scene.lead.id);
  for (const sample of lead === undefined ? [] : [lead.onsetSample, lead.endSample])
    svg += svgLine(
      xOf(sample),
      top,
      xOf(sample),
      bottom,
      `stroke="${INK}" stroke-width="1" stroke-dasharray="3 3"`,
    );
  return svg + drawAxis(scene, group, { from, to, bottom, xOf, plot });
}

/** Times in a panel count from the lead's onset; from the first onset where the lead has none. */
function drawAxis(
  { sampleRateHz, lead }: StackScene,
  group: EventGroup,
  axis: {
    readonly from: number;
    readonly to: number;
    readonly bottom: number;
    readonly xOf: (sample: number) => number;
    readonly plot: { readonly left: number; readonly width: number };
  },
): string {
  const { from, to, bottom, xOf, plot } = axis;
  const zero = group.members.find(({ takeId }) => takeId === lead.id)?.onsetSample ?? group.startSample;
  const { seconds } = timeTicks((from - zero) / sampleRateHz, (to - zero) / sampleRateHz, 4);
  let svg = svgText(plot.left + plot.width + 6, bottom + 16, 'ms', { colour: SOFT_INK });
  let free = Number.NEGATIVE_INFINITY;
  for (const second of seconds) {
    const x = xOf(zero + second * sampleRateHz);
    svg += svgLine(x, bottom, x, bottom + 4, `stroke="${SOFT_INK}" stroke-width="1"`);
    const text = gainText(1000 * second);
    const half = textWidth(text, 12) / 2;
    if (x - half < free || x + half > plot.left + plot.width + 4) continue;
    svg += svgText(x, bottom + 16, text, { colour: SOFT_INK, anchor: 'middle' });
    free = x + half + 3;
  }
  return svg;
}

function absence({ absentTakeIds }: EventGroup, { id }: Take): string {
  return absentTakeIds.includes(id) ? 'not there' : 'missing';
}

function levelText(db: number): string {
  return Number.isFinite(db) ? `${decibelText(db)} dBFS` : 'silent';
}
