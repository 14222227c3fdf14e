import { REGION_KINDS, type Region, type RegionKind } from '../regions/region.js';
import { decibelsFromAmplitude } from '../signal/decibels.js';
import type { Doubles } from '../signal/samples.js';
import type { KindCoverage } from './kind-coverage.js';
import { INK, KIND_STYLES, SOFT_INK } from './kind-style.js';
import { coordinate, gainText } from './numbers.js';
import { peakEnvelope } from './peak-envelope.js';
import { type Scene, type View, viewX } from './scene.js';
import { svgLine, svgPath, svgText } from './svg-parts.js';

const BODY = '#8b8693';

/**
 * The waveform lane: filled as it sounds with the gain, outlined as it was recorded wherever the gain changes it.
 *
 * Regions drawn one by one are filled in the colour of their kind; in a dense view a column is, where one kind fills most of it.
 * The vertical scale is the view's own peak, which its axis states.
 */
export function drawWaveform(
  scene: Scene,
  view: View,
  top: number,
  regions: readonly Region[],
  coverage: readonly KindCoverage[],
): string {
  const columns = Math.round(view.width);
  const { channels, list, treated } = scene;
  const envelope = peakEnvelope(channels, list, view.startSample, view.endSample, columns, treated);
  const { beforeLeast, beforeMost, afterLeast, afterMost } = envelope;
  let peak = 0;
  for (let c = 0; c < columns; c++) {
    peak = Math.max(peak, beforeMost[c] as number, -(beforeLeast[c] as number));
    peak = Math.max(peak, afterMost[c] as number, -(afterLeast[c] as number));
  }
  const middle = top + view.waveHeight / 2;
  const scale = peak > 0 ? (view.waveHeight / 2 - 2) / peak : 0;
  const area = (least: Doubles, most: Doubles, from: number, to: number): string =>
    envelopePath(view, least, most, from, to, middle, scale);

  const kindPaths = new Map<RegionKind, string>();
  const add = (kind: RegionKind, from: number, to: number): void => {
    kindPaths.set(kind, (kindPaths.get(kind) ?? '') + area(afterLeast, afterMost, from, to));
  };
  if (view.rows === 'density') {
    for (const run of majorityRuns(coverage, columns)) add(run.kind, run.from, run.to);
  } else {
    for (const region of regions) {
      const from = Math.max(0, Math.floor(viewX(view, region.startSample) - view.left));
      const to = Math.min(columns, Math.max(from + 1, Math.ceil(viewX(view, region.endSample) - view.left)));
      add(region.kind, from, to);
    }
  }
  let outline = '';
  for (const run of changedRuns(envelope, columns))
    outline += area(beforeLeast, beforeMost, run.from, run.to);

  const parts = [drawLevelAxis(view, middle, peak, scale)];
  parts.push(svgPath(area(afterLeast, afterMost, 0, columns), `fill="${BODY}"`));
  parts.push(svgPath(outline, 'fill="#fff"'));
  parts.push(svgPath(view.rows === 'density' ? changedArea(envelope, columns, area) : '', `fill="${BODY}"`));
  for (const kind of REGION_KINDS)
    parts.push(svgPath(kindPaths.get(kind) ?? '', `fill="${KIND_STYLES[kind].colour}"`));
  parts.push(
    svgPath(outline, `fill="none" stroke="${INK}" stroke-width="${view.rows === 'density' ? 0.5 : 0.9}"`),
  );
  return parts.join('');
}

/** "After" of changed columns, again over the white of the outline. */
function changedArea(
  envelope: ReturnType<typeof peakEnvelope>,
  columns: number,
  area: (least: Doubles, most: Doubles, from: number, to: number) => string,
): string {
  let path = '';
  for (const run of changedRuns(envelope, columns))
    path += area(envelope.afterLeast, envelope.afterMost, run.from, run.to);
  return path;
}

function changedRuns(
  envelope: ReturnType<typeof peakEnvelope>,
  columns: number,
): readonly { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = [];
  for (let c = 0; c < columns; c++) {
    const changed =
      envelope.beforeLeast[c] !== envelope.afterLeast[c] || envelope.beforeMost[c] !== envelope.afterMost[c];
    if (!changed) continue;
    const last = runs[runs.length - 1];
    if (last?.to === c) last.to = c + 1;
    else runs.push({ from: c, to: c + 1 });
  }
  return runs;
}

function majorityRuns(
  coverage: readonly KindCoverage[],
  columns: number,
): readonly { kind: RegionKind; from: number; to: number }[] {
  const runs: { kind: RegionKind; from: number; to: number }[] = [];
  for (let c = 0; c < columns; c++) {
    const kind = coverage.find((entry) => (entry.all[c] as number) > 0.5)?.kind;
    if (kind === undefined) continue;
    const last = runs[runs.length - 1];
    if (last?.to === c && last.kind === kind) last.to = c + 1;
    else runs.push({ kind, from: c, to: c + 1 });
  }
  return runs;
}

function envelopePath(
  view: View,
  least: Doubles,
  most: Doubles,
  from: number,
  to: number,
  middle: number,
  scale: number,
): string {
  const y = (value: number, grow: number): string => coordinate(middle - value * scale + grow);
  // A third of a pixel each way keeps silence visible as a line.
  let upper = `M${coordinate(view.left + from)} ${y(most[from] as number, -0.35)}`;
  let lower = '';
  for (let c = from; c < to; c++) {
    const x0 = coordinate(view.left + c + (to - from > 2 ? 0.5 : 0));
    upper += `L${x0} ${y(most[c] as number, -0.35)}`;
    lower = `L${x0} ${y(least[c] as number, 0.35)}${lower}`;
  }
  const end = coordinate(view.left + to);
  return (
    `${upper}L${end} ${y(most[to - 1] as number, -0.35)}L${end} ${y(least[to - 1] as number, 0.35)}${lower}` +
    `L${coordinate(view.left + from)} ${y(least[from] as number, 0.35)}Z`
  );
}

function drawLevelAxis(view: View, middle: number, peak: number, scale: number): string {
  const { left, width } = view;
  const right = left + width;
  const parts = [svgLine(left, middle, right, middle, 'stroke="#c9c3cd" stroke-width="0.8"')];
  const look = { colour: SOFT_INK, anchor: 'end' } as const;
  const narrow = view.gutter < 80;
  if (!narrow) parts.push(svgText(left - view.gutter, middle + 4, 'Level', { bold: true }));
  if (peak === 0) {
    parts.push(svgText(left - 6, middle + 4, 'silent', look));
    return parts.join('');
  }
  const peakDb = decibelsFromAmplitude(peak);
  for (const [share, db] of [
    [1, peakDb],
    [0.5, peakDb + decibelsFromAmplitude(0.5)],
  ] as const) {
    const y = middle - share * peak * scale;
    const unit = share === 1 && !narrow ? ' dBFS' : '';
    parts.push(svgText(left - 6, y + (share === 1 ? 9 : 4), `${gainText(db)}${unit}`, look));
    for (const line of share === 1 ? [] : [y, 2 * middle - y])
      parts.push(
        svgLine(left, line, right, line, 'stroke="#c9c3cd" stroke-width="0.8" stroke-dasharray="1 4"'),
      );
  }
  if (narrow) parts.push(svgText(left - 6, middle + 4, 'dBFS', look));
  return parts.join('');
}
