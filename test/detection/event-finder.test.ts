import { describe, expect, it } from 'vitest';
import type { ClassTrack } from '../../src/detection/class-track.js';
import { DEFAULT_DETECTION_OPTIONS, type DetectionSettings } from '../../src/detection/detection-options.js';
import { BAND_COUNT, INPUT_COUNT, ROW_BANDS, TOP_BAND } from '../../src/detection/detection-scale.js';
import { createEventFinder, type FoundEvent } from '../../src/detection/event-finder.js';
import { EVENT_MEASURE_COUNT } from '../../src/detection/event-measures.js';
import { createRowStore } from '../../src/detection/row-store.js';
import { createThresholdClassifier } from '../../src/detection/threshold-classifier.js';

const HOP = 256;
const BLOCK = 48;
const PER_FRAME = HOP / BLOCK;
/** Voice, silence, s, f, burst, breath. */
type Kinds = readonly [number, number, number, number, number, number];
const SILENCE: Kinds = [0.05, 0.95, 0, 0, 0, 0];
const VOICE: Kinds = [0.95, 0.05, 0, 0, 0, 0];
const S: Kinds = [0.05, 0.05, 0.9, 0, 0, 0];

interface Take {
  readonly frames: number;
  /** From, to, and the kinds of those frames; silence elsewhere. */
  readonly kinds: readonly (readonly [number, number, Kinds])[];
  /** From, to: blocks with noise of power 1; silence elsewhere. */
  readonly noise?: readonly (readonly [number, number])[];
  /** From, to: blocks with a fortieth of that power. */
  readonly release?: readonly [number, number];
  /** All inputs, which are levels relative to the voice. */
  readonly input?: number;
  /** Power of every high band in every frame. */
  readonly high?: number;
  /** Power of the top band in every frame. */
  readonly top?: number;
  /** From, to: frames with power 1 from 500 to 750 Hz; a millionth elsewhere. */
  readonly voices?: readonly (readonly [number, number])[];
}

/** A finder on tables made by hand, and the frames that it said are not needed any more. */
function finderOf(
  { frames, kinds, noise = [], release = [0, 0], input = 1, high = 1, top = 0, voices = [] }: Take,
  options: object = {},
) {
  const bands = createRowStore(ROW_BANDS);
  const inputs = createRowStore(INPUT_COUNT);
  const track = createRowStore(6);
  const envelope = createRowStore(1);
  const dropped: (readonly [number, number])[] = [];
  const source: ClassTrack = {
    hopSamples: HOP,
    blockSamples: BLOCK,
    bands,
    inputs,
    track,
    envelope,
    push: () => {},
    dropBefore: (frame, bandsFrame = frame) => dropped.push([frame, bandsFrame]),
    release: () => {},
  };
  const finder = createEventFinder(
    { ...DEFAULT_DETECTION_OPTIONS, sampleRateHz: 48_000, eventModel: null, ...options } as DetectionSettings,
    source,
  );
  const lengthSamples = frames * HOP;
  /** Adds the frames up to one, with their blocks; bands may be known further on. */
  const until = (end: number, bandsEnd: number): void => {
    for (let t = bands.end; t < bandsEnd; t++) {
      const row = bands.add();
      bands.data.fill(1e-6, row, row + 11);
      bands.data.fill(high, row + 11, row + BAND_COUNT);
      bands.data[row + TOP_BAND] = top;
      if (voices.some(([from, to]) => t >= from && t < to)) bands.data[row + 2] = 1;
    }
    for (let t = track.end; t < end; t++) {
      const own = kinds.find(([from, to]) => t >= from && t < to)?.[2] ?? SILENCE;
      const at = track.add();
      track.data.set(own, at);
      const place = inputs.add();
      inputs.data.fill(input, place, place + INPUT_COUNT);
    }
    for (let b = envelope.end; b < end * PER_FRAME; b++) {
      const at = envelope.add();
      if (b >= release[0] && b < release[1]) envelope.data[at] = 1 / 40;
      if (noise.some(([from, to]) => b >= from && b < to)) envelope.data[at] = 1;
    }
  };
  const advance = (end: number, ended = false, bandsEnd = end): readonly FoundEvent[] => {
    until(end, bandsEnd);
    return finder.advance(lengthSamples, ended);
  };
  return { advance, dropped, all: (): readonly FoundEvent[] => advance(frames, true) };
}

