import type { RegionList } from '../regions/region.js';
import { flowItems } from './flow-items.js';
import { columnSample, drawColumn, type ForecastColumn, filledMark, hollowMark } from './forecast-columns.js';
import { INK, KIND_STYLES, SOFT_INK } from './kind-style.js';
import { gainText, textWidth, timeText } from './numbers.js';
import { PICTURE_INNER, PICTURE_MARGIN, PICTURE_WIDTH } from './picture-page.js';
import { placeLabels } from './place-labels.js';
import { svgLine, svgRect, svgText } from './svg-parts.js';
import { timeTicks } from './time-ticks.js';

const LEFT = 84;
const WIDTH = PICTURE_WIDTH - PICTURE_MARGIN - LEFT;
const HEIGHT = 300;
const LANE = 16;
const SIZE = 12.5;
/** Further from the voice than this a sound is drawn at the edge; its label still says the number. */
const FURTHEST_DB = 36;
const GRID = 'stroke="#ddd7e0" stroke-width="0.8"';
const ZERO = `stroke="${INK}" stroke-width="1.4"`;
const TARGET = 'stroke="#a8123e" stroke-width="1.6" stroke-dasharray="7 4"';
/** From a column to its label. */
const THREAD = 'stroke="#cfc8d4" stroke-width="0.8"';
const AXIS = 'stroke="#8f8896" stroke-width="0.8"';

/** The columns over their axes, with labels beneath. `top`: where the plot begins. */
export function drawForecastPlot(
  columns: readonly ForecastColumn[],
  list: RegionList,
  targetDb: number | undefined,
  top: number,
): { readonly svg: string; readonly bottom: number; readonly notes: readonly string[] } {
  const levels = columns.flatMap(({ beforeDb, afterDb }) => [beforeDb, afterDb]);
  const least = Math.min(-6, targetDb ?? 0, ...levels);
  const most = Math.max(3, targetDb ?? 0, ...levels);
  const footDb = Math.max(-FURTHEST_DB, Math.floor(least / 3) * 3);
  const headDb = Math.min(FURTHEST_DB, Math.ceil(most / 3) * 3);
  const y = (db: number): number =>
    top + ((headDb - Math.min(headDb, Math.max(footDb, db))) / (headDb - footDb)) * HEIGHT;
  const x = (sample: number): number => LEFT + (sample / list.lengthSamples) * WIDTH;
  const right = LEFT + WIDTH;
  const single = columns.length <= 60;
  // Above the line a consonant stands out of the voice: that is where a listener is hurt.
  let svg = svgRect(LEFT, top, WIDTH, y(0) - top, 'fill="#f4e9e6"');
  const step = headDb - footDb > 30 ? 6 : 3;
  for (let db = Math.floor(headDb / step) * step; db >= footDb; db -= step) {
    svg += svgLine(LEFT, y(db), right, y(db), db === 0 ? ZERO : GRID);
    svg += svgText(LEFT - 8, y(db) + 4, db === 0 ? '0 dB' : gainText(db), {
      colour: SOFT_INK,
      anchor: 'end',
    });
  }
  if (targetDb !== undefined) svg += svgLine(LEFT, y(targetDb), right, y(targetDb), TARGET);
  const clipSeconds = list.lengthSamples / list.sampleRateHz;
  const scale = { x, y, sampleRateHz: list.sampleRateHz, clipSeconds };
  const size = single ? { bar: 6, fold: 7, radius: 4 } : { bar: 4, fold: 4, radius: 2.2 };
  let marks = '';
  let folded = false;
  for (const column of columns) {
    const drawn = drawColumn(column, scale, size);
    marks += drawn.svg;
    folded ||= drawn.folds > 0;
  }
  const notes: string[] = [];
  if (folded) notes.push('Where a stage goes the other way, the bar goes on to the right.');
  const beyond = columns.filter((c) => outside(c, footDb, headDb)).length;
  if (beyond > 0) notes.push(`${counted(beyond)} beyond the scale, drawn at its edge.`);
  let bottom = top + HEIGHT;
  const texts = columns.map(
    ({ region, rise }) => `${KIND_STYLES[region.kind].tag} ${gainText(rise.riseDb as number)}`,
  );
  const labels = placeLabels(
    columns.map((column, i) => ({
      centre: x(columnSample(column)),
      width: textWidth(texts[i] as string, 12, true),
      priority: column.afterDb,
    })),
    { left: LEFT - 20, right: right + 20, lanes: 4, gap: 5, shift: 14 },
  );
  for (const { index, lane, left, right: end } of labels.placed) {
    const column = columns[index] as ForecastColumn;
    const at = x(columnSample(column));
    svg += svgLine(at, y(Math.min(column.beforeDb, column.afterDb)), at, top + HEIGHT, THREAD);
    const { colour } = KIND_STYLES[column.region.kind];
    svg += svgText((left + end) / 2, bottom + 16 + lane * LANE, texts[index] as string, {
      colour,
      anchor: 'middle',
      bold: true,
    });
  }
  svg += marks;
  svg += svgText(PICTURE_MARGIN, bottom + 16, 'Rise', { bold: true });
  if (labels.droppedCount > 0) notes.push(`${labels.droppedCount} labels left out for want of room.`);
  bottom += labels.laneCount * LANE + 8;
  const ticks = timeTicks(0, clipSeconds, 14);
  for (const seconds of ticks.seconds) {
    const at = x(seconds * list.sampleRateHz);
    svg += svgLine(at, bottom, at, bottom + 4, AXIS);
    const text = timeText(seconds, ticks.decimals, clipSeconds);
    svg += svgText(at, bottom + 16, `${text}${seconds === 0 && clipSeconds < 60 ? ' s' : ''}`, {
      colour: SOFT_INK,
      anchor: 'middle',
    });
  }
  svg += svgLine(LEFT, bottom, right, bottom, AXIS);
  return { svg, bottom: bottom + 22, notes };
}

function outside({ beforeDb, afterDb }: ForecastColumn, footDb: number, headDb: number): boolean {
  return Math.min(beforeDb, afterDb) < footDb || Math.max(beforeDb, afterDb) > headDb;
}

/** What marks and lines mean, in one row. */
export function drawForecastKey(targetDb: number | undefined, top: number): string {
  const y = top + 9;
  const items: (readonly [string, (x: number) => string])[] = [
    ['into the chain', (x) => hollowMark(x + 14, y, 4)],
    ['behind it', (x) => filledMark(x + 14, y, 4)],
    ['as loud as the voice beside it', (x) => svgLine(x, y, x + 28, y, ZERO)],
  ];
  if (targetDb !== undefined)
    items.push([`target, ${gainText(targetDb)} dB`, (x) => svgLine(x, y, x + 28, y, TARGET)]);
  const places = flowItems(
    items.map(([text]) => 36 + textWidth(text, SIZE)),
    PICTURE_INNER,
    26,
  );
  return items
    .map(([text, swatch], i) => {
      const x = PICTURE_MARGIN + (places[i]?.x as number);
      return swatch(x) + svgText(x + 36, y + 4, text, { size: SIZE });
    })
    .join('');
}

/** A number of regions in words. */
export function counted(count: number): string {
  return count === 1 ? '1 region' : `${count} regions`;
}
