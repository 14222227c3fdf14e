import { describe, expect, it } from 'vitest';
import {
  markAtCursor,
  markRange,
  moveCursor,
  placeCursor,
  step,
} from '../../examples/browser/state/choose.js';
import { centred, closeUp, moved, showing, whole, zoomed } from '../../examples/browser/state/time-view.js';
import { LENGTH, pageWith, THREE } from './page.js';

describe('stepping', () => {
  it('goes from region to region and ends where there is none', () => {
    const first = step(pageWith(THREE), 'next');
    expect(first.chosenId).toBe(1);
    expect(first.cursorSample).toBe(48000);
    const last = step(step(first, 'next'), 'next');
    expect(last.chosenId).toBe(3);
    expect(step(last, 'next').status).toMatch(/No region after/);
    expect(step(last, 'previous').chosenId).toBe(2);
  });

  it('finds the uncertain one in both directions', () => {
    expect(step(pageWith(THREE), 'nextUncertain').chosenId).toBe(2);
    const end = placeCursor(pageWith(THREE), LENGTH);
    expect(step(end, 'previousUncertain').chosenId).toBe(2);
  });
});

describe('the cursor', () => {
  it('chooses the region under it and none beside it', () => {
    expect(placeCursor(pageWith(THREE), 50000).chosenId).toBe(1);
    expect(placeCursor(pageWith(THREE), 52800).chosenId).toBeNull();
  });

  it('stays in the take', () => {
    expect(moveCursor(pageWith(THREE), -5).cursorSample).toBe(0);
    expect(moveCursor(pageWith(THREE), 99).cursorSample).toBe(LENGTH - 1);
  });
});

describe('a range by the cursor', () => {
  it('goes from the first place to the second, whichever is set first', () => {
    const at = (sample: number) => placeCursor(pageWith([]), sample);
    const from = markAtCursor(at(4800), 'from');
    const both = markAtCursor({ ...from, cursorSample: 9599 }, 'to');
    expect(both.range).toEqual({ startSample: 4800, endSample: 9600 });
    const to = markAtCursor(at(9599), 'to');
    expect(markAtCursor({ ...to, cursorSample: 6000 }, 'from').range).toEqual({
      startSample: 6000,
      endSample: 9600,
    });
  });

  it('is cut at the ends of the take and taken away again', () => {
    const marked = markRange(pageWith([]), { startSample: -10, endSample: LENGTH + 10 });
    expect(marked.range).toEqual({ startSample: 0, endSample: LENGTH });
    expect(markRange(marked, null).range).toBeNull();
  });
});

describe('the view', () => {
  it('zooms about a sample that stays in its place', () => {
    const page = zoomed(pageWith([]), 0.5, 120000);
    const { startSample, endSample } = page.view;
    expect(endSample - startSample).toBe(LENGTH / 2);
    expect((120000 - startSample) / (endSample - startSample)).toBeCloseTo(120000 / LENGTH, 5);
  });

  it('never leaves the take, nor gets shorter than 10 ms', () => {
    const page = pageWith([]);
    expect(zoomed(page, 100, 0).view).toEqual({ startSample: 0, endSample: LENGTH });
    const close = zoomed(page, 1e-9, 5000);
    expect(close.view.endSample - close.view.startSample).toBe(480);
    expect(moved(close, -1e6).view).toEqual({ startSample: 0, endSample: 480 });
    expect(centred(close, LENGTH).view).toEqual({ startSample: LENGTH - 480, endSample: LENGTH });
  });

  it('shows a stretch in the middle third, and moves only where a sample is out of sight', () => {
    const close = closeUp(pageWith([]), { startSample: 48000, endSample: 52800 });
    expect(close.view).toEqual({ startSample: 43200, endSample: 57600 });
    expect(showing(close, 50000)).toBe(close);
    expect(showing(close, 96000).view.startSample).toBeLessThan(96000);
    expect(whole(close).view).toEqual({ startSample: 0, endSample: LENGTH });
  });
});
