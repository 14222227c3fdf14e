import { type GainBreakpoint, gainBreakpoints } from '../../../src/gain/gain-breakpoints.js';
import { KIND_STYLES } from '../../../src/picture/kind-style.js';
import { timeTicks } from '../../../src/picture/time-ticks.js';
import type { Region, RegionList } from '../../../src/regions/region.js';
import { regionsBetween } from '../../../src/regions/regions-between.js';
import { columnGains } from '../state/column-gain.js';
import type { SampleRange } from '../state/page-state.js';
import { decibelText, isUncertain } from '../state/words.js';
import type { PictureAnswer } from '../worker/messages.js';
import type { KindFills } from './kind-fill.js';
import { gainToY, type Lane, type Lanes } from './lanes.js';
import type { Theme } from './theme.js';

/** Everything that the drawing of a take depends on; sizes in pixels of the page. */
export interface TakeScene {
  readonly width: number;
  readonly lanes: Lanes;
  readonly theme: Theme;
  readonly fills: KindFills;
  readonly list: RegionList;
  readonly view: SampleRange;
  readonly range: SampleRange | null;
  readonly chosenId: number | null;
  /** The latest that was worked out; it may be of another view and is then stretched into place. */
  readonly picture: PictureAnswer | null;
  /** Greatest sample of the whole take: the waveform is drawn as if it were full scale. */
  readonly peak: number;
}

const FONT = '12px system-ui, sans-serif';

/** Paints a take, from the ruler down to the spectrogram. */
export function drawTake(paint: CanvasRenderingContext2D, scene: TakeScene): void {
  const { width, lanes, theme } = scene;
  const bottom = lanes.spectrogram.top + lanes.spectrogram.height;
  paint.fillStyle = theme.paper;
  paint.fillRect(0, 0, width, bottom);
  paint.font = FONT;
  paint.textBaseline = 'middle';
  drawRuler(paint, scene, bottom);
  drawSpectrogram(paint, scene);
  drawWaveform(paint, scene);
  drawGain(paint, scene);
  drawRegions(paint, scene);
  drawRange(paint, scene, bottom);
}

/** Where a sample stands, in pixels from the left. */
export function sampleToX(sample: number, { startSample, endSample }: SampleRange, width: number): number {
  return ((sample - startSample) / (endSample - startSample)) * width;
}

function drawRuler(paint: CanvasRenderingContext2D, scene: TakeScene, bottom: number): void {
  const { width, lanes, theme, view, list } = scene;
  const rate = list.sampleRateHz;
  const ticks = timeTicks(view.startSample / rate, view.endSample / rate, Math.max(2, width / 90));
  for (const seconds of ticks.seconds) {
    const x = Math.round(sampleToX(seconds * rate, view, width)) + 0.5;
    paint.strokeStyle = theme.line;
    stroke(paint, [x, lanes.ruler.top + lanes.ruler.height - 4], [x, bottom]);
    paint.fillStyle = theme.softInk;
    const minutes = Math.floor(seconds / 60);
    const rest = (seconds - 60 * minutes).toFixed(ticks.decimals);
    const text =
      minutes > 0
        ? `${minutes}:${rest.padStart(ticks.decimals > 0 ? 3 + ticks.decimals : 2, '0')}`
        : `${rest} s`;
    paint.textAlign = x < 20 ? 'left' : x > width - 20 ? 'right' : 'center';
    paint.fillText(text, Math.min(width - 2, Math.max(2, x)), lanes.ruler.top + 8);
  }
  paint.textAlign = 'left';
}

function drawSpectrogram(
  paint: CanvasRenderingContext2D,
  { picture, view, width, lanes, theme }: TakeScene,
): void {
  const { top, height } = lanes.spectrogram;
  if (picture === null) return;
  const left = sampleToX(picture.view.startSample, view, width);
  const right = sampleToX(picture.view.endSample, view, width);
  within(paint, lanes.spectrogram, width, () => {
    paint.imageSmoothingEnabled = true;
    paint.drawImage(picture.image, left, top, right - left, height);
  });
  for (const kilohertz of [4, 8, 12]) {
    const y = Math.round(top + height * (1 - (1000 * kilohertz) / picture.topFrequencyHz)) + 0.5;
    if (y < top + 10) continue;
    paint.strokeStyle = theme.line;
    stroke(paint, [0, y], [5, y]);
    label(paint, `${kilohertz} kHz`, 8, y, theme);
  }
}

