import { KIND_STYLES } from '../../../src/picture/kind-style.js';
import { REGION_KINDS, type RegionKind } from '../../../src/regions/region.js';
import type { Theme } from './theme.js';

/** Fills for the regions of each kind: the patterns of the library's pictures, as a canvas paints them. */
export type KindFills = Readonly<Record<RegionKind, string | CanvasPattern>>;

const TILE = 8;

/** Makes the fills; `scale` is how many pixels of the screen a pixel of the page has. */
export function kindFills(context: CanvasRenderingContext2D, theme: Theme, scale: number): KindFills {
  const fills = REGION_KINDS.map((kind) => [kind, fillOf(context, kind, theme, scale)] as const);
  return Object.fromEntries(fills) as unknown as KindFills;
}

function fillOf(
  context: CanvasRenderingContext2D,
  kind: RegionKind,
  theme: Theme,
  scale: number,
): string | CanvasPattern {
  const { marks, solid } = KIND_STYLES[kind];
  const colour = theme.kinds[kind];
  if (solid) return colour;
  const tile = new OffscreenCanvas(TILE * scale, TILE * scale);
  const paint = tile.getContext('2d');
  if (paint === null) return colour;
  paint.scale(scale, scale);
  paint.fillStyle = theme.paper;
  paint.fillRect(0, 0, TILE, TILE);
  paint.strokeStyle = colour;
  paint.lineWidth = 2;
  paint.stroke(new Path2D(marks));
  const pattern = context.createPattern(tile, 'repeat');
  pattern?.setTransform(new DOMMatrix().scale(1 / scale));
  return pattern ?? colour;
}
