import { REGION_KINDS, type Region, type RegionKind } from '../regions/region.js';
import { escapeXml } from './escape-xml.js';
import type { KindCoverage } from './kind-coverage.js';
import { INK, KIND_STYLES, kindFill, SOFT_INK } from './kind-style.js';
import { coordinate, textWidth } from './numbers.js';
import { type LabelRequest, placeLabels } from './place-labels.js';
import { regionIsActive, regionLine, regionTag } from './region-text.js';
import { regionSpan, type Scene, type View } from './scene.js';
import { svgLine, svgPath, svgRect, svgText, TEXT_PIXELS } from './svg-parts.js';

const BAR = 11;
const LANE = 14;
const ROW_GAP = 5;
const DENSE_ROW = 15;
/** A bar narrower than this shows no pattern, only an empty frame: it is filled instead. */
const NARROW = 7;

/** Markup of the region rows, the height they took, and how many labels found no room. */
export interface DrawnRows {
  readonly svg: string;
  readonly height: number;
  readonly droppedCount: number;
}

/**
 * The region rows. Row, letter and pattern tell the kinds apart, so none depends on colour; an uncertain region is pale with
 * a dashed rim and a question mark.
 */
export function drawRegionRows(
  scene: Scene,
  view: View,
  top: number,
  regions: readonly Region[],
  coverage: readonly KindCoverage[],
): DrawnRows {
  if (view.rows === 'density') return drawDensityRows(view, top, coverage);
  if (view.rows === 'line') return drawBars(scene, view, top, regions, 2, ' dB', 1);
  let svg = '';
  let y = top;
  let droppedCount = 0;
  for (const kind of REGION_KINDS) {
    const ofKind = regions.filter((region) => region.kind === kind);
    if (ofKind.length === 0) continue;
    svg += drawHeading(view, y + BAR - 1, kind);
    const row = drawBars(scene, view, y, ofKind, 2, '', 1);
    svg += row.svg;
    if (row.droppedCount > 0)
      svg += svgText(view.left - 6, y + BAR + LANE - 3, `+${row.droppedCount} unlabelled`, {
        colour: SOFT_INK,
        anchor: 'end',
      });
    droppedCount += row.droppedCount;
    y += row.height;
  }
  return { svg, height: y - top, droppedCount };
}

/** Bars in one row, their labels in lanes under it. */
function drawBars(
  scene: Scene,
  view: View,
  top: number,
  regions: readonly Region[],
  mostLanes: number,
  unit: string,
  leastLanes: number,
): DrawnRows {
  const { list, minConfidence } = scene;
  const right = view.left + view.width;
  const clipSeconds = list.lengthSamples / list.sampleRateHz;
  const parts = [
    svgLine(view.left, top + BAR / 2, right, top + BAR / 2, 'stroke="#e2dce5" stroke-width="0.8"'),
  ];
  const requests: LabelRequest[] = [];
  for (const region of regions) {
    const { x0, x1 } = regionSpan(view, region, 2);
    const uncertain = region.confidence < minConfidence;
    const style = KIND_STYLES[region.kind];
    const look = uncertain
      ? `fill="#fff" stroke="${style.colour}" stroke-width="1.4" stroke-dasharray="3 2"`
      : `fill="${x1 - x0 < NARROW ? style.colour : kindFill(region.kind)}" stroke="${style.colour}" stroke-width="1"`;
    parts.push(
      `<g>${svgRect(x0, top + 0.5, x1 - x0, BAR - 1, look)}` +
        `<title>${escapeXml(regionLine(region, minConfidence, list.sampleRateHz, clipSeconds))}</title></g>`,
    );
    requests.push({
      centre: (x0 + x1) / 2,
      width: textWidth(regionTag(region, minConfidence, unit), TEXT_PIXELS),
      priority: (regionIsActive(region) ? 1000 : 0) + Math.abs(region.gainDb) + region.confidence,
    });
  }
  const limits = { left: view.left, right, lanes: mostLanes, gap: 4, shift: 16 };
  const { placed, laneCount, droppedCount } = placeLabels(requests, limits);
  const texts: string[] = [];
  for (const label of placed) {
    const region = regions[label.index] as Region;
    const centre = (label.left + label.right) / 2;
    const anchorX = (requests[label.index] as LabelRequest).centre;
    const base = top + BAR + (label.lane + 1) * LANE - 3;
    if (label.lane > 0)
      parts.push(svgLine(anchorX, top + BAR, centre, base - 10, 'stroke="#8f8896" stroke-width="0.7"'));
    const colour = regionIsActive(region) ? INK : SOFT_INK;
    // The rim keeps a label readable where the leader of a lower one passes behind it.
    texts.push(
      svgText(centre, base, regionTag(region, minConfidence, unit), { anchor: 'middle', colour, rim: true }),
    );
  }
  parts.push(...texts);
  const lanes = Math.max(leastLanes, laneCount);
  return { svg: parts.join(''), height: BAR + lanes * LANE + ROW_GAP, droppedCount };
}

function drawHeading(view: View, y: number, kind: RegionKind): string {
  const style = KIND_STYLES[kind];
  return (
    svgText(view.left - view.gutter, y, style.tag, { bold: true, colour: style.colour, size: 13 }) +
    svgText(view.left - view.gutter + 16, y, style.word, { colour: style.colour })
  );
}

/** The greatest share of any column that regions of one kind cover: the height of the tallest bar. 1 where there are none. */
export function tallestShare(coverage: readonly KindCoverage[]): number {
  let most = 0;
  for (const { all } of coverage) for (const share of all) most = Math.max(most, share);
  return most > 0 ? most : 1;
}

/** One row for each kind; the height of a column says how much of its time regions fill, against the tallest of the view. */
function drawDensityRows(view: View, top: number, coverage: readonly KindCoverage[]): DrawnRows {
  let svg = '';
  let y = top;
  const full = tallestShare(coverage);
  for (const { kind, all, certain } of coverage) {
    const { colour } = KIND_STYLES[kind];
    const foot = y + DENSE_ROW - 3;
    const doubtful = all.map((share, c) => (share > (certain[c] as number) ? share : 0));
    svg += drawHeading(view, foot - 1, kind);
    svg += svgLine(view.left, foot, view.left + view.width, foot, 'stroke="#ccc5d0" stroke-width="0.8"');
    svg += svgPath(sharePath(view, doubtful, full, foot), `fill="#fff" stroke="${colour}" stroke-width="1"`);
    svg += svgPath(sharePath(view, certain, full, foot), `fill="${colour}"`);
    y += DENSE_ROW;
  }
  return { svg, height: y - top + (coverage.length > 0 ? ROW_GAP : 0), droppedCount: 0 };
}

function sharePath(view: View, shares: ArrayLike<number>, full: number, foot: number): string {
  let data = '';
  let c = 0;
  while (c < shares.length) {
    const height = shareHeight((shares[c] as number) / full);
    let end = c + 1;
    while (end < shares.length && shareHeight((shares[end] as number) / full) === height) end++;
    if (height > 0)
      data += `M${coordinate(view.left + c)} ${coordinate(foot)}v${-height}h${end - c}v${height}z`;
    c = end;
  }
  return data;
}

/** Twelfths, but never less than a quarter: a lone region in a wide column must stay visible. */
function shareHeight(share: number): number {
  return share <= 0 ? 0 : Math.max(3, Math.ceil(share * 11));
}