/** Half of the amplitude of a step is crossed so far outside of it where a triangle of 1, 2, 3, 2, 1 smooths the power: √3/9 and √1/9. */
const S_OUTSIDE = 0.5 + (Math.sqrt(3) / 3 - 0.5) / (Math.sqrt(3) / 3 - 1 / 3);
/** The same for a triangle of 1, 2, 1: exactly half one block outside. */
const BURST_OUTSIDE = 0.5;
const sample = (block: number): number => Math.round(block * BLOCK);
const spansOf = (events: readonly FoundEvent[]): number[][] =>
  events.map(({ onsetSample, offsetSample }) => [onsetSample, offsetSample]);

/** Twenty frames of s from frame 40 on, whose noise fills blocks 211 to 316. */
const ess: Take = { frames: 120, kinds: [[40, 60, S]], noise: [[211, 317]] };

describe('what is found', () => {
  it('is a stretch with its edges in the envelope, its mean probabilities and what they come to', () => {
    const [event, ...more] = finderOf(ess).all();
    expect(more).toEqual([]);
    expect(event).toMatchObject({
      kind: 'sibilant',
      onsetSample: sample(211 - S_OUTSIDE),
      offsetSample: sample(317 + S_OUTSIDE),
    });
    const { rule, numbers } = event!.reason;
    const { bandwidth, burst, none, sibilant } = numbers;
    expect([rule, bandwidth, burst]).toEqual(['detected', 1, 0]);
    // Means of twenty times the same.
    for (const share of [event!.confidence, sibilant]) expect(share).toBeCloseTo(0.9, 12);
    expect(none).toBeCloseTo(0.1, 12);
  });

  it('is judged by the package’s own network, but not where another classifier or another model is given', () => {
    const sibilant = (options: object): number => {
      const { sibilant: share = Number.NaN } = finderOf(ess, options).all()[0]!.reason.numbers;
      return share;
    };
    const classifier = createThresholdClassifier();
    expect(sibilant({ eventModel: null })).toBeCloseTo(0.9, 12);
    expect(sibilant({ eventModel: undefined, classifier })).toBeCloseTo(0.9, 12);
    // A network's answer is not the mean of the frames: nothing makes it 0.9 to three digits.
    expect(Math.abs(sibilant({ eventModel: undefined }) - 0.9)).toBeGreaterThan(1e-3);
    // Of all weights 0, every class is as likely: one of five.
    const even = {
      measureCount: EVENT_MEASURE_COUNT,
      hiddenCount: 1,
      means: new Float64Array(EVENT_MEASURE_COUNT),
      spreads: new Float64Array(EVENT_MEASURE_COUNT).fill(1),
      weights: new Float64Array(EVENT_MEASURE_COUNT + 1 + 2 * 5),
    };
    expect(sibilant({ eventModel: even, classifier })).toBeCloseTo(0.2, 12);
  });

  it('asks the top band what the package’s own network cannot hear, and for no other', () => {
    const shares = (top: number, options: object): readonly number[] => {
      const { sibilant = Number.NaN, fricative = Number.NaN } = finderOf({ ...ess, top }, options).all()[0]!
        .reason.numbers;
      return [sibilant, fricative];
    };
    // Five bands hold 1 each and five 1e-6; the top band ten times as much.
    const own = { eventModel: undefined };
    const [s, f] = shares(0, own) as [number, number];
    const [brightS, brightF] = shares(10 * (5 + 5e-6), own) as [number, number];
    expect(Math.log(brightS / brightF) - Math.log(s / f)).toBeCloseTo(1.3 * Math.log(10), 9);
    expect(brightS + brightF).toBeCloseTo(s + f, 12);
    for (const other of [
      { eventModel: null },
      { eventModel: undefined, classifier: createThresholdClassifier() },
    ])
      expect(shares(1e3, other)).toEqual(shares(0, other));
  });

  it('is no sibilant where it is short and no voice is near: an s leans on a voice or is longer', () => {
    const kindOf = (blocks: number, beside: Take['kinds'] = [], kind = S): string | undefined =>
      finderOf({ frames: 160, kinds: [...beside, [60, 76, kind]], noise: [[320, 320 + blocks]] }).all()[0]
        ?.kind;
    // Edges lie almost a block of 1 ms outside of the noise, on both sides: at 70 ms it changes.
    expect(66 + 2 * S_OUTSIDE).toBeLessThan(70);
    expect(69 + 2 * S_OUTSIDE).toBeGreaterThan(70);
    expect(kindOf(66)).toBe('burst');
    expect(kindOf(69)).toBe('sibilant');
    expect(kindOf(66, [[45, 58, VOICE]])).toBe('sibilant');
    expect(kindOf(66, [[78, 90, VOICE]])).toBe('sibilant');
    // More than twenty frames away.
    expect(kindOf(66, [[20, 39, VOICE]])).toBe('burst');
    expect(kindOf(66, [], [0.05, 0.05, 0, 0.9, 0, 0])).toBe('fricative');
  });

  it('is a breath where it would be a fricative, is 60 ms long and lies between rests of the voice', () => {
    const f: Kinds = [0.05, 0.05, 0, 0.9, 0, 0];
    const kindOf = (blocks: number, voices: NonNullable<Take['voices']>, kind = f): string | undefined =>
      finderOf({ frames: 400, kinds: [[200, 216, kind]], noise: [[1067, 1067 + blocks]], voices }).all()[0]
        ?.kind;
    // Within 112 frames of its edges, and no nearer than eight.
    expect(kindOf(60, [[120, 122]])).toBe('breath');
    expect(kindOf(60, [[300, 302]])).toBe('breath');
    expect(
      kindOf(60, [
        [120, 122],
        [195, 196],
      ]),
    ).toBe('fricative');
    expect(
      kindOf(60, [
        [120, 122],
        [214, 216],
      ]),
    ).toBe('fricative');
    expect(kindOf(60, [[80, 82]])).toBe('fricative');
    expect(kindOf(60, [])).toBe('fricative');
    expect(kindOf(60, [[120, 122]], [0.05, 0.05, 0, 0, 0.9, 0])).toBe('burst');
    // An f is smoothed by a triangle of seven blocks: half its amplitude lies less than two blocks outside.
    expect(kindOf(55, [[120, 122]])).toBe('fricative');
  });

  it('begins at the first threshold of noise and goes on down to the second', () => {
    const noisy = (probability: number): Kinds => [0, 1 - probability, probability, 0, 0, 0];
    const found = (first: number, then: number): number =>
      finderOf({
        ...ess,
        kinds: [
          [40, 44, noisy(first)],
          [44, 60, noisy(then)],
        ],
      }).all().length;
    expect(found(0.5, 0.5)).toBe(1);
    expect(found(0.49, 0.49)).toBe(0);
    const twice = (between: number): number =>
      finderOf({
        ...ess,
        kinds: [
          [40, 48, S],
          [48, 52, noisy(between)],
          [52, 60, S],
        ],
      }).all().length;
    expect(twice(0.31)).toBe(1);
    expect(twice(0.29)).toBe(2);
  });

  it('is cut after 750 frames, and goes on with the next', () => {
    const long = finderOf({ frames: 1700, kinds: [[40, 1640, S]], noise: [[211, 8744]] }).all();
    // Where noise stands on both sides the edge is that of the frames, half a hop before the first.
    const at = (frame: number): number => (frame - 0.5) * HOP;
    expect(spansOf(long)).toEqual([
      [sample(211 - S_OUTSIDE), at(790)],
      [at(790), at(1540)],
      [at(1540), sample(8744 + S_OUTSIDE)],
    ]);
  });

  it('is an s in its edges where it may as well be one, and else ends like a burst', () => {
    const found = (sibilant: number, burst: number): FoundEvent =>
      finderOf({ ...ess, kinds: [[40, 60, [0.05, 0.05, sibilant, 0, burst, 0]]] }).all()[0]!;
    expect(found(0.45, 0.45)).toMatchObject({ kind: 'burst', onsetSample: sample(211 - S_OUTSIDE) });
    expect(found(0.44, 0.46)).toMatchObject({ kind: 'burst', onsetSample: sample(211 - BURST_OUTSIDE) });
  });

  it('begins with the release before an s, but for one of under 15 blocks', () => {
    // Weaker by 16 dB than the s after it, so that half the amplitude of the s lies where the s begins.
    const affricate = (frames: number, start: number): number => {
      const events = finderOf({
        ...ess,
        kinds: [
          [40, 40 + frames, [0.05, 0.05, 0.3, 0, 0.6, 0]],
          [40 + frames, 60, S],
        ],
        noise: [[start, 317]],
        release: [211, start],
      }).all();
      expect(events).toHaveLength(1);
      expect(events[0]!.kind).toBe('sibilant');
      return events[0]!.onsetSample / BLOCK;
    };
    // Each edge within a block and a half of the step: half of the smoothing, and half a block more.
    expect(Math.abs(affricate(5, 237) - 211)).toBeLessThan(1.5);
    expect(Math.abs(affricate(2, 221) - 221)).toBeLessThan(1.5);
  });

  it('is nothing far below the voice or within the noise floor, unless it is a breath', () => {
    const breath: Kinds = [0.05, 0.05, 0, 0, 0, 0.9];
    for (const [own, count] of [
      [S, 0],
      [breath, 1],
    ] as const)
      expect(finderOf({ ...ess, kinds: [[40, 60, own]], input: -4 }).all()).toHaveLength(count);
  });

  it('is less sure where there is little above 4 kHz, and least at a low rate', () => {
    const bandwidthOf = (take: Take, options = {}): number | undefined => {
      const { bandwidth } = finderOf(take, options).all()[0]!.reason.numbers;
      return bandwidth;
    };
    // Five high bands against seven from 1 kHz to 4 kHz with 1e-6 each: 30 dB less is 7e-9 in all.
    expect(bandwidthOf({ ...ess, high: 1.41e-9 })).toBe(1);
    expect(bandwidthOf({ ...ess, high: 1.39e-9 })).toBe(0.95);
    expect(bandwidthOf(ess, { sampleRateHz: 15_999 })).toBe(0.9);
    expect(bandwidthOf(ess, { sampleRateHz: 16_000 })).toBe(1);
  });
});

