import { REGION_KINDS, type RegionKind } from '../regions/region.js';
import type { GroupLevel } from '../takes/measure-groups.js';
import { drawStackOverview } from './draw-stack-overview.js';
import { drawStackPanels } from './draw-stack-panels.js';
import { type FlowPlace, flowItems } from './flow-items.js';
import { INK, KIND_STYLES, kindFill, kindPattern, SOFT_INK } from './kind-style.js';
import { fitText, textWidth } from './numbers.js';
import { PICTURE_INNER, PICTURE_MARGIN, picturePage } from './picture-page.js';
import { decibelText, lineTimeText, type StackScene, spreadText } from './stack-scene.js';
import { svgLine, svgRect, svgText } from './svg-parts.js';

const GUTTER = 118;
const SIZE = 12.5;

/** The whole picture of a stack from checked input. */
export function composeStack(
  scene: StackScene,
  settings: { readonly name: string; readonly detailCount: number; readonly waves: boolean },
): string {
  const { groups } = scene;
  const heading = settings.name === '' ? 'Stack of takes' : settings.name;
  const facts = factsLine(scene);
  const shown = highestSums(scene.recorded, settings.detailCount);
  const kinds = REGION_KINDS.filter((kind) => groups.some((group) => group.kind === kind));
  let body = svgText(PICTURE_MARGIN, 46, fitText(heading, 24, PICTURE_INNER, true), { size: 24, bold: true });
  body += svgText(PICTURE_MARGIN, 70, facts, { size: 14, colour: SOFT_INK });
  const legend = drawLegend(kinds, 86);
  body += legend.svg;
  const overview = drawStackOverview(scene, {
    left: PICTURE_MARGIN,
    top: legend.bottom + 8,
    width: PICTURE_INNER,
    gutter: GUTTER,
    waves: settings.waves,
    shownIds: new Set(shown.map((g) => groups[g]?.id ?? 0)),
  });
  body += overview.svg;
  let y = overview.bottom + 8;
  const note =
    groups.length === 0
      ? 'No groups.'
      : shown.length === 0 || shown.length === groups.length
        ? ''
        : `In detail: the ${shown.length} whose sum stands highest over the lead as recorded, in order of time.`;
  if (note !== '') {
    body += svgText(PICTURE_MARGIN, y + 10, note, { size: SIZE, colour: SOFT_INK });
    y += 26;
  }
  const panels = drawStackPanels(scene, shown, PICTURE_MARGIN, y, PICTURE_INNER);
  body += panels.svg;
  const height = Math.ceil(panels.bottom + 16);
  const description = [facts, note, ...shown.map((g) => groupText(scene, g))].join(' ');
  const patterns = kinds.map(kindPattern).join('');
  return picturePage({ heading, description, patterns, body, height });
}

/** Indices of the groups whose sum stands highest over the lead as recorded, in order of time; those without a lead come last. */
function highestSums(levels: readonly GroupLevel[], count: number): readonly number[] {
  const over = ({ overLeadDb }: GroupLevel): number => overLeadDb ?? Number.NEGATIVE_INFINITY;
  return levels
    .map((level, g) => ({ g, over: over(level) }))
    .sort((a, b) => (a.over === b.over ? a.g - b.g : b.over > a.over ? 1 : -1))
    .slice(0, count)
    .map(({ g }) => g)
    .sort((a, b) => a - b);
}

/** Takes, groups, spread and sum in one line. */
function factsLine({ takes, groups, levels, recorded }: StackScene): string {
  const several = groups.filter(({ members }) => members.length > 1);
  const full = groups.filter(({ members }) => members.length === takes.length).length;
  const parts = [
    takes.length === 1 ? '1 take' : `${takes.length} takes`,
    groups.length === 1 ? '1 group' : `${groups.length} groups`,
    `${full} with every take`,
  ];
  const onsets = several.map(({ onsetSpreadSeconds }) => onsetSpreadSeconds).sort((a, b) => a - b);
  const most = onsets[onsets.length - 1];
  if (most !== undefined)
    parts.push(
      `onset spread: median ${spreadText(onsets[onsets.length >> 1] as number)}, most ${spreadText(most)}`,
    );
  const before = highest(recorded);
  const after = highest(levels);
  if (before !== null && after !== null) {
    const now = before === after ? '' : `, with the gains ${after} dB`;
    parts.push(`sum over the lead: at most ${before} dB${now}`);
  }
  return `${parts.join(' · ')}.`;
}

function highest(levels: readonly GroupLevel[]): string | null {
  const overs = levels.flatMap(({ overLeadDb }) => overLeadDb ?? []).filter(Number.isFinite);
  return overs.length === 0 ? null : decibelText(Math.max(...overs), '+');
}

/** A group in words, for those who do not see the picture. */
function groupText(scene: StackScene, g: number): string {
  const group = scene.groups[g];
  const over = scene.levels[g]?.overLeadDb ?? null;
  if (group === undefined) return '';
  const sum = over === null ? 'no lead' : `sum ${decibelText(over, '+')} dB over the lead`;
  const missing = group.missingTakeIds.length === 0 ? '' : `, missing: ${group.missingTakeIds.join(', ')}`;
  return `Group ${group.id} at ${lineTimeText(scene, group.startSample, 2)}: onset spread ${spreadText(group.onsetSpreadSeconds)}, end spread ${spreadText(group.endSpreadSeconds)}, ${sum}${missing}.`;
}

function drawLegend(
  kinds: readonly RegionKind[],
  top: number,
): { readonly svg: string; readonly bottom: number } {
  const items: readonly { readonly text: string; readonly swatch: (x: number, y: number) => string }[] = [
    ...kinds.map((kind) => ({
      text: KIND_STYLES[kind].word,
      swatch: (x: number, y: number) =>
        svgRect(
          x,
          y + 3,
          28,
          11,
          `fill="${kindFill(kind)}" stroke="${KIND_STYLES[kind].colour}" stroke-width="1"`,
        ),
    })),
    {
      text: 'height: level; filled: with the gain, line: without',
      swatch: (x, y) =>
        svgRect(x, y + 1, 28, 14, `fill="#fff" stroke="${INK}" stroke-width="0.9"`) +
        svgRect(x, y + 7, 28, 8, `fill="${INK}"`),
    },
    {
      text: 'a group, from first onset to last end',
      swatch: (x, y) => svgRect(x, y + 1, 28, 15, 'fill="#e9e2d6"'),
    },
    {
      text: 'onset and end of the lead; ms from its onset',
      swatch: (x, y) =>
        svgLine(x + 8, y, x + 8, y + 16, `stroke="${INK}" stroke-dasharray="3 3"`) +
        svgLine(x + 20, y, x + 20, y + 16, `stroke="${INK}" stroke-dasharray="3 3"`),
    },
  ];
  const places = flowItems(
    items.map(({ text }) => 36 + textWidth(text, SIZE)),
    PICTURE_INNER,
    24,
  );
  let svg = '';
  items.forEach(({ text, swatch }, i) => {
    const { x, row } = places[i] as FlowPlace;
    svg +=
      swatch(PICTURE_MARGIN + x, top + row * 22) +
      svgText(PICTURE_MARGIN + x + 36, top + row * 22 + 13, text, { size: SIZE });
  });
  return { svg, bottom: top + ((places[places.length - 1]?.row ?? 0) + 1) * 22 };
}
