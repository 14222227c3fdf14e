import { REGION_KINDS, type RegionKind } from '../regions/region.js';
import type { Samples } from '../signal/samples.js';
import type { Take } from '../takes/take.js';
import { INK, KIND_STYLES, SOFT_INK } from './kind-style.js';
import { coordinate, fitText, gainText, textWidth } from './numbers.js';
import { peakEnvelope } from './peak-envelope.js';
import { lineTimeText, type StackScene, takeName } from './stack-scene.js';
import { svgLine, svgPath, svgRect, svgText } from './svg-parts.js';
import { timeTicks } from './time-ticks.js';

const BODY = '#a9a4b0';
const BAND = '#e9e2d6';
const NUMBER_ROW = 18;
const SUM_HEIGHT = 66;
const GRID = 'stroke="#d9d3dc" stroke-width="0.8"';

/** Where the overview goes, in pixels. */
export interface OverviewPlace {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly gutter: number;
  /** False leaves the waveforms out, where the picture would grow too large. */
  readonly waves: boolean;
  /** Ids of the groups that are shown in panels; their numbers are bold. */
  readonly shownIds: ReadonlySet<number>;
}

/** Lanes by take over the common time line, a band through all of them for each group, and the sum over the lead below. */
export function drawStackOverview(
  scene: StackScene,
  place: OverviewPlace,
): { readonly svg: string; readonly bottom: number } {
  const { top } = place;
  const lane = Math.max(16, Math.min(52, Math.floor(520 / scene.takes.length)));
  const lanesTop = top + NUMBER_ROW;
  const lanesBottom = lanesTop + lane * scene.takes.length;
  const sumTop = lanesBottom + 14;
  const bottom = sumTop + SUM_HEIGHT;
  let svg = drawBands(scene, place, lanesTop, bottom) + drawNumbers(scene, place, top + 12);
  scene.takes.forEach((take, t) => {
    svg += drawLane(scene, place, take, lanesTop + t * lane, lane);
  });
  svg += drawSums(scene, place, sumTop) + drawAxis(scene, place, bottom);
  return { svg, bottom: bottom + 24 };
}

function xOf(scene: StackScene, { left, width, gutter }: OverviewPlace, sample: number): number {
  const share = (sample - scene.startSample) / (scene.endSample - scene.startSample);
  return left + gutter + share * (width - gutter);
}

/** Spans as one path of rectangles, joined where they meet within a quarter of a pixel, so that its length is bounded. */
function boxes(
  spans: readonly (readonly [number, number])[],
  y: number,
  height: number,
  least: number,
): string {
  let path = '';
  let from = Number.NaN;
  let to = Number.NaN;
  const close = (): void => {
    if (to > from)
      path += `M${coordinate(from)} ${coordinate(y)}H${coordinate(to)}V${coordinate(y + height)}H${coordinate(from)}Z`;
  };
  for (const [x0, x1] of spans) {
    if (x0 <= to + 0.25) to = Math.max(to, x1, x0 + least);
    else {
      close();
      from = x0;
      to = Math.max(x1, x0 + least);
    }
  }
  close();
  return path;
}

function drawBands(scene: StackScene, place: OverviewPlace, top: number, bottom: number): string {
  const spans = scene.groups.map(
    ({ startSample, endSample }) => [xOf(scene, place, startSample), xOf(scene, place, endSample)] as const,
  );
  return svgPath(boxes(spans, top, bottom - top, 1), `fill="${BAND}"`);
}

function drawNumbers(scene: StackScene, place: OverviewPlace, y: number): string {
  let svg = '';
  let free = Number.NEGATIVE_INFINITY;
  for (const { id, startSample, endSample } of scene.groups) {
    const bold = place.shownIds.has(id);
    const half = textWidth(String(id), 12, bold) / 2;
    const x = xOf(scene, place, (startSample + endSample) / 2);
    if (x - half < free) continue;
    svg += svgText(x, y, String(id), { anchor: 'middle', bold, colour: bold ? INK : SOFT_INK });
    free = x + half + 3;
  }
  return svg;
}

function drawLane(scene: StackScene, place: OverviewPlace, take: Take, top: number, height: number): string {
  const { left, width, gutter } = place;
  const isLead = take.id === scene.lead.id;
  const name = fitText(takeName(take), 12, gutter - 10, isLead);
  const twoLines = height >= 34;
  let svg = svgText(left, top + height / 2 + (twoLines ? -3 : 4), name, { bold: isLead });
  const facts = [isLead ? 'lead' : '', take.gainDb === 0 ? '' : `fader ${gainText(take.gainDb)} dB`];
  if (twoLines)
    svg += svgText(left, top + height / 2 + 13, facts.filter((fact) => fact !== '').join(', '), {
      colour: SOFT_INK,
    });
  svg += svgLine(left + gutter, top + height, left + width, top + height, GRID);
  const barHeight = Math.min(9, height / 3);
  if (place.waves) svg += drawWave(scene, place, take, top + 2, height - barHeight - 5);
  for (const kind of REGION_KINDS)
    svg += drawEvents(scene, place, take, kind, top + height - barHeight - 1, barHeight);
  return svg;
}

