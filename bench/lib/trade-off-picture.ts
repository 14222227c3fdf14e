import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { bestTradeOffs } from '../../src/evaluation/best-trade-offs.js';
import { fMeasure } from '../../src/evaluation/f-measure.js';
import type { SweepPoint } from './sweep.js';

const WIDTH = 760;
const HEIGHT = 520;
const MARGIN = { left: 68, right: 28, top: 56, bottom: 60 };
const INK = '#23313a';
const PALE = '#dfe5e2';
const LINE = '#1b7a72';
const DOT = '#b8c4bf';
const BEST = '#d8693a';

/** Precision against recall, one dot a choice of settings; the unbeaten ones are joined, the best F1 is named. */
export function tradeOffPicture(points: readonly SweepPoint[], title: string): string {
  const x = scaleLinear(bounds(points.map((p) => p.recall)), [MARGIN.left, WIDTH - MARGIN.right]).nice();
  const y = scaleLinear(bounds(points.map((p) => p.precision)), [HEIGHT - MARGIN.bottom, MARGIN.top]).nice();
  const front = bestTradeOffs(points);
  // Straight between the points: nothing was measured there.
  const path = line<SweepPoint>(
    (p) => x(p.recall),
    (p) => y(p.precision),
  );
  const best = points.reduce((a, b) => (b.strictF1 > a.strictF1 ? b : a), points[0] as SweepPoint);
  const [right, top] = [WIDTH - MARGIN.right, MARGIN.top];
  const bottom = HEIGHT - MARGIN.bottom;
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${HEIGHT}" font-family="DejaVu Sans, Verdana, sans-serif" font-size="13" fill="${INK}">`,
    `<rect width="${WIDTH}" height="${HEIGHT}" fill="#fbfcfa"/>`,
    `<text x="${MARGIN.left}" y="30" font-size="16">${escapeText(title)}</text>`,
    ...x
      .ticks(8)
      .map(
        (t) =>
          `<path d="M${n(x(t))} ${top}V${bottom}" stroke="${PALE}"/><text x="${n(x(t))}" y="${bottom + 20}" text-anchor="middle">${t}</text>`,
      ),
    ...y
      .ticks(8)
      .map(
        (t) =>
          `<path d="M${MARGIN.left} ${n(y(t))}H${right}" stroke="${PALE}"/><text x="${MARGIN.left - 10}" y="${n(y(t) + 4)}" text-anchor="end">${t}</text>`,
      ),
    ...[0.7, 0.75, 0.8, 0.85, 0.9, 0.95].map((f) => equalF(f, x, y, right, bottom)),
    ...points.map((p) => dot(p, points.indexOf(p) + 1, x(p.recall), y(p.precision), DOT)),
    `<path d="${path(front) ?? ''}" fill="none" stroke="${LINE}" stroke-width="2"/>`,
    ...front.map((p) => dot(p, points.indexOf(p) + 1, x(p.recall), y(p.precision), LINE)),
    ...(points.length === 0
      ? []
      : [bestMark(best, points.indexOf(best) + 1, x(best.recall), y(best.precision))]),
    `<text x="${(MARGIN.left + right) / 2}" y="${HEIGHT - 16}" text-anchor="middle">recall, mean over folders</text>`,
    `<text transform="translate(18 ${(top + bottom) / 2}) rotate(-90)" text-anchor="middle">precision, mean over folders</text>`,
    '</svg>',
  ];
  return parts.filter((part) => part !== '').join('\n');
}

function bounds(values: readonly number[]): [number, number] {
  const least = Math.min(1, ...values);
  return [Math.max(0, least - Math.max(0.02, (1 - least) * 0.1)), 1];
}

/** Where F is the same everywhere: P = F·R / (2R − F). */
function equalF(
  f: number,
  x: ReturnType<typeof scaleLinear<number, number>>,
  y: ReturnType<typeof scaleLinear<number, number>>,
  right: number,
  bottom: number,
): string {
  const recalls = Array.from({ length: 101 }, (_, i) => f / 2 + 0.001 + (i / 100) * (1 - f / 2 - 0.001));
  const inside = recalls
    .map((r) => ({ r, p: (f * r) / (2 * r - f) }))
    .filter(
      ({ r, p }) => p <= 1 && x(r) >= MARGIN.left && y(p) <= bottom && Math.abs(fMeasure(p, r) - f) < 1e-9,
    );
  const last = inside.at(-1);
  if (last === undefined || inside.length < 2) return '';
  const d = line<{ r: number; p: number }>(
    ({ r }) => x(r),
    ({ p }) => y(p),
  )(inside);
  return `<path d="${d}" fill="none" stroke="${INK}" stroke-opacity="0.25" stroke-dasharray="2 4"/><text x="${n(Math.min(right, x(last.r)) - 4)}" y="${n(y(last.p) - 4)}" font-size="11" fill-opacity="0.55" text-anchor="end">F1 ${f}</text>`;
}

function bestMark(point: SweepPoint, number: number, x: number, y: number): string {
  const text = `choice ${number}: F1 ${point.strictF1.toFixed(3)}`;
  const leftward = x > WIDTH * 0.7;
  return `<circle cx="${n(x)}" cy="${n(y)}" r="8" fill="none" stroke="${BEST}" stroke-width="2"/><text x="${n(x + (leftward ? -14 : 14))}" y="${n(y + 20)}" text-anchor="${leftward ? 'end' : 'start'}" fill="${BEST}">${text}</text>`;
}

function dot(point: SweepPoint, number: number, x: number, y: number, colour: string): string {
  const name = escapeText(`choice ${number}: ${JSON.stringify(point.settings)}`);
  return `<circle cx="${n(x)}" cy="${n(y)}" r="4" fill="${colour}"><title>${name}</title></circle>`;
}

function n(value: number): string {
  return value.toFixed(1);
}

function escapeText(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}
