import { nextRegion, previousRegion } from '../../../src/regions/neighbour-regions.js';
import type { Region } from '../../../src/regions/region.js';
import { regionAt } from '../../../src/regions/region-at.js';
import { regionById } from '../../../src/regions/region-by-id.js';
import { nextUncertain, previousUncertain } from '../../../src/regions/uncertain-regions.js';
import { type PageState, type SampleRange, say, shownList } from './page-state.js';
import { showing } from './time-view.js';
import { lengthText, regionText, timeText } from './words.js';

/** The cursor at a sample, and the region under it chosen. */
export function placeCursor(state: PageState, sample: number): PageState {
  const list = shownList(state);
  if (state.take === null || list === null) return state;
  const cursorSample = Math.min(Math.max(0, Math.round(sample)), state.take.lengthSamples - 1);
  const region = regionAt(list, cursorSample);
  const moved = showing({ ...state, cursorSample, chosenId: region?.id ?? null }, cursorSample);
  const place = timeText(cursorSample, state.take.sampleRateHz);
  return say(
    moved,
    region === undefined ? `Cursor at ${place}.` : regionText(region, state.take.sampleRateHz),
  );
}

/** The cursor moved by seconds; negative is earlier. */
export function moveCursor(state: PageState, seconds: number): PageState {
  return placeCursor(state, state.cursorSample + seconds * (state.take?.sampleRateHz ?? 0));
}

/** A region chosen by its id, the cursor at its start. */
export function chooseRegion(state: PageState, id: number): PageState {
  const list = shownList(state);
  const region = list === null ? undefined : regionById(list, id);
  return region === undefined ? state : chosen(state, region);
}

/** Which region to step to. */
export type Step = 'next' | 'previous' | 'nextUncertain' | 'previousUncertain';
const STEPS = {
  next: nextRegion,
  previous: previousRegion,
  nextUncertain,
  previousUncertain,
} as const;

/** The region before or after the chosen one, or the cursor where none is chosen. */
export function step(state: PageState, to: Step): PageState {
  const list = shownList(state);
  if (list === null) return state;
  const here = state.chosenId === null ? undefined : regionById(list, state.chosenId);
  const region = STEPS[to](list, here?.startSample ?? state.cursorSample);
  if (region !== undefined) return chosen(state, region);
  const what = to.endsWith('Uncertain') ? 'uncertain region' : 'region';
  return say(state, `No ${what} ${to.startsWith('next') ? 'after' : 'before'} this.`);
}

function chosen(state: PageState, region: Region): PageState {
  const rate = state.take?.sampleRateHz ?? 1;
  const placed = { ...state, chosenId: region.id, cursorSample: region.startSample, range: null };
  return say(showing(placed, region.startSample), regionText(region, rate));
}

/** A range marked by dragging; null takes the mark away. */
export function markRange(state: PageState, range: SampleRange | null): PageState {
  const { take } = state;
  if (take === null) return state;
  if (range === null) return say({ ...state, range }, 'No range is marked.');
  const startSample = Math.max(0, Math.round(range.startSample));
  const endSample = Math.min(take.lengthSamples, Math.round(range.endSample));
  if (endSample <= startSample) return state;
  const length = lengthText(endSample - startSample, take.sampleRateHz);
  const marked = { ...state, range: { startSample, endSample }, cursorSample: startSample };
  return say(marked, `Range of ${length} from ${timeText(startSample, take.sampleRateHz)}.`);
}

/** The range's start or end at the cursor. The other end stays where it lies on the right side, else it is 100 ms away. */
export function markAtCursor(state: PageState, end: 'from' | 'to'): PageState {
  const { take, range, cursorSample } = state;
  if (take === null) return state;
  const usual = Math.round(0.1 * take.sampleRateHz);
  if (end === 'from') {
    const old = range?.endSample ?? 0;
    return markRange(state, {
      startSample: cursorSample,
      endSample: old > cursorSample ? old : cursorSample + usual,
    });
  }
  const endSample = cursorSample + 1;
  const old = range?.startSample ?? endSample;
  const startSample = old < endSample ? old : endSample - usual;
  // The cursor stays at the end that was set, so that it can be moved on from there.
  return { ...markRange(state, { startSample, endSample }), cursorSample };
}
