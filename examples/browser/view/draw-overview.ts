import type { RegionList } from '../../../src/regions/region.js';
import type { SampleRange } from '../state/page-state.js';
import type { PictureAnswer } from '../worker/messages.js';
import { sampleToX } from './draw-take.js';
import type { Theme } from './theme.js';

/** What the strip above the take shows. */
export interface OverviewScene {
  readonly width: number;
  readonly height: number;
  /** Pixels of the screen in one of the page. */
  readonly scale: number;
  readonly theme: Theme;
  readonly list: RegionList;
  readonly view: SampleRange;
  /** The picture of the whole take. */
  readonly picture: Omit<PictureAnswer, 'image'> | null;
}

/** Height of the ticks that stand for regions. */
const TICKS = 6;

/** Paints strips; keeps the last one, since mostly only the frame moves. */
export function createOverviewPainter(): (paint: CanvasRenderingContext2D, scene: OverviewScene) => void {
  const strip = new OffscreenCanvas(1, 1);
  let last: OverviewScene | null = null;
  return (paint, scene) => {
    const { width, height, theme, list, view } = scene;
    const names = ['width', 'height', 'scale', 'theme', 'list', 'picture'] as const;
    if (last === null || names.some((name) => last?.[name] !== scene[name])) drawStrip(strip, scene);
    last = scene;
    paint.drawImage(strip, 0, 0, width, height);
    frame(paint, scene, view, list.lengthSamples, theme);
  };
}

/** The whole take: its waveform, and a tick a region. */
function drawStrip(
  strip: OffscreenCanvas,
  { width, height, scale, theme, list, picture }: OverviewScene,
): void {
  strip.width = Math.max(1, Math.round(width * scale));
  strip.height = Math.max(1, Math.round(height * scale));
  const paint = strip.getContext('2d');
  if (paint === null) return;
  paint.scale(scale, scale);
  paint.fillStyle = theme.paper;
  paint.fillRect(0, 0, width, height);
  if (picture !== null) {
    const { least, most } = picture;
    const half = (height - TICKS) / 2;
    const step = width / least.length;
    // As high as the strip is, however soft the take.
    let peak = 1e-6;
    for (let c = 0; c < least.length; c++) peak = Math.max(peak, -(least[c] as number), most[c] as number);
    paint.fillStyle = theme.recorded;
    for (let c = 0; c < least.length; c++) {
      const high = TICKS + half * (1 - (most[c] as number) / peak);
      const low = TICKS + half * (1 - (least[c] as number) / peak);
      paint.fillRect(c * step, high, step + 0.3, Math.max(1, low - high));
    }
  }
  const all = { startSample: 0, endSample: list.lengthSamples };
  for (const region of list.regions) {
    const left = sampleToX(region.startSample, all, width);
    paint.fillStyle = theme.kinds[region.kind];
    paint.fillRect(left, 0, Math.max(1, sampleToX(region.endSample, all, width) - left), TICKS - 1);
  }
}

/** A frame around what is on the screen; the rest is veiled. */
function frame(
  paint: CanvasRenderingContext2D,
  { width, height }: OverviewScene,
  view: SampleRange,
  lengthSamples: number,
  theme: Theme,
): void {
  const all = { startSample: 0, endSample: lengthSamples };
  const left = sampleToX(view.startSample, all, width);
  const right = sampleToX(view.endSample, all, width);
  paint.fillStyle = theme.paper;
  paint.globalAlpha = 0.65;
  paint.fillRect(0, 0, left, height);
  paint.fillRect(right, 0, width - right, height);
  paint.globalAlpha = 1;
  paint.strokeStyle = theme.ink;
  paint.lineWidth = 1.5;
  paint.strokeRect(left + 1, 1, Math.max(3, right - left - 2), height - 2);
}
