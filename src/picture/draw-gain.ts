import { gainColumns, gainLine } from './gain-line.js';
import { INK, SOFT_INK } from './kind-style.js';
import { coordinate, gainText } from './numbers.js';
import { type Scene, type View, viewX } from './scene.js';
import { svgLine, svgPath, svgText } from './svg-parts.js';

/** Deeper cuts than this are drawn at the foot of the lane; their labels still say the number. */
const DEEPEST_DB = -24;

/** Least distance of two ticks: a line of text. */
const TICK_PIXELS = 12.5;

/** The dB range of a gain axis and its ticks, top first. */
export interface GainAxis {
  readonly mostDb: number;
  readonly leastDb: number;
  readonly ticksDb: readonly number[];
}

/**
 * The axis for gains between two values: whole multiples of 3 dB, 0 always on it, never below −24.
 *
 * @param leastDb and `mostDb`: the extremes to be shown, in dB.
 * @param mostTicks at least 2: the ticks are multiples of 3, 6, 12, 24 or 48 dB, whichever is the first to be few enough.
 */
export function gainAxis(leastDb: number, mostDb: number, mostTicks: number): GainAxis {
  const top = Math.max(0, Math.ceil(mostDb / 3) * 3);
  const foot = Math.min(-6, Math.max(DEEPEST_DB, Math.floor(leastDb / 3) * 3));
  let ticksDb: number[] = [];
  for (const step of [3, 6, 12, 24, 48]) {
    ticksDb = [];
    for (let db = Math.floor(top / step) * step; db >= foot; db -= step) ticksDb.push(db + 0);
    if (ticksDb.length <= mostTicks) break;
  }
  return { mostDb: top, leastDb: foot, ticksDb };
}

/** True where the gain line is drawn column by column, at the deepest of each, not corner by corner. */
export function isDense(regionCount: number, columns: number): boolean {
  return regionCount > columns / 3;
}

/** The gain lane: the gain line in dB over its axis, filled from 0 dB so that every cut hangs down as a block. */
export function drawGain(scene: Scene, view: View, top: number, regionCount: number): string {
  const { left, width, gainHeight } = view;
  const columns = Math.round(width);
  const dense = isDense(regionCount, columns);
  let leastDb = 0;
  let mostDb = 0;
  let data = '';
  const span = gainColumns(scene.breakpoints, view.startSample, view.endSample, columns);
  for (let c = 0; c < columns; c++) {
    leastDb = Math.min(leastDb, span.leastDb[c] as number);
    mostDb = Math.max(mostDb, span.mostDb[c] as number);
  }
  const axis = gainAxis(leastDb, mostDb, 1 + Math.floor((gainHeight - 4) / TICK_PIXELS));
  // Two pixels stay free at the foot so that the line itself is inside the lane.
  const y = (db: number): number =>
    top + 2 + ((axis.mostDb - Math.max(db, axis.leastDb)) / (axis.mostDb - axis.leastDb)) * (gainHeight - 4);
  if (dense) {
    for (let c = 0; c < columns; c++) {
      const from = coordinate(left + c);
      const to = coordinate(left + c + 1);
      const deep = span.leastDb[c] as number;
      const edge = deep < 0 ? deep : (span.mostDb[c] as number);
      data += `${c === 0 ? 'M' : 'L'}${from} ${coordinate(y(edge))}L${to} ${coordinate(y(edge))}`;
    }
  } else {
    for (const corner of gainLine(scene.breakpoints, view.startSample, view.endSample)) {
      const x = coordinate(viewX(view, corner.sample));
      data += `${data === '' ? 'M' : 'L'}${x} ${coordinate(y(corner.gainDb))}`;
    }
  }
  const right = left + width;
  const zero = coordinate(y(0));
  const parts: string[] = [];
  if (view.gutter >= 80) parts.push(svgText(left - view.gutter, top + 10, 'Gain', { bold: true }));
  for (const db of axis.ticksDb) {
    parts.push(
      svgLine(left, y(db), right, y(db), `stroke="${db === 0 ? '#8f8896' : '#ddd7e0'}" stroke-width="0.8"`),
    );
    const beyond = db === axis.leastDb && leastDb < axis.leastDb ? '≤ ' : '';
    const text = `${beyond}${gainText(db)}${db === 0 ? ' dB' : ''}`;
    parts.push(svgText(left - 6, y(db) + 4, text, { colour: SOFT_INK, anchor: 'end' }));
  }
  if (data !== '') {
    const fill = `${data}L${coordinate(right)} ${zero}L${coordinate(left)} ${zero}Z`;
    parts.push(svgPath(fill, 'fill="#d8d2de"'));
    parts.push(svgPath(data, `fill="none" stroke="${INK}" stroke-width="1.6" stroke-linejoin="round"`));
  }
  return parts.join('');
}
