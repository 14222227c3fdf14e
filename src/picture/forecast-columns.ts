import type { RegionRise } from '../forecast/forecast-rise.js';
import type { Region } from '../regions/region.js';
import { escapeXml } from './escape-xml.js';
import { INK, KIND_STYLES, PAPER } from './kind-style.js';
import { coordinate, gainText, timeText } from './numbers.js';
import { svgLine, svgRect } from './svg-parts.js';

/** How a stage of a chain looks: our own choice. The pattern tells neighbours apart without colour. */
interface StageStyle {
  /** At least 3:1 against the paper. */
  readonly colour: string;
  /** Marks inside a 6 by 6 tile, stroked in the colour; empty: plain colour. */
  readonly marks: string;
}

const STYLES: readonly StageStyle[] = [
  { colour: '#4f5660', marks: 'M0 1.5H6M0 4.5H6' },
  { colour: '#1b6a8c', marks: '' },
  { colour: '#b0560f', marks: 'M-1.5 4.5L4.5 -1.5M1.5 7.5L7.5 1.5' },
  { colour: '#6b3fa0', marks: 'M1 2H4M3 5H6' },
  { colour: '#3b7a34', marks: 'M0 0L6 6M6 0L0 6' },
  { colour: '#9a2b62', marks: 'M0 3H6' },
];

function styleOf(stage: number): StageStyle {
  return STYLES[stage % STYLES.length] as StageStyle;
}

/** Attributes of a bar that a stage adds; after the last look the first comes again; the patterns must be among the definitions of the picture. */
export function stagePaint(stage: number): string {
  const { colour, marks } = styleOf(stage);
  const fill = marks === '' ? colour : `url(#lenition-stage-${stage % STYLES.length})`;
  return `fill="${fill}" stroke="${colour}" stroke-width="1"`;
}

/** The patterns of the first stages of a chain. */
export function stagePatterns(stageCount: number): string {
  let svg = '';
  for (let stage = 0; stage < Math.min(stageCount, STYLES.length); stage++) {
    const { colour, marks } = styleOf(stage);
    if (marks === '') continue;
    svg +=
      `<pattern id="lenition-stage-${stage}" width="6" height="6" patternUnits="userSpaceOnUse">` +
      `<rect width="6" height="6" fill="#fff"/>` +
      `<path d="${marks}" fill="none" stroke="${colour}" stroke-width="1.4"/></pattern>`;
  }
  return svg;
}

/** A region that has a rise. */
export interface ForecastColumn {
  readonly region: Region;
  readonly rise: RegionRise;
  readonly beforeDb: number;
  readonly afterDb: number;
}

/** Where columns stand: `x` of a sample, `y` of a level, both in pixels. */
export interface ColumnScale {
  readonly x: (sample: number) => number;
  readonly y: (db: number) => number;
  readonly sampleRateHz: number;
  readonly clipSeconds: number;
}

/** Sizes of a column, in pixels. */
export interface ColumnSize {
  readonly bar: number;
  /** How far a line that turns back moves to the right. */
  readonly fold: number;
  readonly radius: number;
}

/** Smaller changes than what a person reads as ±0.1 dB are not drawn. */
const LEAST_PART_DB = 0.05;

/** Smaller changes do not turn a line back: on the paper they are lower than the mark that would have to move. */
const LEAST_TURN_DB = 0.25;

/** The sample that a column stands for: the middle of its region. */
export function columnSample({ region }: ForecastColumn): number {
  return (region.startSample + region.endSample) / 2;
}

/**
 * One region: a hollow mark where it enters the chain, the part that each stage adds, a filled mark where it leaves.
 *
 * A stage that goes the other way than the one before it continues beside it, so that no part hides another.
 */
export function drawColumn(
  column: ForecastColumn,
  scale: ColumnScale,
  size: ColumnSize,
): { readonly svg: string; readonly folds: number } {
  const { rise, beforeDb, afterDb } = column;
  const x = scale.x(columnSample(column));
  // Without the rise of every stage nothing says where a part would end; the marks still stand.
  const parts = rise.byStage.every((part) => part.riseDb !== null) ? rise.byStage : [];
  let bars = '';
  let folds = 0;
  let direction = 0;
  let levelDb = beforeDb;
  for (const part of parts) {
    const fromDb = levelDb;
    levelDb += part.riseDb as number;
    if (Math.abs(levelDb - fromDb) < LEAST_PART_DB) continue;
    if (Math.abs(levelDb - fromDb) >= LEAST_TURN_DB) {
      const turn = Math.sign(levelDb - fromDb);
      if (direction !== 0 && turn !== direction) folds++;
      direction = turn;
    }
    const top = scale.y(Math.max(fromDb, levelDb));
    const height = scale.y(Math.min(fromDb, levelDb)) - top;
    bars += svgRect(x + folds * size.fold - size.bar / 2, top, size.bar, height, stagePaint(part.stage));
  }
  const end = x + folds * size.fold;
  const [y0, y1] = [scale.y(beforeDb), scale.y(afterDb)];
  return {
    svg:
      `<g><title>${escapeXml(columnText(column, scale))}</title>` +
      (bars === '' ? svgLine(x, y0, end, y1, `stroke="${INK}" stroke-width="1.2"`) : bars) +
      hollowMark(x, y0, size.radius) +
      `${filledMark(end, y1, size.radius)}</g>`,
    folds,
  };
}

/** The mark of a sound that enters the chain. */
export function hollowMark(x: number, y: number, radius: number): string {
  return circle(x, y, radius, `fill="${PAPER}" stroke="${INK}" stroke-width="1.5"`);
}

/** The mark of a sound behind the chain; the rim parts it from what it stands on. */
export function filledMark(x: number, y: number, radius: number): string {
  return circle(x, y, radius + 0.5, `fill="${INK}" stroke="${PAPER}" stroke-width="1"`);
}

function circle(x: number, y: number, radius: number, attributes: string): string {
  return `<circle cx="${coordinate(x)}" cy="${coordinate(y)}" r="${radius}" ${attributes}/>`;
}

/** All figures of a column in one line, for the text that appears under the pointer. */
function columnText({ region, rise, beforeDb, afterDb }: ForecastColumn, scale: ColumnScale): string {
  const start = timeText(region.startSample / scale.sampleRateHz, 3, scale.clipSeconds);
  const stages = rise.byStage
    .slice(0, 12)
    .map(({ stage, riseDb }) => `stage ${stage + 1} ${riseDb === null ? 'unknown' : gainText(riseDb)}`);
  return [
    `${KIND_STYLES[region.kind].word} ${region.id}`,
    `${start}${scale.clipSeconds < 60 ? ' s' : ''}`,
    `${gainText(beforeDb)} dB into the chain`,
    `${gainText(afterDb)} dB behind it`,
    ...stages,
  ].join(' · ');
}