function drawWaveform(
  paint: CanvasRenderingContext2D,
  { picture, list, view, width, lanes, theme, peak }: TakeScene,
): void {
  const { top, height } = lanes.waveform;
  const middle = top + height / 2;
  paint.strokeStyle = theme.line;
  stroke(paint, [0, Math.round(middle) + 0.5], [width, Math.round(middle) + 0.5]);
  if (picture === null) return;
  const { least, most } = picture;
  const columns = least.length;
  const left = sampleToX(picture.view.startSample, view, width);
  const step = (sampleToX(picture.view.endSample, view, width) - left) / columns;
  const first = Math.max(0, Math.floor(-left / step) - 1);
  const last = Math.min(columns - 1, Math.ceil((width - left) / step) + 1);
  const gains = columnGains(list, picture.view, columns);
  const draw = (gainOf: (column: number) => number, colour: string): void => {
    paint.fillStyle = colour;
    for (let c = first; c <= last; c++) {
      // As recorded is only seen where it differs.
      if (colour === theme.recorded && gains[c] === 1) continue;
      const gain = gainOf(c) / peak;
      const high = middle - (height / 2) * Math.min(1, (most[c] as number) * gain);
      const low = middle - (height / 2) * Math.max(-1, (least[c] as number) * gain);
      paint.fillRect(left + c * step, high - 0.5, Math.max(step, 0.5) + 0.25, Math.max(1, low - high + 1));
    }
  };
  within(paint, lanes.waveform, width, () => {
    draw(() => 1, theme.recorded);
    draw((column) => gains[column] as number, theme.tamed);
  });
  if (peak < 0.95) label(paint, `drawn × ${(1 / peak).toFixed(1)}`, 4, top + 8, theme);
}

function drawGain(
  paint: CanvasRenderingContext2D,
  { list, view, width, lanes, theme, chosenId }: TakeScene,
): void {
  const lane = lanes.gain;
  for (const gainDb of [0, -6, -12, -18]) {
    const y = Math.round(gainToY(gainDb, lane)) + 0.5;
    paint.strokeStyle = theme.line;
    stroke(paint, [0, y], [width, y]);
  }
  paint.strokeStyle = theme.ink;
  paint.lineWidth = 1.5;
  paint.lineJoin = 'round';
  within(paint, { top: lane.top - 1, height: lane.height + 2 }, width, () => {
    paint.beginPath();
    for (const { sample, gainDb } of pointsIn(list, view))
      paint.lineTo(sampleToX(sample, view, width), gainToY(gainDb, lane));
    paint.stroke();
    // The chosen region's level can be taken by the pointer, so it is drawn as something to hold.
    const chosen = list.regions.find(({ id }) => id === chosenId);
    if (chosen !== undefined) {
      const y = gainToY(chosen.gainDb, lane);
      const from = sampleToX(chosen.startSample, view, width);
      const to = sampleToX(chosen.endSample, view, width);
      paint.lineWidth = 4;
      paint.strokeStyle = theme.kinds[chosen.kind];
      stroke(paint, [from, y], [Math.max(to, from + 4), y]);
    }
  });
  paint.lineWidth = 1;
  for (const gainDb of [0, -6, -12, -18])
    label(paint, gainDb === 0 ? '0 dB' : `−${-gainDb}`, 4, gainToY(gainDb, lane), theme);
}

/** Points of lists that were drawn before: a list never changes, and most frames draw the same one. */
const pointsOf = new WeakMap<RegionList, readonly GainBreakpoint[]>();

/** The points in a view, and the nearest on each side of it. */
function pointsIn(list: RegionList, { startSample, endSample }: SampleRange): readonly GainBreakpoint[] {
  const points = pointsOf.get(list) ?? gainBreakpoints(list);
  pointsOf.set(list, points);
  const first = points.findLastIndex(({ sample }) => sample < startSample);
  const last = points.findIndex(({ sample }) => sample > endSample);
  return points.slice(Math.max(0, first), last < 0 ? points.length : last + 1);
}