describe('edges', () => {
  // The noise begins 20 blocks before the frames say so, and ends 20 after.
  const wide: Take = { ...ess, noise: [[191, 337]] };

  it('move up to 40 blocks outwards into silence', () => {
    expect(spansOf(finderOf(wide).all())).toEqual([[sample(191 - S_OUTSIDE), sample(337 + S_OUTSIDE)]]);
  });

  it('move no more than 6 blocks into voice', () => {
    // Frame 40 begins at block 210.67: the last block looked at is 204, and its own start the edge. Frame 60 at 317.33: block 323.
    const edgesWith = (before: Kinds, after: Kinds): number[] =>
      spansOf(
        finderOf({
          ...wide,
          kinds: [
            [38, 40, before],
            [40, 60, S],
            [60, 62, after],
          ],
        }).all(),
      )[0]!;
    expect(edgesWith(VOICE, VOICE)).toEqual([sample(204), sample(324)]);
    expect(edgesWith(VOICE, SILENCE)).toEqual([sample(204), sample(337 + S_OUTSIDE)]);
    expect(edgesWith(SILENCE, VOICE)).toEqual([sample(191 - S_OUTSIDE), sample(324)]);
    // As much voice as silence is no voice.
    expect(edgesWith([0.5, 0.5, 0, 0, 0, 0], VOICE)[0]).toBe(sample(191 - S_OUTSIDE));
  });

  it('stay within the clip, and do not overlap', () => {
    const whole = finderOf({ frames: 30, kinds: [[0, 30, S]], noise: [[0, 161]] }).all();
    expect(spansOf(whole)).toEqual([[0, 30 * HOP]]);
  });

  it('are judged at the ends of the clip by the frames that are there', () => {
    const early = finderOf({
      frames: 80,
      kinds: [
        [0, 1, VOICE],
        [1, 20, S],
      ],
      noise: [[0, 104]],
    });
    // One voiced frame before it: no more than 6 blocks, which is the start of the clip anyway.
    expect(early.all()[0]!.onsetSample).toBe(0);
  });
});

describe('a stream', () => {
  it('gives an event once 21 frames and 120 of bands follow it, and forgets what lies 21 and 120 before all that it may still need', () => {
    const { advance, dropped } = finderOf(ess);
    expect(advance(40, false, 160)).toEqual([]);
    expect(advance(50, false, 170)).toEqual([]);
    expect(advance(80, false, 200)).toEqual([]);
    expect(advance(81, false, 200)).toHaveLength(1);
    expect(advance(200, true)).toEqual([]);
    // No noise yet; a stretch that goes on; one that waits; and none again.
    expect(dropped).toEqual([40, 40, 40, 81, 200].map((frame) => [frame - 21, frame - 120]));
    const { advance: advanceWithout } = finderOf(ess);
    expect(advanceWithout(81, false, 179)).toEqual([]);
    expect(advanceWithout(81, false, 180)).toHaveLength(1);
  });

  it('gives at its end what still goes on', () => {
    const { advance } = finderOf({ ...ess, frames: 60 });
    expect(advance(55)).toEqual([]);
    expect(advance(60, true)).toHaveLength(1);
  });
});
