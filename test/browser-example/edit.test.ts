import { describe, expect, it } from 'vitest';
import { chooseRegion, markRange } from '../../examples/browser/state/choose.js';
import {
  changeGain,
  changeKind,
  redoEdit,
  removeChosen,
  toggleLock,
  toggleOff,
  turnDown,
  undoEdit,
} from '../../examples/browser/state/edit.js';
import {
  chosenRegion,
  EMPTY_PAGE,
  hasUnsavedEdits,
  shownList,
} from '../../examples/browser/state/page-state.js';
import { gainsOf, LENGTH, pageWith, THREE } from './page.js';

// One press is −6 dB and two are −12 (common practice, no source).
describe('the one key', () => {
  it('turns a marked range down by 6 dB, and by 6 more the next time', () => {
    const marked = markRange(pageWith([]), { startSample: 4800, endSample: 9600 });
    const once = turnDown(marked, null);
    expect(gainsOf(once)).toEqual([-6]);
    expect(gainsOf(turnDown(once, null))).toEqual([-12]);
  });

  it('snaps the range to zero crossings of the take', () => {
    // 1 kHz at 48 kHz crosses zero each 24 samples, here at multiples of 24.
    const samples = new Float32Array(LENGTH).map((_, i) => Math.sin((2 * Math.PI * 1000 * i) / 48000 + 1e-3));
    const marked = markRange(pageWith([]), { startSample: 4805, endSample: 9595 });
    const region = turnDown(marked, samples).history?.present.regions[0];
    // The crossing lies just before the multiple, so the first sample behind it is the multiple itself.
    expect([(region?.startSample ?? 1) % 24, (region?.endSample ?? 1) % 24]).toEqual([0, 0]);
    expect(region?.startSample).toBe(4824);
  });

  it('splits a region that lies partly in the range, and leaves its other part as it was', () => {
    const page = pageWith([{ kind: 'sibilant', startSample: 48000, endSample: 57600 }]);
    const cut = turnDown(markRange(page, { startSample: 52800, endSample: 62400 }), null);
    expect(cut.history?.present.regions.map((r) => [r.startSample, r.endSample, r.gainDb])).toEqual([
      [48000, 52800, -6],
      [52800, 57600, -12],
      [57600, 62400, -6],
    ]);
  });

  it('turns the chosen region down where no range is marked', () => {
    const page = chooseRegion(pageWith(THREE), 2);
    expect(gainsOf(turnDown(page, null))).toEqual([-6, -6, -6]);
  });

  it('does nothing where a locked region lies in the range, and says so', () => {
    const locked = toggleLock(chooseRegion(pageWith(THREE), 1));
    const marked = markRange(locked, { startSample: 47000, endSample: 50000 });
    const after = turnDown(marked, null);
    expect(after.history).toBe(marked.history);
    expect(after.status).toMatch(/locked/);
  });

  it('says what is missing where there is neither range nor region', () => {
    expect(turnDown(pageWith(THREE), null).status).toMatch(/Mark a range or choose/);
    expect(turnDown(EMPTY_PAGE, null)).toBe(EMPTY_PAGE);
  });

  it('waits until a search is over', () => {
    const finding = { ...chooseRegion(pageWith(THREE), 1), phase: 'finding' as const };
    expect(turnDown(finding, null)).toBe(finding);
  });
});

describe('the gain of the chosen region', () => {
  it('is shown while it is dragged and recorded once at the end', () => {
    const page = chooseRegion(pageWith(THREE), 1);
    const dragged = changeGain(changeGain(page, -2, false), -3, false);
    expect(dragged.history).toBe(page.history);
    expect(shownList(dragged)?.regions[0]?.gainDb).toBe(-3);
    const done = changeGain(dragged, -3.5, true);
    expect(done.preview).toBeNull();
    expect(gainsOf(done)).toEqual([-3.5, 0, -6]);
    expect(gainsOf(undoEdit(done))).toEqual([-6, 0, -6]);
  });

  it('stays within what the page offers', () => {
    const page = chooseRegion(pageWith(THREE), 1);
    expect(gainsOf(changeGain(page, -99, true))[0]).toBe(-24);
    expect(gainsOf(changeGain(page, 99, true))[0]).toBe(6);
  });

  it('of a locked region is refused in words', () => {
    const locked = toggleLock(chooseRegion(pageWith(THREE), 1));
    const after = changeGain(locked, -3, true);
    expect(after.history).toBe(locked.history);
    expect(after.status).toMatch(/locked/);
  });
});

describe('other edits', () => {
  it('change kind, switch off and remove, each undone by one step and brought back by one', () => {
    const page = chooseRegion(pageWith(THREE), 2);
    const kind = changeKind(page, 'fricative');
    expect(chosenRegion(kind)?.kind).toBe('fricative');
    const off = toggleOff(kind);
    expect(chosenRegion(off)?.bypassed).toBe(true);
    const removed = removeChosen(off);
    expect(removed.chosenId).toBeNull();
    expect(gainsOf(removed)).toEqual([-6, -6]);
    const back = undoEdit(undoEdit(undoEdit(removed)));
    expect(back.history?.present).toEqual(page.history?.present);
    expect(gainsOf(redoEdit(redoEdit(redoEdit(back))))).toEqual([-6, -6]);
  });

  it('are unsaved until the list is the one that was kept', () => {
    const page = chooseRegion(pageWith(THREE), 1);
    expect(hasUnsavedEdits(page)).toBe(false);
    const edited = changeGain(page, -9, true);
    expect(hasUnsavedEdits(edited)).toBe(true);
    expect(hasUnsavedEdits({ ...edited, keptList: edited.history?.present ?? null })).toBe(false);
  });
});