function drawRegions(paint: CanvasRenderingContext2D, scene: TakeScene): void {
  const { list, view, width, lanes, theme, chosenId, fills } = scene;
  const { top, height } = lanes.regions;
  for (const region of regionsBetween(list, view.startSample, view.endSample)) {
    const left = sampleToX(region.startSample, view, width);
    const wide = Math.max(2, sampleToX(region.endSample, view, width) - left);
    const colour = theme.kinds[region.kind];
    const unsure = isUncertain(region);
    paint.fillStyle = unsure || region.bypassed ? theme.paper : fills[region.kind];
    paint.fillRect(left, top, wide, height);
    paint.strokeStyle = colour;
    paint.lineWidth = 1.5;
    paint.setLineDash(unsure ? [3, 2] : []);
    if (wide > 3) paint.strokeRect(left + 0.75, top + 0.75, wide - 1.5, height - 1.5);
    paint.setLineDash([]);
    tagRegion(paint, region, left, wide, scene);
    if (region.id !== chosenId) continue;
    paint.fillStyle = colour;
    paint.globalAlpha = theme.isDark ? 0.22 : 0.12;
    paint.fillRect(left, top + height, wide, lanes.spectrogram.top - top - height);
    paint.globalAlpha = 1;
    paint.strokeStyle = theme.ink;
    paint.lineWidth = 2;
    paint.strokeRect(left - 2, top - 2, wide + 4, height + 4);
  }
  paint.lineWidth = 1;
}

/** Letter and gain on a plate of paper, as far as they have room. */
function tagRegion(
  paint: CanvasRenderingContext2D,
  region: Region,
  left: number,
  wide: number,
  { theme, lanes }: TakeScene,
): void {
  // Narrower than any letter on its plate; and measuring text is what costs most here.
  if (wide < 16) return;
  const { top, height } = lanes.regions;
  const tag = `${KIND_STYLES[region.kind].tag}${isUncertain(region) ? '?' : ''}${region.locked ? ' ·' : ''}`;
  const full = region.bypassed ? `${tag} off` : `${tag} ${decibelText(region.gainDb)}`;
  const text = paint.measureText(full).width + 12 <= wide ? full : tag;
  const needs = paint.measureText(text).width + 6;
  if (needs + 2 > wide) return;
  paint.fillStyle = theme.paper;
  paint.fillRect(left + 3, top + height / 2 - 8, needs, 16);
  paint.fillStyle = theme.kinds[region.kind];
  paint.fillText(text, left + 6, top + height / 2 + 0.5);
}

function drawRange(
  paint: CanvasRenderingContext2D,
  { range, view, width, theme, lanes }: TakeScene,
  bottom: number,
): void {
  if (range === null) return;
  const left = sampleToX(range.startSample, view, width);
  const right = sampleToX(range.endSample, view, width);
  paint.fillStyle = theme.mark;
  paint.globalAlpha = 0.12;
  paint.fillRect(left, lanes.ruler.top, right - left, bottom);
  paint.globalAlpha = 1;
  for (const x of [left, right]) paint.fillRect(x - 1, lanes.ruler.top, 2, bottom);
  paint.fillRect(left - 1, lanes.ruler.top, right - left + 2, 3);
}

function stroke(
  paint: CanvasRenderingContext2D,
  from: readonly [number, number],
  to: readonly [number, number],
): void {
  paint.beginPath();
  paint.moveTo(...from);
  paint.lineTo(...to);
  paint.stroke();
}

/** Small text on a plate of paper, so that it can be read over anything. */
function label(paint: CanvasRenderingContext2D, text: string, x: number, y: number, theme: Theme): void {
  paint.font = '11px system-ui, sans-serif';
  paint.fillStyle = theme.paper;
  paint.fillRect(x - 2, y - 7, paint.measureText(text).width + 4, 14);
  paint.fillStyle = theme.softInk;
  paint.fillText(text, x, y + 0.5);
  paint.font = FONT;
}

function within(
  paint: CanvasRenderingContext2D,
  { top, height }: Lane,
  width: number,
  draw: () => void,
): void {
  paint.save();
  paint.beginPath();
  paint.rect(0, top, width, height);
  paint.clip();
  draw();
  paint.restore();
}
