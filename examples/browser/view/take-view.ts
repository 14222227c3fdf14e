import { regionAt } from '../../../src/regions/region-at.js';
import { chooseRegion, markRange, placeCursor } from '../state/choose.js';
import { changeGain } from '../state/edit.js';
import { type PageState, type SampleRange, shownList } from '../state/page-state.js';
import type { Store } from '../state/store.js';
import { centred, moved, zoomed } from '../state/time-view.js';
import type { PictureAnswer } from '../worker/messages.js';
import { element } from './dom.js';
import { createOverviewPainter } from './draw-overview.js';
import { drawTake, sampleToX } from './draw-take.js';
import { kindFills } from './kind-fill.js';
import { lanesOf, yToGain } from './lanes.js';
import type { Pictures } from './pictures.js';
import { themeFor } from './theme.js';

/** A drag shorter than this is a click, in pixels. */
const LEAST_DRAG = 4;

/** The drawing of the take, and what the pointer does in it. */
export interface TakeView {
  /** Paints anew before the next frame. */
  draw(): void;
  /** Puts the playhead at a sample; null takes it away. */
  showPlayhead(sample: number | null): void;
}

/** Sets up the canvases and their pointer. */
export function createTakeView(store: Store<PageState>, pictures: Pictures): TakeView {
  const view = element('take-view', HTMLDivElement);
  const canvas = element('take-canvas', HTMLCanvasElement);
  const overview = element('overview', HTMLCanvasElement);
  const cursor = element('cursor', HTMLDivElement);
  const playhead = element('playhead', HTMLDivElement);
  const darkness = matchMedia('(prefers-color-scheme: dark)');
  const drawOverview = createOverviewPainter();
  let waiting = false;
  let fills: { key: string; value: ReturnType<typeof kindFills> } | null = null;

  // An application takes keys, so it must be reached by them.
  view.tabIndex = 0;
  new ResizeObserver(draw).observe(view);
  darkness.addEventListener('change', draw);
  pictures.listen(draw);
  listenToPointer();
  listenToOverview();
  return { draw, showPlayhead };

  function draw(): void {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      paint();
    });
  }

  function paint(): void {
    const state = store.get();
    const list = shownList(state);
    if (list === null || state.take === null || view.clientWidth === 0) return;
    const theme = themeFor(darkness.matches);
    const scale = devicePixelRatio;
    const width = view.clientWidth;
    const height = view.clientHeight;
    const lanes = lanesOf(height);
    pictures.want(state.take, state.view, { width, height: lanes.spectrogram.height }, theme.isDark);
    const context = sized(canvas, width, height, scale);
    const key = `${scale} ${theme.isDark}`;
    if (fills?.key !== key) fills = { key, value: kindFills(context, theme, scale) };
    const { range, chosenId } = state;
    const picture = pictures.ofView();
    drawTake(context, {
      width,
      lanes,
      theme,
      fills: fills.value,
      list,
      view: state.view,
      range,
      chosenId,
      picture,
      peak: peakOf(pictures.ofWhole()),
    });
    const strip = sized(overview, overview.clientWidth, overview.clientHeight, scale);
    const size = { width: overview.clientWidth, height: overview.clientHeight };
    drawOverview(strip, { ...size, scale, theme, list, view: state.view, picture: pictures.ofWhole() });
    place(cursor, state.cursorSample, state.view);
  }

  function place(line: HTMLElement, sample: number, shown: SampleRange): void {
    const x = sampleToX(sample, shown, view.clientWidth);
    line.style.transform = `translateX(${Math.round(x)}px)`;
    line.hidden = x < 0 || x > view.clientWidth;
  }

  function showPlayhead(sample: number | null): void {
    if (sample === null) playhead.hidden = true;
    else place(playhead, sample, store.get().view);
  }

  function sampleOf(clientX: number): number {
    const { left, width } = view.getBoundingClientRect();
    const { startSample, endSample } = store.get().view;
    return startSample + ((clientX - left) / width) * (endSample - startSample);
  }

  function listenToPointer(): void {
    let from: { x: number; sample: number; gainOf: number | null } | null = null;
    let dragged = false;
    view.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      view.setPointerCapture(event.pointerId);
      dragged = false;
      from = { x: event.clientX, sample: sampleOf(event.clientX), gainOf: gainHandle(event) };
    });
    view.addEventListener('pointermove', (event) => {
      if (
        from === null ||
        (!dragged && Math.abs(event.clientX - from.x) + (from.gainOf === null ? 0 : LEAST_DRAG) < LEAST_DRAG)
      )
        return;
      dragged = true;
      const start = from;
      if (start.gainOf !== null) store.update((state) => changeGain(state, pointedGain(event), false));
      else store.update((state) => markRange(state, ordered(start.sample, sampleOf(event.clientX))));
    });
    view.addEventListener('pointerup', (event) => {
      if (from === null) return;
      const { sample, gainOf } = from;
      from = null;
      if (gainOf !== null && dragged) store.update((state) => changeGain(state, pointedGain(event), true));
      else if (!dragged) store.update((state) => placeCursor({ ...state, range: null }, sample));
    });
    view.addEventListener('pointercancel', () => {
      from = null;
      store.update((state) => ({ ...state, preview: null }));
    });
    view.addEventListener('wheel', turnWheel, { passive: false });
  }

  /** In the gain lane, over a region: that region's id, which is chosen so that its gain can be dragged. */
  function gainHandle(event: PointerEvent): number | null {
    const state = store.get();
    const list = shownList(state);
    const lane = lanesOf(view.clientHeight).gain;
    const y = event.clientY - view.getBoundingClientRect().top;
    if (list === null || state.phase !== 'ready' || y < lane.top || y > lane.top + lane.height) return null;
    const region = regionAt(list, sampleOf(event.clientX));
    if (region === undefined) return null;
    store.update((before) => chooseRegion(before, region.id));
    return region.id;
  }

  function pointedGain(event: PointerEvent): number {
    const lane = lanesOf(view.clientHeight).gain;
    return Math.round(2 * yToGain(event.clientY - view.getBoundingClientRect().top, lane)) / 2;
  }

  function turnWheel(event: WheelEvent): void {
    event.preventDefault();
    const sideways = event.deltaX !== 0 && Math.abs(event.deltaX) > Math.abs(event.deltaY);
    if (event.shiftKey || sideways) {
      const turn = sideways ? event.deltaX : event.deltaY;
      store.update((state) => moved(state, turn / view.clientWidth));
    } else store.update((state) => zoomed(state, 2 ** (event.deltaY / 240), sampleOf(event.clientX)));
  }

  function listenToOverview(): void {
    const go = (event: PointerEvent): void => {
      const { left, width } = overview.getBoundingClientRect();
      const length = store.get().take?.lengthSamples ?? 0;
      store.update((state) => centred(state, ((event.clientX - left) / width) * length));
    };
    overview.addEventListener('pointerdown', (event) => {
      overview.setPointerCapture(event.pointerId);
      go(event);
    });
    overview.addEventListener('pointermove', (event) => {
      if (event.buttons !== 0) go(event);
    });
  }
}

/** Greatest sample of a take; 1 while it is not known, and for silence. */
function peakOf(picture: Pick<PictureAnswer, 'least' | 'most'> | null): number {
  let peak = 0;
  if (picture !== null)
    for (let c = 0; c < picture.least.length; c++)
      peak = Math.max(peak, -(picture.least[c] as number), picture.most[c] as number);
  return peak > 0 ? Math.min(1, peak) : 1;
}

function ordered(a: number, b: number): SampleRange {
  return { startSample: Math.min(a, b), endSample: Math.max(a, b) };
}

/** The canvas at the screen's own resolution, drawn on in pixels of the page. */
function sized(
  canvas: HTMLCanvasElement,
  width: number,
  height: number,
  scale: number,
): CanvasRenderingContext2D {
  const [w, h] = [Math.round(width * scale), Math.round(height * scale)];
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w;
    canvas.height = h;
  }
  const context = canvas.getContext('2d') as CanvasRenderingContext2D;
  context.setTransform(scale, 0, 0, scale, 0, 0);
  return context;
}