function drawEvents(
  scene: StackScene,
  place: OverviewPlace,
  take: Take,
  kind: RegionKind,
  y: number,
  height: number,
): string {
  const spans = scene.groups.flatMap((group) => {
    const member = group.kind === kind ? group.members.find(({ takeId }) => takeId === take.id) : undefined;
    if (member === undefined) return [];
    return [[xOf(scene, place, member.onsetSample), xOf(scene, place, member.endSample)] as const];
  });
  return svgPath(boxes(spans, y, height, 1.5), `fill="${KIND_STYLES[kind].colour}"`);
}

function drawWave(scene: StackScene, place: OverviewPlace, take: Take, top: number, height: number): string {
  const { offsetSamples, list, channels } = take;
  const x0 = xOf(scene, place, offsetSamples);
  const x1 = xOf(scene, place, offsetSamples + list.lengthSamples);
  const columns = Math.max(1, Math.round((x1 - x0) / (scene.takes.length > 12 ? 2 : 1)));
  const audio = (channels instanceof Float32Array ? [channels] : channels) as readonly Samples[];
  // As recorded, so nothing has to be rendered.
  const { beforeLeast, beforeMost } = peakEnvelope(audio, list, 0, list.lengthSamples, columns, audio);
  let peak = 0;
  for (let c = 0; c < columns; c++)
    peak = Math.max(peak, beforeMost[c] as number, -(beforeLeast[c] as number));
  const middle = top + height / 2;
  const scale = peak > 0 ? height / 2 / peak : 0;
  let upper = '';
  let lower = '';
  for (let c = 0; c < columns; c++) {
    const x = coordinate(x0 + ((c + 0.5) * (x1 - x0)) / columns);
    upper += `${c === 0 ? 'M' : 'L'}${x} ${coordinate(middle - (beforeMost[c] as number) * scale - 0.3)}`;
    lower = `L${x} ${coordinate(middle - (beforeLeast[c] as number) * scale + 0.3)}${lower}`;
  }
  return svgPath(`${upper}${lower}Z`, `fill="${BODY}"`);
}

function drawSums(scene: StackScene, place: OverviewPlace, top: number): string {
  const { left, width, gutter } = place;
  const bottom = top + SUM_HEIGHT;
  const overs = [...scene.levels, ...scene.recorded].flatMap(({ overLeadDb }) => overLeadDb ?? []);
  const most = 3 * Math.ceil(Math.max(6, ...overs.filter(Number.isFinite)) / 3);
  const yOf = (db: number): number => bottom - (Math.max(0, Math.min(most, db)) / most) * SUM_HEIGHT;
  let svg = svgText(left, top + 26, 'Sum', { bold: true });
  svg += svgText(left, top + 42, 'over lead, dB', { colour: SOFT_INK });
  for (let db = 0; db <= most; db += most > 12 ? 6 : 3) {
    svg += svgLine(left + gutter, yOf(db), left + width, yOf(db), GRID);
    svg += svgText(left + gutter - 5, yOf(db) + 4, String(db), { anchor: 'end', colour: SOFT_INK });
  }
  scene.groups.forEach(({ startSample, endSample }, g) => {
    const over = scene.levels[g]?.overLeadDb ?? null;
    const before = scene.recorded[g]?.overLeadDb ?? null;
    if (over === null) return;
    const middle = xOf(scene, place, (startSample + endSample) / 2);
    const half = Math.max(2, (xOf(scene, place, endSample) - xOf(scene, place, startSample)) / 2);
    svg += svgRect(middle - half, yOf(over), 2 * half, bottom - yOf(over), `fill="${INK}"`);
    if (before !== null && Math.abs(before - over) >= 0.05)
      svg += svgRect(
        middle - half,
        yOf(before),
        2 * half,
        bottom - yOf(before),
        `fill="none" stroke="${INK}" stroke-width="0.8"`,
      );
  });
  return svg;
}

function drawAxis(scene: StackScene, place: OverviewPlace, top: number): string {
  const { sampleRateHz, startSample, endSample } = scene;
  const room = place.width - place.gutter;
  const { seconds, decimals } = timeTicks(
    startSample / sampleRateHz,
    endSample / sampleRateHz,
    Math.max(2, Math.floor(room / 80)),
  );
  let svg = '';
  for (const second of seconds) {
    const x = xOf(scene, place, second * sampleRateHz);
    const right = place.left + place.width;
    const anchor = x < place.left + place.gutter + 24 ? 'start' : x > right - 24 ? 'end' : 'middle';
    svg += svgLine(x, top, x, top + 5, `stroke="${SOFT_INK}" stroke-width="1"`);
    svg += svgText(x, top + 17, lineTimeText(scene, second * sampleRateHz, decimals), {
      colour: SOFT_INK,
      anchor,
    });
  }
  return svg;
}
