import fc from 'fast-check';
import { parseMidi, writeMidi } from 'midi-file';
import { describe, expect, test } from 'vitest';
import { breakpointGainAt } from '../../src/exchange/breakpoint-gain-at.js';
import { gainFromMidi } from '../../src/exchange/gain-from-midi.js';
import { gainToMidi, type MidiGainOptions } from '../../src/exchange/gain-to-midi.js';
import { type GainBreakpoint, gainBreakpoints } from '../../src/gain/gain-breakpoints.js';
import { FADE_SHAPES, type RegionList } from '../../src/regions/region.js';
import { anyList, listOf, region } from '../gain/lists.js';
import { anyOutsideValue, damaged, hostileValues } from './outside-data.js';

interface WalkedEvent {
  readonly tick: number;
  readonly bytes: readonly number[];
}

/** A one-track file read by the Standard MIDI Files 1.0 specification (chunks, delta times, meta events), without the package. */
function walk(bytes: readonly number[]) {
  const text = (at: number) => String.fromCharCode(...bytes.slice(at, at + 4));
  const big = (at: number, count: number) =>
    bytes.slice(at, at + count).reduce((sum, byte) => sum * 256 + byte, 0);
  expect([text(0), big(4, 4), text(14), big(18, 4)]).toEqual(['MThd', 6, 'MTrk', bytes.length - 22]);
  const events: WalkedEvent[] = [];
  let at = 22;
  let tick = 0;
  const quantity = () => {
    let value = 0;
    for (;;) {
      const byte = bytes[at++] as number;
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
  };
  while (at < bytes.length) {
    tick += quantity();
    const start = at;
    if (bytes[at] === 0xff) {
      at += 2;
      const length = quantity();
      at += length;
    } else at += 3;
    events.push({ tick, bytes: bytes.slice(start, at) });
  }
  return { format: big(8, 2), tracks: big(10, 2), division: big(12, 2), events };
}

/** The steps of one controller as [position in samples, value], from the bytes of a file. */
function valuesIn(bytes: readonly number[], sampleRateHz: number, options: MidiGainOptions) {
  const { controller = 7, bits = 7, channel = 1 } = options;
  const { division, events } = walk(bytes);
  const tempo = events.find((e) => e.bytes[0] === 0xff && e.bytes[1] === 0x51)!.bytes;
  const microseconds = tempo[3]! * 65536 + tempo[4]! * 256 + tempo[5]!;
  const steps: (readonly [at: number, value: number])[] = [];
  let upper = 0;
  for (const {
    tick,
    bytes: [status, number, value],
  } of events) {
    if (status !== 0xb0 + channel - 1) continue;
    const at = ((tick / division) * microseconds * sampleRateHz) / 1e6;
    if (number === controller) upper = value!;
    if (bits === 7) steps.push([at, value!]);
    else if (number === controller + 32) steps.push([at, upper * 128 + value!]);
  }
  return { steps, samplesPerTick: (microseconds * sampleRateHz) / 1e6 / division };
}

/** The envelope of a clip, with the 0 dB that follow it: the last step of a region that ends with the clip leads there. */
function envelope(list: RegionList): readonly GainBreakpoint[] {
  const end = { sample: list.lengthSamples + 1e6, gainDb: 0, shape: 'linear' } as const;
  return [...gainBreakpoints(list), end];
}

/** Distance in dB from a gain to the nearest that the envelope has within `reach` samples of a position. */
function distance(points: readonly GainBreakpoint[], at: number, reach: number, gainDb: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k + 1 < points.length; k++) {
    const [from, to] = [points[k]!, points[k + 1]!];
    const [a, b] = [Math.max(from.sample, at - reach), Math.min(to.sample, at + reach)];
    if (a > b || from.sample === to.sample) continue;
    // A fade only rises or only falls, and takes every gain between its ends.
    const piece = [from, to];
    const ends = [a, b].map((x) =>
      x >= to.sample ? to.gainDb : 20 * Math.log10(breakpointGainAt(piece, x)),
    );
    const [low, high] = [Math.min(...ends), Math.max(...ends)];
    least = Math.min(least, Math.max(0, low - gainDb, gainDb - high));
  }
  return least;
}

/** The law by its formula, and half a value of it in dB: how far rounding to whole values may lead. */
function lawOf(options: MidiGainOptions) {
  const { bits = 7, law = 'squared', headroomDb = 0, rangeDb = 120 } = options;
  const most = bits === 7 ? 127 : 16383;
  const raw = (value: number) =>
    law === 'squared'
      ? headroomDb + 40 * Math.log10(value / most)
      : headroomDb - rangeDb * (1 - value / most);
  const gain = (value: number) => Math.max(-120, raw(value));
  const half = (value: number) => {
    if (law === 'decibel') return rangeDb / most / 2;
    // Value 0 is silence, written −120 dB, and stands for all down from half of value 1.
    return value === 0 ? Math.max(0, raw(0.5) + 120) : raw(value) - raw(value - 0.5);
  };
  return { gain, half };
}

