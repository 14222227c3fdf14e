import { filledMark, hollowMark } from '../../src/picture/forecast-columns.js';
import { INK, PAPER, SOFT_INK } from '../../src/picture/kind-style.js';
import { textWidth, timeText } from '../../src/picture/numbers.js';
import { placeLabels } from '../../src/picture/place-labels.js';
import { svgLine, svgRect, svgText } from '../../src/picture/svg-parts.js';
import { timeTicks } from '../../src/picture/time-ticks.js';

/** One consonant before and after a decision; values in the unit of the picture. */
export interface DecisionMark {
  readonly seconds: number;
  readonly before: number;
  readonly after: number;
  /** What stands below it. */
  readonly label: string;
}

/** A level to compare with. */
export interface DecisionLine {
  readonly value: number;
  readonly text: string;
  readonly style: 'solid' | 'dashed' | 'dashDotted' | 'dotted';
}

/** What a decision did to every consonant of a clip. */
export interface DecisionPicture {
  readonly title: string;
  /** The result in numbers, one line. */
  readonly facts: string;
  readonly unit: string;
  /** What the hollow mark, the filled one and the labels are. */
  readonly words: { readonly before: string; readonly after: string; readonly label: string };
  readonly durationSeconds: number;
  readonly marks: readonly DecisionMark[];
  readonly lines: readonly DecisionLine[];
}

const WIDTH = 1200;
const MARGIN = 28;
const LEFT = 92;
const RIGHT = WIDTH - MARGIN;
const TOP = 124;
const PLOT = 260;
const LANE = 16;
const SIZE = 12.5;
const FONT =
  'Inter, &quot;Source Sans 3&quot;, &quot;Segoe UI&quot;, Roboto, &quot;Helvetica Neue&quot;, Arial, &quot;DejaVu Sans&quot;, sans-serif';
const GRID = 'stroke="#ddd7e0" stroke-width="0.8"';
const THREAD = 'stroke="#cfc8d4" stroke-width="0.8"';
const AXIS = 'stroke="#8f8896" stroke-width="0.8"';
const MOVE = `stroke="${INK}" stroke-width="1.6"`;
const LINES: Readonly<Record<DecisionLine['style'], string>> = {
  solid: `stroke="${INK}" stroke-width="1.4"`,
  dashed: 'stroke="#a8123e" stroke-width="1.6" stroke-dasharray="7 4"',
  dashDotted: 'stroke="#a8123e" stroke-width="1.6" stroke-dasharray="9 3 2 3"',
  dotted: 'stroke="#1b6a8c" stroke-width="1.8" stroke-dasharray="2 4"',
};

/** Each consonant over the time of the clip, hollow as it was and filled as it is now: SVG, 1200 units wide. */
export function decisionPicture(picture: DecisionPicture): string {
  const { marks, lines, durationSeconds } = picture;
  const values = [...marks.flatMap(({ before, after }) => [before, after]), ...lines.map((l) => l.value)];
  const ticks = axisTicks(Math.min(...values), Math.max(...values));
  const [foot, head] = [ticks[0] as number, ticks.at(-1) as number];
  const y = (value: number): number => TOP + ((head - value) / (head - foot)) * PLOT;
  const x = (seconds: number): number => LEFT + (seconds / durationSeconds) * (RIGHT - LEFT);
  let svg = svgText(MARGIN, 46, picture.title, { size: 24, bold: true });
  svg += svgText(MARGIN, 70, picture.facts, { size: 14, colour: SOFT_INK }) + key(picture);
  for (const tick of ticks) {
    svg += svgLine(LEFT, y(tick), RIGHT, y(tick), GRID);
    const unit = tick === head ? ` ${picture.unit}` : '';
    svg += svgText(LEFT - 8, y(tick) + 4, number(tick) + unit, { colour: SOFT_INK, anchor: 'end' });
  }
  for (const line of lines) svg += svgLine(LEFT, y(line.value), RIGHT, y(line.value), LINES[line.style]);
  const placed = placeLabels(
    marks.map(({ seconds, label, before }) => ({
      centre: x(seconds),
      width: textWidth(label, 12, true),
      priority: before,
    })),
    { left: LEFT - 20, right: RIGHT + 20, lanes: 4, gap: 5, shift: 14 },
  );
  if (placed.droppedCount > 0) throw new Error(`no room for ${placed.droppedCount} labels`);
  for (const { index, lane, left, right } of placed.placed) {
    const { seconds, before, after, label } = marks[index] as DecisionMark;
    svg += svgLine(x(seconds), y(Math.min(before, after)), x(seconds), TOP + PLOT, THREAD);
    svg += svgText((left + right) / 2, TOP + PLOT + 16 + lane * LANE, label, {
      anchor: 'middle',
      bold: true,
    });
  }
  for (const { seconds, before, after } of marks) {
    svg += svgLine(x(seconds), y(before), x(seconds), y(after), MOVE);
    svg += hollowMark(x(seconds), y(before), 4.5) + filledMark(x(seconds), y(after), 4);
  }
  const bottom = TOP + PLOT + placed.laneCount * LANE + 8;
  const times = timeTicks(0, durationSeconds, 14);
  for (const seconds of times.seconds) {
    svg += svgLine(x(seconds), bottom, x(seconds), bottom + 4, AXIS);
    const text = timeText(seconds, times.decimals, durationSeconds) + (seconds === 0 ? ' s' : '');
    svg += svgText(x(seconds), bottom + 16, text, { colour: SOFT_INK, anchor: 'middle' });
  }
  svg += svgLine(LEFT, bottom, RIGHT, bottom, AXIS);
  const height = bottom + 30;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}"` +
    ` role="img" font-family="${FONT}"><title>${picture.title}</title><desc>${picture.facts}</desc>` +
    `${svgRect(0, 0, WIDTH, height, `fill="${PAPER}"`)}${svg}</svg>\n`
  );
}

/** What marks, lines and labels mean, in one row. */
function key({ words, lines }: DecisionPicture): string {
  const y = 98;
  const items: (readonly [string, (x: number) => string])[] = [
    [words.before, (x) => hollowMark(x + 10, y, 4.5)],
    [words.after, (x) => filledMark(x + 10, y, 4)],
    ...lines.map(({ text, style }) => [text, (x: number) => svgLine(x, y, x + 28, y, LINES[style])] as const),
    [`below: ${words.label}`, () => ''],
  ];
  let x = MARGIN;
  return items
    .map(([text, swatch]) => {
      const mark = swatch(x);
      const at = x + (mark === '' ? 0 : 36);
      x = at + textWidth(text, SIZE) + 22;
      return mark + svgText(at, y + 4, text, { size: SIZE });
    })
    .join('');
}

/** Round values from below the least to above the most, five to ten of them. */
function axisTicks(least: number, most: number): readonly number[] {
  const step = [1, 2, 3, 5, 10, 20, 30, 50, 100].find((s) => (most - least) / s <= 8) ?? 200;
  const first = Math.floor(least / step);
  const last = Math.max(first + 1, Math.ceil(most / step));
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
}

/** At most one decimal and a true minus sign. */
export function number(value: number): string {
  const rounded = Math.round(value * 10) / 10;
  return rounded < 0 ? `−${-rounded}` : String(Math.abs(rounded));
}
