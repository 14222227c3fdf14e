import { markAndCut } from '../../../src/gain/mark-and-cut.js';
import { recordEdit, redo, undo } from '../../../src/regions/history.js';
import type { RegionKind, RegionList } from '../../../src/regions/region.js';
import { regionById } from '../../../src/regions/region-by-id.js';
import { regionsBetween } from '../../../src/regions/regions-between.js';
import { removeRegion } from '../../../src/regions/remove-region.js';
import { setBypassed, setKind, setLocked } from '../../../src/regions/set-flags.js';
import { setGain } from '../../../src/regions/set-gain.js';
import type { Channels } from '../../../src/signal/samples.js';
import { chosenRegion, type PageState, say } from './page-state.js';
import { decibelText, timeText } from './words.js';

/** Gains that the page offers, in dB: a cut of 24 is past anything that sounds well, a boost of 6 is for what was cut too far. */
export const LEAST_OFFERED_DB = -24;
export const MOST_OFFERED_DB = 6;

/** The page after an edit that undo can take back; the same page where nothing differs. */
export function withEdit(state: PageState, list: RegionList, label: string): PageState {
  if (state.history === null) return state;
  const history = recordEdit(state.history, list, label);
  return keepChoice({ ...state, history, preview: null, status: `${label}.` });
}

/**
 * One press of the key: the range becomes 6 dB quieter, or without a range the chosen region; again: 6 dB more. Ends are
 * snapped and neighbours split by the library.
 *
 * @param channels the take, for snapping to zero crossings; null where it has several channels
 */
export function turnDown(state: PageState, channels: Channels | null): PageState {
  const { history, range, phase, take } = state;
  if (history === null || take === null || phase !== 'ready') return state;
  const target = range ?? chosenRegion(state);
  if (target === undefined) return say(state, 'Mark a range or choose a region first.');
  const { startSample, endSample } = target;
  const list = markAndCut(history.present, startSample, endSample, range === null ? null : channels);
  if (list === history.present) return say(state, 'Nothing is turned down: a locked region lies there.');
  // The ends were snapped, so a neighbour may reach into the range by a hair.
  const isInside = (from: number, to: number): boolean => {
    const middle = (from + to) / 2;
    return middle > startSample && middle < endSample;
  };
  const cut = regionsBetween(list, startSample, endSample).filter((region) =>
    isInside(region.startSample, region.endSample),
  );
  const first = cut[0];
  const gains = [...new Set(cut.map((region) => decibelText(region.gainDb)))].join(', ');
  const at = timeText(startSample, take.sampleRateHz);
  const edited = withEdit(state, list, `Turned down 6 dB at ${at}: now ${gains}`);
  return { ...edited, chosenId: first?.id ?? edited.chosenId };
}

/** The chosen region at another gain, within what the page offers. `isFinal` false: while it is dragged. */
export function changeGain(state: PageState, gainDb: number, isFinal: boolean): PageState {
  const region = chosenRegion(state);
  if (region === undefined || state.history === null) return state;
  if (region.locked) return refusedByLock(state);
  const kept = Math.min(MOST_OFFERED_DB, Math.max(LEAST_OFFERED_DB, Math.round(10 * gainDb) / 10));
  const list = setGain(state.history.present, region.id, kept);
  return isFinal
    ? withEdit(state, list, `Gain of the region: ${decibelText(kept)}`)
    : { ...state, preview: list };
}

/** What the chosen region holds. */
export function changeKind(state: PageState, kind: RegionKind): PageState {
  return onChosen(state, (list, id) => setKind(list, id, kind), `Kind: ${kind}`);
}

/** Heard as recorded, or with its gain again. */
export function toggleOff(state: PageState): PageState {
  const off = !(chosenRegion(state)?.bypassed ?? false);
  return onChosen(
    state,
    (list, id) => setBypassed(list, id, off),
    off ? 'The region is off' : 'The region is on',
  );
}

/** Kept from edits and decisions, or free again. */
export function toggleLock(state: PageState): PageState {
  const region = chosenRegion(state);
  if (region === undefined || state.history === null) return state;
  const list = setLocked(state.history.present, region.id, !region.locked);
  return withEdit(state, list, region.locked ? 'The region is unlocked' : 'The region is locked');
}

/** Takes the chosen region away. */
export function removeChosen(state: PageState): PageState {
  return onChosen(state, removeRegion, 'The region is removed');
}

/** One edit back. */
export function undoEdit(state: PageState): PageState {
  const edit = state.history?.past.at(-1);
  if (state.history === null || edit === undefined) return say(state, 'Nothing to undo.');
  return keepChoice({
    ...state,
    history: undo(state.history),
    preview: null,
    status: `Undone: ${edit.label}.`,
  });
}

/** One edit on. */
export function redoEdit(state: PageState): PageState {
  const edit = state.history?.future.at(-1);
  if (state.history === null || edit === undefined) return say(state, 'Nothing to redo.');
  return keepChoice({
    ...state,
    history: redo(state.history),
    preview: null,
    status: `Redone: ${edit.label}.`,
  });
}

function onChosen(
  state: PageState,
  change: (list: RegionList, id: number) => RegionList,
  label: string,
): PageState {
  const region = chosenRegion(state);
  if (region === undefined || state.history === null) return say(state, 'Choose a region first.');
  if (region.locked) return refusedByLock(state);
  return withEdit(state, change(state.history.present, region.id), label);
}

function refusedByLock(state: PageState): PageState {
  return say({ ...state, preview: null }, 'The region is locked: unlock it first.');
}

/** No region is chosen that is no longer there. */
function keepChoice(state: PageState): PageState {
  const { chosenId, history } = state;
  if (chosenId === null || history === null) return state;
  return regionById(history.present, chosenId) === undefined ? { ...state, chosenId: null } : state;
}