const anyOptions: fc.Arbitrary<MidiGainOptions> = fc.record(
  {
    controller: fc.constantFrom(7 as const, 11 as const),
    bits: fc.constantFrom(7 as const, 14 as const),
    law: fc.constantFrom('squared' as const, 'decibel' as const),
    // 24 dB hold every boost; 144 dB below that reach the mute.
    headroomDb: fc.constant(24),
    rangeDb: fc.constant(144),
    channel: fc.integer({ min: 1, max: 16 }),
    ticksPerBeat: fc.constantFrom(24, 480, 960, 32767),
    tempoBpm: fc.oneof(fc.constantFrom(120, 1000), fc.double({ min: 4, max: 1000, noNaN: true })),
    stepDb: fc.constantFrom(0.1, 0.5, 3),
  },
  { requiredKeys: ['headroomDb', 'rangeDb'] },
);

const clipOf = ({ sampleRateHz, lengthSamples }: RegionList) => ({ sampleRateHz, lengthSamples });
const long = listOf(
  96000,
  region({ startSample: 0, endSample: 9600, fadeOutSamples: 240 }),
  region({
    startSample: 24000,
    endSample: 36000,
    gainDb: -12,
    fadeInSamples: 480,
    fadeShape: 'raisedCosine',
  }),
  region({
    startSample: 36000,
    endSample: 48000,
    gainDb: -120,
    fadeInSamples: 4800,
    fadeOutSamples: 480,
    fadeShape: 'decibel',
  }),
);

