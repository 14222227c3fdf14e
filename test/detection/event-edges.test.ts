import { describe, expect, it } from 'vitest';
import { FRAME_CLASSES, INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import { eventEdges } from '../../src/detection/event-edges.js';
import { createRowStore } from '../../src/detection/row-store.js';

/** 48 kHz: a block of the envelope is 1 ms, and three frames are 16 blocks. */
const HOP = 256;
const BLOCK = 48;
const BLOCKS_A_FRAME = HOP / BLOCK;
const FRAMES = 60;
/** The triangle of 5 blocks that smooths a sibilant's envelope moves a step by less than a block. */
const A_BLOCK = BLOCK;
const EVERYWHERE = { leastSample: 0, mostSample: 1e9 };

type Letter = keyof typeof FRAME_OF;

/** Class and probability of a frame; the rest is silence. */
const FRAME_OF = {
  '.': ['silence', 1],
  v: ['voiced', 0.95],
  s: ['sibilant', 0.95],
  /** Perhaps an s. */
  z: ['sibilant', 0.6],
  b: ['burst', 0.95],
} as const;

/** One frame a letter, silence after the last. */
function tablesOf(letters: string) {
  const track = new Float64Array(FRAMES * FRAME_CLASSES.length);
  [...letters.padEnd(FRAMES, '.')].forEach((letter, t) => {
    const [name, probability] = FRAME_OF[letter as Letter];
    track[t * FRAME_CLASSES.length + FRAME_CLASSES.indexOf('silence')] = 1 - probability;
    track[t * FRAME_CLASSES.length + FRAME_CLASSES.indexOf(name)] = probability;
  });
  return {
    rowCount: FRAMES,
    track,
    bands: new Float64Array(FRAMES * ROW_BANDS),
    inputs: new Float64Array(FRAMES * INPUT_COUNT),
  };
}

/** Where the letters from the first to the last of these stand. */
function partOf(letters: string, of: string) {
  const places = [...letters].flatMap((letter, t) => (of.includes(letter) ? [t] : []));
  return {
    start: places[0] as number,
    end: (places.at(-1) as number) + 1,
    class: FRAME_CLASSES.indexOf('sibilant'),
  };
}

/** A track whose envelope has these powers in these blocks, and none elsewhere. */
function sourceOf(...noises: readonly { from: number; to: number; power?: number }[]) {
  const envelope = createRowStore(1);
  envelope.add(Math.ceil(FRAMES * BLOCKS_A_FRAME) + 40);
  for (const { from, to, power = 1 } of noises)
    for (let b = from; b < to; b++) envelope.data[envelope.at(b)] = power;
  return { envelope, hopSamples: HOP, blockSamples: BLOCK };
}

/** Where a frame begins, in blocks: half a hop before its centre. */
const blockOf = (frame: number) => (frame - 0.5) * BLOCKS_A_FRAME;

describe('eventEdges', () => {
  it.each([
    ['as the frames say', '....................ssssssssssss'],
    ['a frame later', '.....................sssssssssss'],
    ['three frames earlier and later', '.................ssssssssssssssssss'],
  ])(
    'finds where noise begins and ends in silence to the block, whatever the frames say: %s',
    (_, letters) => {
      const edges = eventEdges(
        sourceOf({ from: 107, to: 165 }),
        tablesOf(letters),
        0,
        partOf(letters, 's'),
        'sibilant',
        EVERYWHERE,
      );
      expect(Math.abs((edges?.onsetSample ?? 0) - 107 * BLOCK)).toBeLessThanOrEqual(A_BLOCK);
      expect(Math.abs((edges?.offsetSample ?? 0) - 165 * BLOCK)).toBeLessThanOrEqual(A_BLOCK);
    },
  );

  it('counts samples from where the track began, not from where the stretch does', () => {
    const letters = '....................ssssssssssss';
    const [tables, part] = [tablesOf(letters), partOf(letters, 's')];
    const first = eventEdges(sourceOf({ from: 107, to: 165 }), tables, 0, part, 'sibilant', EVERYWHERE);
    const later = eventEdges(sourceOf({ from: 139, to: 197 }), tables, 6, part, 'sibilant', EVERYWHERE);
    expect(later).toEqual({
      onsetSample: (first?.onsetSample ?? 0) + 6 * HOP,
      offsetSample: (first?.offsetSample ?? 0) + 6 * HOP,
    });
  });

  it.each([
    ['40 ms into silence', '....................ssssssssssss', 40],
    ['6 ms into voice', 'vvvvvvvvvvvvvvvvvvvvssssssssssssvvvvvvvvvvvvvvvvvvvvvvvv', 6],
    ['6 ms beside two frames of voice', '..................vvssssssssssssvv', 6],
    ['40 ms beside one, and silence', '...................vssssssssssssv', 40],
    // Five frames lie between: half of them is 2.5 · 16/3 = 13.3 blocks.
    ['half way to another noise', '...........sss.....ssssssssssss.....ssss', 13],
  ])('goes outwards by %s at most', (_, letters, most) => {
    const part = { ...partOf(letters, 's') };
    if (letters.includes('sss.....')) [part.start, part.end] = [19, 31];
    // Noise that the frames did not see, 50 blocks of it before and after, with a gap of 6 so that there is an edge to look for.
    const [start, end] = [Math.floor(blockOf(part.start)), Math.ceil(blockOf(part.end))];
    const source = sourceOf(
      { from: start - 50, to: start - 26 },
      { from: start - 20, to: end + 20 },
      { from: end + 26, to: end + 50 },
    );
    const edges = eventEdges(source, tablesOf(letters), 0, part, 'sibilant', EVERYWHERE);
    // Edges lie between blocks, and where the frames put them need not.
    expect(Math.abs((edges?.onsetSample ?? 0) / BLOCK - (start - most))).toBeLessThanOrEqual(1);
    expect(Math.abs((edges?.offsetSample ?? 0) / BLOCK - (end + most))).toBeLessThanOrEqual(1);
  });

  it('stays within its bounds, and is nothing where those leave nothing', () => {
    const letters = '....................ssssssssssss';
    const within = (leastSample: number, mostSample: number) =>
      eventEdges(sourceOf({ from: 107, to: 165 }), tablesOf(letters), 0, partOf(letters, 's'), 'sibilant', {
        leastSample,
        mostSample,
      });
    expect(within(6000, 7000)).toEqual({ onsetSample: 6000, offsetSample: 7000 });
    expect(within(8100, 9000)).toBeUndefined();
    expect(within(0, 5000)).toBeUndefined();
  });

  // Its edges are looked for up to 48 blocks beyond the last frame.
  const endBlock = blockOf(32) + 48;
  it.each([
    ['all of it', Number.POSITIVE_INFINITY],
    ['all that is looked at', endBlock],
    ['all but one block of that', endBlock - 1],
  ])('is nothing where the envelope has been forgotten: %s', (_, kept) => {
    const letters = '....................ssssssssssss';
    const source = sourceOf({ from: 107, to: 165 });
    source.envelope.dropBefore(kept);
    const [tables, part] = [tablesOf(letters), partOf(letters, 's')];
    expect(eventEdges(source, tables, 0, part, 'sibilant', EVERYWHERE)).toBeUndefined();
  });

  it('ends at 12 ms of silence in noise that the frames are not sure of, and not in noise that they are sure of', () => {
    const source = sourceOf({ from: 107, to: 145 }, { from: 157, to: 197 });
    const edgesOf = (letters: string) => {
      const edges = eventEdges(source, tablesOf(letters), 0, partOf(letters, 'sz'), 'sibilant', EVERYWHERE);
      return [edges?.onsetSample ?? 0, edges?.offsetSample ?? 0].map((sample) => sample / BLOCK);
    };
    for (const [letters, from, to] of [
      ['....................sssssssssssssssss', 107, 197],
      ['....................ssssssszzzzzzzzzz', 107, 145],
      ['....................zzzzzzzzzzsssssss', 157, 197],
    ] as const) {
      const [start, end] = edgesOf(letters);
      expect(Math.abs((start as number) - from)).toBeLessThanOrEqual(1);
      expect(Math.abs((end as number) - to)).toBeLessThanOrEqual(1);
    }
  });

  describe('of an affricate', () => {
    const onsetOf = (letters: string, kind: 'sibilant' | 'fricative', from: number) =>
      (eventEdges(
        sourceOf({ from, to: 100, power: 0.02 }, { from: 104, to: 160 }),
        tablesOf(letters),
        0,
        partOf(letters, 'bs'),
        kind,
        EVERYWHERE,
      )?.onsetSample ?? 0) / BLOCK;
    const [long, short] = ['..............bbbbbbssssssssss', '.................bbbssssssssss'];

    it('begins with the release before the s, though that is 17 dB weaker', () => {
      expect(Math.abs(onsetOf(long, 'sibilant', 75) - 75)).toBeLessThanOrEqual(1);
    });

    it('begins with the s where what comes before it is less than 15 ms earlier, or is no affricate', () => {
      expect(Math.abs(onsetOf(short, 'sibilant', 91) - 104)).toBeLessThanOrEqual(1);
      // A fricative's envelope is smoothed by a triangle of 7 blocks.
      expect(Math.abs(onsetOf(long, 'fricative', 75) - 104)).toBeLessThanOrEqual(2);
    });
  });
});
