import type { RegionList } from '../../../src/regions/region.js';
import type { SampleRange } from '../state/page-state.js';
import type { PictureAnswer } from '../worker/messages.js';
import { sampleToX } from './draw-take.js';
import type { Theme } from './theme.js';

/** What the strip above the take shows. */
export interface OverviewScene {
  readonly width: number;
  readonly height: number;
  readonly theme: Theme;
  readonly list: RegionList;
  readonly view: SampleRange;
  /** The picture of the whole take. */
  readonly picture: Omit<PictureAnswer, 'image'> | null;
}

/** Paints the whole take as a strip: its waveform, a tick a region, and a frame around what is on the screen. */
export function drawOverview(paint: CanvasRenderingContext2D, scene: OverviewScene): void {
  const { width, height, theme, list, view, picture } = scene;
  const all = { startSample: 0, endSample: list.lengthSamples };
  paint.fillStyle = theme.paper;
  paint.fillRect(0, 0, width, height);
  const ticks = 6;
  if (picture !== null) {
    const { least, most } = picture;
    const middle = ticks + (height - ticks) / 2;
    const step = width / least.length;
    // As high as the strip is, however soft the take.
    let peak = 1e-6;
    for (let c = 0; c < least.length; c++) peak = Math.max(peak, -(least[c] as number), most[c] as number);

    paint.fillStyle = theme.recorded;
    for (let c = 0; c < least.length; c++) {
      const high = middle - ((height - ticks) / 2) * Math.min(1, (most[c] as number) / peak);
      const low = middle - ((height - ticks) / 2) * Math.max(-1, (least[c] as number) / peak);
      paint.fillRect(c * step, high, step + 0.3, Math.max(1, low - high));
    }
  }
  for (const region of list.regions) {
    const left = sampleToX(region.startSample, all, width);
    const wide = Math.max(1, sampleToX(region.endSample, all, width) - left);
    paint.fillStyle = theme.kinds[region.kind];
    paint.fillRect(left, 0, wide, ticks - 1);
  }
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