describe('gain as MIDI controller events', () => {
  test('is, as bytes, the file that the specification lays down', () => {
    const list = listOf(96000, region({ startSample: 24000, endSample: 36000, gainDb: -12 }));
    const bytes = writeMidi(gainToMidi(list));
    const hex = (text: string) => text.split(/\s+/).map((byte) => Number.parseInt(byte, 16));
    // 500,000 µs a beat is FF 51 03 07 A1 20; 64 is nearest to −12 dB: 127·10^(−12/40) = 63.65. Half a second is 480 ticks.
    expect(bytes).toEqual([
      ...hex('4D 54 68 64 00 00 00 06 00 00 00 01 01 E0'),
      ...hex('4D 54 72 6B 00 00 00 22'),
      ...hex('00 FF 03 04 67 61 69 6E 00 FF 51 03 07 A1 20'),
      ...hex('00 B0 07 7F 83 60 B0 07 40 81 70 B0 07 7F 89 30 FF 2F 00'),
    ]);
  });

  test('is written and read by midi-file without a difference', () => {
    const file = gainToMidi(long, { bits: 14 });
    const parsed = parseMidi(writeMidi(file));
    expect(parsed.header).toEqual(file.header);
    const plain = parsed.tracks.map((track) =>
      track.map((event) => Object.fromEntries(Object.entries(event).filter(([name]) => name !== 'meta'))),
    );
    expect(plain).toEqual(file.tracks);
  });

  test('has delta times as in the table of the specification', () => {
    // Standard MIDI Files 1.0, International MIDI Association, July 1988, section 1 (READ in an excerpt). One tick a sample here.
    const table: readonly (readonly [number, readonly number[]])[] = [
      [0x00, [0x00]],
      [0x40, [0x40]],
      [0x7f, [0x7f]],
      [0x80, [0x81, 0x00]],
      [0x2000, [0xc0, 0x00]],
      [0x3fff, [0xff, 0x7f]],
      [0x4000, [0x81, 0x80, 0x00]],
      [0x100000, [0xc0, 0x80, 0x00]],
      [0x1fffff, [0xff, 0xff, 0x7f]],
      [0x200000, [0x81, 0x80, 0x80, 0x00]],
      [0x8000000, [0xc0, 0x80, 0x80, 0x00]],
      [0xfffffff, [0xff, 0xff, 0xff, 0x7f]],
    ];
    const file = (lengthSamples: number) =>
      writeMidi(gainToMidi(listOf(lengthSamples), { ticksPerBeat: 24000 }));
    for (const [ticks, bytes] of table) expect(file(ticks).slice(41)).toEqual([...bytes, 0xff, 0x2f, 0x00]);
    expect(() => file(0x10000000)).toThrow(/at most 268435455 ticks/);
  });

  /** Reads the bytes of a file and holds each sample's value against the envelope. */
  function expectWithinBounds(list: RegionList, options: MidiGainOptions): void {
    const bytes = writeMidi(gainToMidi(list, options));
    const { steps, samplesPerTick } = valuesIn(bytes, list.sampleRateHz, options);
    expect(steps[0]?.[0]).toBe(0);
    const points = envelope(list);
    const { gain, half } = lawOf(options);
    let k = 0;
    for (let i = 0; i < list.lengthSamples; i++) {
      // Positions come from products of doubles: the slack takes their rounding, here and below.
      while (k + 1 < steps.length && steps[k + 1]![0] <= i + 1e-9) k++;
      const value = steps[k]![1];
      const most = (options.stepDb ?? 0.5) / 2 + half(value) + 1e-6;
      expect(distance(points, i, samplesPerTick / 2 + 1e-6, gain(value))).toBeLessThanOrEqual(most);
    }
  }

  test('decodes to the gain of the clip within half a step and half a tick, from the bare bytes', () => {
    fc.assert(fc.property(anyList(), anyOptions, expectWithinBounds), { numRuns: 150 });
  });

  test('keeps to half a step within long fades of every shape, where ticks and values are fine', () => {
    // A tick is a tenth of a sample here and a value of 14 bits a few thousandths of a decibel but near the mute, so the steps alone are left to be felt.
    const fine = { bits: 14, ticksPerBeat: 32767, tempoBpm: 1000, headroomDb: 24 } as const;
    for (const fadeShape of FADE_SHAPES)
      for (const gainDb of [-120, -12, 24]) {
        const fades = { fadeInSamples: 1500, fadeOutSamples: 1000, fadeShape, gainDb };
        const list = listOf(3000, region({ startSample: 5, endSample: 2900, ...fades }));
        for (const stepDb of [0.5, 3]) expectWithinBounds(list, { ...fine, stepDb });
      }
  });

  test('says nothing twice, and one value a tick', () => {
    fc.assert(
      fc.property(anyList(), anyOptions, (list, options) => {
        const { steps } = valuesIn(writeMidi(gainToMidi(list, options)), list.sampleRateHz, options);
        for (let k = 1; k < steps.length; k++) {
          expect(steps[k]![0]).toBeGreaterThan(steps[k - 1]![0]);
          expect(steps[k]![1]).not.toBe(steps[k - 1]![1]);
        }
      }),
    );
  });

  test('gives 0 dB the highest value unless headroom is asked for', () => {
    const first = (options: MidiGainOptions) =>
      gainToMidi(listOf(9), options).tracks[0]!.flatMap((e) =>
        e.type === 'controller' ? [[e.controllerType, e.value]] : [],
      );
    expect(first({})).toEqual([[7, 127]]);
    expect(first({ controller: 11 })).toEqual([[11, 127]]);
    // 127·10^(−6/40) = 89.91
    expect(first({ headroomDb: 6 })).toEqual([[7, 90]]);
    // 16383 = 127·128 + 127, the upper half first.
    expect(first({ bits: 14 })).toEqual([
      [7, 127],
      [39, 127],
    ]);
    expect(first({ bits: 14, controller: 11 }).map(([number]) => number)).toEqual([11, 43]);
  });

  test('turns a mute into value 0 with 7 bits', () => {
    const list = listOf(96000, region({ startSample: 0, endSample: 48000, gainDb: -120 }));
    const values = gainToMidi(list).tracks[0]!.flatMap((e) => (e.type === 'controller' ? [e.value] : []));
    expect(values).toEqual([0, 127]);
  });

  test('does not drift, whatever the tempo: ten hours later an event is within half a tick of its time', () => {
    const at = 36000 * 48000;
    const list = listOf(at + 96000, region({ startSample: at, endSample: at + 48000 }));
    for (const tempoBpm of [133.33, 59.94, 7.777]) {
      const { steps, samplesPerTick } = valuesIn(writeMidi(gainToMidi(list, { tempoBpm })), 48000, {});
      expect(Math.abs(steps[1]![0] - at)).toBeLessThanOrEqual(samplesPerTick / 2 + 1e-6);
    }
  });

  test('is frozen all the way down', () => {
    const frozen = (value: unknown): boolean =>
      typeof value !== 'object' ||
      value === null ||
      (Object.isFrozen(value) && Object.values(value).every(frozen));
    expect(frozen(gainToMidi(long))).toBe(true);
  });

  test('refuses gains that the law cannot say, and options out of range', () => {
    const boost = listOf(9, region({ startSample: 0, endSample: 9, gainDb: 3 }));
    expect(() => gainToMidi(boost)).toThrow(/headroomDb must be at least 3/);
    expect(() => gainToMidi(boost, { headroomDb: 3 })).not.toThrow();
    expect(() =>
      gainToMidi(listOf(9, region({ startSample: 0, endSample: 9, gainDb: 3, bypassed: true }))),
    ).not.toThrow();
    expect(() => gainToMidi(long, { law: 'decibel', rangeDb: 60 })).toThrow(
      /rangeDb must reach down to -120 dB/,
    );
    const wrong: object[] = [
      { controller: 10 },
      { bits: 8 },
      { law: 'linear' },
      { headroomDb: -1 },
      { rangeDb: 0 },
      { channel: 0 },
      { channel: 17 },
      { ticksPerBeat: 32768 },
      { tempoBpm: 3 },
      { stepDb: 0 },
    ];
    for (const options of wrong)
      expect(() => gainToMidi(long, options as MidiGainOptions)).toThrow(RangeError);
    expect(() => gainToMidi(null as never)).toThrow(TypeError);
  });
});

