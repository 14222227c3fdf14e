import { describe, expect, it } from 'vitest';
import { classifierStage, networkStage } from '../../src/detection/class-stage.js';
import { INPUT_COUNT } from '../../src/detection/detection-scale.js';
import { createRowStore, type RowStore } from '../../src/detection/row-store.js';

/** A store whose row t holds t everywhere, up to a row. */
function rowsUpTo(inputs: RowStore, end: number): void {
  for (let t = inputs.end; t < end; t++) {
    const at = inputs.add();
    inputs.data.fill(t, at, at + INPUT_COUNT);
  }
}
/** Numbers of rows that came out, as told by the probability of voice: a hundredth of the row. */
function told(track: RowStore): number[] {
  return Array.from({ length: track.end }, (_, t) => Math.round(100 * (track.data[track.at(t)] as number)));
}

describe('the stage of a classifier that is given', () => {
  /** Says which row it is handed, and notes the first inputs of each stretch. */
  function stageOf(contextFrames: number, frameStep?: number) {
    const handed: number[][] = [];
    const stage = classifierStage({
      inputCount: INPUT_COUNT,
      contextFrames,
      ...(frameStep === undefined ? {} : { frameStep }),
      classify(inputs, rowCount, out) {
        const rows = Array.from({ length: rowCount }, (_, r) => inputs[r * INPUT_COUNT] as number);
        handed.push(rows);
        rows.forEach((row, r) => {
          out[6 * r] = (row % 100) / 100;
          out[6 * r + 1] = 1 - (row % 100) / 100;
        });
      },
    });
    return { stage, handed };
  }
  const upTo = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, i) => from + i);

  it('hands in context, and repeats the rows at both ends where there is none', () => {
    const { stage, handed } = stageOf(2);
    const inputs = createRowStore(INPUT_COUNT);
    const track = createRowStore(6);
    rowsUpTo(inputs, 5);
    stage.advance(inputs, false, track);
    expect([handed, track.end]).toEqual([[], 0]);
    stage.advance(inputs, true, track);
    expect(handed).toEqual([[0, 0, 0, 1, 2, 3, 4, 4, 4]]);
    expect(told(track)).toEqual([0, 1, 2, 3, 4]);
    expect(stage.neededInput(5)).toBe(3);
  });

  it('waits for 256 rows and their context, and takes up to 1024 at once', () => {
    const { stage, handed } = stageOf(10);
    const inputs = createRowStore(INPUT_COUNT);
    const track = createRowStore(6);
    rowsUpTo(inputs, 265);
    stage.advance(inputs, false, track);
    expect(track.end).toBe(0);
    rowsUpTo(inputs, 266);
    stage.advance(inputs, false, track);
    expect(track.end).toBe(256);
    expect(handed[0]).toEqual([...new Array<number>(10).fill(0), ...upTo(0, 266)]);
    rowsUpTo(inputs, 1500);
    stage.advance(inputs, false, track);
    expect(track.end).toBe(1280);
    expect(handed[1]).toEqual(upTo(246, 1290));
    stage.advance(inputs, true, track);
    expect(track.end).toBe(1500);
    expect(handed[2]).toEqual([...upTo(1270, 1500), ...new Array<number>(10).fill(1499)]);
    expect(told(track)).toEqual(upTo(0, 1500).map((t) => t % 100));
  });

  it('starts stretches at multiples of the step, whatever the pushes', () => {
    const { stage, handed } = stageOf(6, 3);
    const inputs = createRowStore(INPUT_COUNT);
    const track = createRowStore(6);
    for (const end of [263, 264, 700, 2900]) {
      rowsUpTo(inputs, end);
      stage.advance(inputs, end === 2900, track);
    }
    expect(told(track)).toEqual(upTo(0, 2900).map((t) => t % 100));
    expect(handed.length).toBeGreaterThan(3);
    for (const rows of handed.slice(1)) expect((rows[0] as number) % 3).toBe(0);
  });
});

describe('the stage of a network that takes rows as they come', () => {
  /** Answers each row with the row that came `contextFrames` before it. */
  function networkOf(contextFrames: number, mostRows: number, frameStep = 1) {
    const probabilities = new Float64Array(mostRows * 6);
    const taken: number[] = [];
    let ended = 0;
    const network = {
      contextFrames,
      frameStep,
      mostRows,
      probabilities,
      take(rows: Float64Array, at: number, rowCount: number): void {
        expect(rowCount % frameStep).toBe(0);
        for (let r = 0; r < rowCount; r++) {
          taken.push(rows[at + r * INPUT_COUNT] as number);
          probabilities[6 * r] = (taken[taken.length - 1 - contextFrames] ?? 99) / 100;
        }
      },
      end(): void {
        ended++;
      },
    };
    return { network: network as unknown as Parameters<typeof networkStage>[0], taken, ends: () => ended };
  }

  it.each([
    [3, 8],
    [5, 2],
    [4, 4],
  ])(
    'with %i frames of context and %i rows at once hands in each end so many times, and tells every row once',
    (context, most) => {
      const { network, taken, ends } = networkOf(context, most);
      const stage = networkStage(network);
      const inputs = createRowStore(INPUT_COUNT);
      const track = createRowStore(6);
      stage.advance(inputs, false, track);
      expect(taken).toEqual([]);
      rowsUpTo(inputs, 7);
      stage.advance(inputs, false, track);
      expect([track.end, stage.neededInput(track.end), ends()]).toEqual([7 - context, 7, 0]);
      rowsUpTo(inputs, 12);
      stage.advance(inputs, true, track);
      const rows = Array.from({ length: 12 }, (_, t) => t);
      expect(taken).toEqual([
        ...new Array<number>(context).fill(0),
        ...rows,
        ...new Array<number>(context).fill(11),
      ]);
      expect(told(track)).toEqual(rows);
      expect(ends()).toBe(1);
    },
  );

  it.each([
    [4, 8, 2],
    [6, 3, 3],
    [4, 8, 4],
  ])(
    'with %i frames of context, %i rows at once and steps of %i hands in whole steps, and tells every row once',
    (context, most, step) => {
      // Ends that leave 0, 1 and more rows over, and a first push that makes no whole step.
      for (const length of [1, 2, 3, 11, 12, 13]) {
        const { network, taken } = networkOf(context, most, step);
        const stage = networkStage(network);
        const inputs = createRowStore(INPUT_COUNT);
        const track = createRowStore(6);
        for (const end of [1, 2, 7].filter((each) => each < length)) {
          rowsUpTo(inputs, end);
          stage.advance(inputs, false, track);
          expect(stage.neededInput(track.end)).toBe(end - (end % step));
        }
        rowsUpTo(inputs, length);
        stage.advance(inputs, true, track);
        const rows = Array.from({ length }, (_, t) => t);
        expect(taken.slice(0, context + length)).toEqual([...new Array<number>(context).fill(0), ...rows]);
        expect(new Set(taken.slice(context + length))).toEqual(new Set([length - 1]));
        expect(told(track)).toEqual(rows);
      }
    },
  );
});
