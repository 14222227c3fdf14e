import { describe, expect, it } from 'vitest';
import { INPUT_COUNT } from '../../src/detection/detection-scale.js';
import { CONTEXT_MEASURE_COUNT, pushContext, pushGroupLevels } from '../../src/detection/event-context.js';
import type { FrameTables } from '../../src/detection/frame-tables.js';
import type { NoiseSpan } from '../../src/detection/noise-spans.js';

/** Every input is its place, and a hundred for each frame before it: a mean over both tells which were read. */
function tablesOf(rowCount: number): FrameTables {
  const inputs = Float64Array.from(
    { length: rowCount * INPUT_COUNT },
    (_, i) => (i % INPUT_COUNT) + 100 * Math.floor(i / INPUT_COUNT),
  );
  return { rowCount, inputs, bands: new Float64Array(0), track: new Float64Array(0) };
}

/** Means of 0–1, 2–4, 5–7, 8–10, 11–13 and 14–15: the sixteen bands in six groups. */
const GROUPS = [0.5, 3, 6, 9, 12, 14.5];
const groupsAt = (frame: number): number[] => GROUPS.map((group) => group + 100 * frame);

const contextOf = (tables: FrameTables, span: NoiseSpan): number[] => {
  const out: number[] = [];
  pushContext(out, tables, span);
  return out;
};

describe('the context of an event', () => {
  it('is the spectrum of 4 and of 8 frames before it, and of as many after it, nearest first', () => {
    const context = contextOf(tablesOf(60), { start: 20, end: 30, class: 2 });
    // Sums of whole numbers are exact; two divisions of numbers under 4,000 round by less than 1e-12. Any wrong frame is 12 off or more.
    const expected = [17.5, 11.5, 31.5, 37.5].flatMap(groupsAt);
    expect(context).toHaveLength(CONTEXT_MEASURE_COUNT);
    expected.forEach((value, i) => {
      expect(context[i]).toBeCloseTo(value, 9);
    });
  });

  it('takes what lies beyond the ends as the end', () => {
    const context = contextOf(tablesOf(5), { start: 2, end: 4, class: 2 });
    // Before: frames 0 (three times) and 1; after: four times frame 4.
    const expected = [0.25, 0, 4, 4].flatMap(groupsAt);
    expected.forEach((value, i) => {
      expect(context[i]).toBeCloseTo(value, 9);
    });
  });

  it('does not read the event itself', () => {
    const [plain, other] = [tablesOf(60), tablesOf(60)];
    other.inputs.fill(-7, 20 * INPUT_COUNT, 30 * INPUT_COUNT);
    const span = { start: 20, end: 30, class: 2 };
    expect(contextOf(other, span)).toEqual(contextOf(plain, span));
  });
});

describe('levels of groups of bands', () => {
  it('are those of the one frame, where there is one', () => {
    const levels: number[] = [];
    pushGroupLevels(levels, tablesOf(9), 3, 4);
    expect(levels).toHaveLength(GROUPS.length);
    levels.forEach((value, g) => {
      expect(value).toBeCloseTo(groupsAt(3)[g]!, 9);
    });
  });
});