describe('gain from MIDI controller events', () => {
  const event = (deltaTime: number, value: number, controllerType = 7, channel = 0) => ({
    deltaTime,
    type: 'controller',
    channel,
    controllerType,
    value,
  });
  const clip = { sampleRateHz: 48000, lengthSamples: 96000 };
  const header = { format: 1, numTracks: 1, ticksPerBeat: 480 };
  const corners = (result: ReturnType<typeof gainFromMidi>) =>
    result.ok
      ? result.value.map(({ sample, gainDb }) => [sample, Number(gainDb.toFixed(2))])
      : result.problems.map(({ path, rule }) => `${path} ${rule}`);

  test('follows the recommended law', () => {
    // General MIDI Level 1 Developer Guidelines, as quoted at sound.stackexchange.com/questions/41549 (READ there). The table has one
    // decimal, in part cut off: within 0.1 dB.
    const table = [
      [127, 0],
      [96, -4.8],
      [64, -11.9],
      [32, -23.9],
      [16, -36],
    ] as const;
    for (const [value, gainDb] of table)
      for (const controller of [7, 11] as const) {
        const result = gainFromMidi(
          { header, tracks: [[event(0, value, controller)]] },
          { ...clip, controller },
        );
        expect(Math.abs((result.ok ? result.value[0]!.gainDb : Number.NaN) - gainDb)).toBeLessThanOrEqual(
          0.1,
        );
      }
    expect(corners(gainFromMidi({ header, tracks: [[event(0, 0)]] }, clip))).toEqual([
      [0, -120],
      [96000, -120],
    ]);
  });

  test('gives back what gainToMidi wrote, within half a step and half a tick', () => {
    fc.assert(
      fc.property(anyList(), anyOptions, (list, options) => {
        const { controller, bits, law, channel } = options;
        const same = JSON.parse(JSON.stringify({ controller, bits, law, channel })) as MidiGainOptions;
        const laws = { ...same, headroomDb: 24, rangeDb: 144 };
        const bytes = writeMidi(gainToMidi(list, options));
        const result = gainFromMidi(parseMidi(bytes), { ...clipOf(list), ...laws });
        if (!result.ok) throw new Error(JSON.stringify(result.problems));
        const points = envelope(list);
        const { samplesPerTick } = valuesIn(bytes, list.sampleRateHz, options);
        const { half } = lawOf(options);
        const most = options.bits === 14 ? 16383 : 127;
        for (let i = 0; i < list.lengthSamples; i++) {
          const gainDb = 20 * Math.log10(breakpointGainAt(result.value, i));
          // The value that stands for this gain; its half step is the bound.
          const below = gainDb - 24;
          const value = Math.round(most * (options.law === 'decibel' ? 1 + below / 144 : 10 ** (below / 40)));
          // Steps are rounded to whole samples on top.
          const reach = samplesPerTick / 2 + 0.5 + 1e-6;
          // −120 dB may be the silence of value 0 as well.
          const rounding = Math.max(half(value), gainDb < -119.999 ? half(0) : 0);
          const bound = (options.stepDb ?? 0.5) / 2 + rounding + 1e-6;
          expect(distance(points, i, reach, gainDb)).toBeLessThanOrEqual(bound);
        }
      }),
      { numRuns: 100 },
    );
  });

  test('follows tempo changes on any track, and takes 120 beats a minute without one', () => {
    const tempo = (deltaTime: number, microsecondsPerBeat: number) => ({
      deltaTime,
      type: 'setTempo',
      microsecondsPerBeat,
    });
    // A beat of 0.5 s, then beats of 0.25 s: ticks 480 and 960 are 0.5 and 0.75 s.
    const tracks = [[tempo(480, 250_000)], [event(0, 127), event(480, 64), event(480, 127)]];
    expect(corners(gainFromMidi({ header, tracks }, clip))).toEqual([
      [0, 0],
      [24000, 0],
      [24000, -11.9],
      [36000, -11.9],
      [36000, 0],
      [96000, 0],
    ]);
  });

  test('takes 0 dB before the first value, the last of one tick, and nothing from the end on', () => {
    const tracks = [[event(480, 1), event(0, 64), event(1440, 1), event(10, 2)]];
    expect(corners(gainFromMidi({ header, tracks }, clip))).toEqual([
      [0, 0],
      [24000, 0],
      [24000, -11.9],
      [96000, -11.9],
    ]);
  });

  test('passes over other channels, controllers and events', () => {
    const tracks = [
      [event(0, 1, 7, 1), event(0, 1, 10), event(0, 1, 39), { deltaTime: 0, type: 'noteOn', channel: 0 }],
    ];
    expect(corners(gainFromMidi({ header, tracks }, clip))).toEqual([
      [0, 0],
      [96000, 0],
    ]);
  });

  test('sets the lower half to 0 when an upper one comes', () => {
    const tracks = [[event(0, 127), event(0, 127, 39), event(480, 64), event(480, 127, 39)]];
    const at = (value: number) => Number((40 * Math.log10(value / 16383)).toFixed(2));
    expect(corners(gainFromMidi({ header, tracks }, { ...clip, bits: 14 }))).toEqual([
      [0, 0],
      [24000, 0],
      [24000, at(64 * 128)],
      [48000, at(64 * 128)],
      [48000, at(64 * 128 + 127)],
      [96000, at(64 * 128 + 127)],
    ]);
  });

  test('tells each problem by its path', () => {
    const read = (value: unknown) => corners(gainFromMidi(value, clip));
    expect(read({ header: { format: 2, framesPerSecond: 29, ticksPerFrame: 80 }, tracks: [] })).toEqual([
      '$.header.format must be 0 or 1',
      '$.header.ticksPerBeat must be a whole number within [1, 32767]',
    ]);
    expect(
      read({
        header,
        tracks: [
          [event(-1, 1), event(0, 128), { deltaTime: 0, type: 'setTempo', microsecondsPerBeat: 0 }],
          7,
        ],
      }),
    ).toEqual([
      '$.tracks[0][0].deltaTime must be a whole number within [0, 268435455]',
      '$.tracks[0][1].value must be a whole number within [0, 127]',
      '$.tracks[0][2].microsecondsPerBeat must be a whole number within [1, 16777215]',
      '$.tracks[1] must be an array',
    ]);
    expect(read({ header })).toEqual(['$.tracks must be an array of at most 65535']);
  });

  test('never throws, and gives ordered gains or problems', () => {
    let problems = 0;
    const judge = (value: unknown) => {
      const result = gainFromMidi(value, clip);
      if (!result.ok) {
        problems++;
        expect(result.problems.length).toBeGreaterThan(0);
        expect(result.problems.length).toBeLessThanOrEqual(100);
        return;
      }
      const points = result.value;
      expect([points[0]?.sample, points.at(-1)?.sample]).toEqual([0, 96000]);
      points.forEach((point, k) => {
        expect(point.gainDb).toBeGreaterThanOrEqual(-120);
        expect(point.gainDb).toBeLessThanOrEqual(24);
        expect(point.sample).toBeGreaterThanOrEqual(points[k - 1]?.sample ?? 0);
      });
    };
    const sound = gainToMidi(
      listOf(
        96000,
        region({ startSample: 4800, endSample: 9600 }),
        region({ startSample: 48000, endSample: 50000 }),
      ),
    );
    fc.assert(fc.property(damaged(sound), judge), { numRuns: 4000, seed: 7 });
    fc.assert(fc.property(anyOutsideValue(), judge), { numRuns: 1000, seed: 8 });
    for (const value of hostileValues()) judge(value);
    expect(problems).toBeGreaterThan(1500);
    judge({ header, tracks: [new Array(4_000_000_000)] });
    judge({ header, tracks: new Array(4_000_000_000) });
  });

  test('refuses options out of range', () => {
    expect(() => gainFromMidi({}, { ...clip, sampleRateHz: 1 })).toThrow(RangeError);
    expect(() => gainFromMidi({}, { ...clip, bits: 9 as never })).toThrow(RangeError);
  });
});
