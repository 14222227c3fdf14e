import { describe, expect, test } from 'vitest';
import { integratedLoudness, loudnessTrack } from '../../src/signal/loudness.js';
import type { Samples } from '../../src/signal/samples.js';

const RATE = 48000;

/** A sine whose level changes: pairs of peak level in dBFS and seconds. */
function tone(parts: readonly (readonly [number, number])[], frequencyHz = 1000, rate = RATE): Samples {
  const lengths = parts.map(([, seconds]) => Math.round(seconds * rate));
  const out = new Float32Array(lengths.reduce((a, b) => a + b, 0));
  let n = 0;
  parts.forEach(([dBFS], i) => {
    const amplitude = 10 ** (dBFS / 20);
    for (const end = n + lengths[i]!; n < end; n++)
      out[n] = amplitude * Math.sin((2 * Math.PI * frequencyHz * n) / rate);
  });
  return out;
}

// ITU-R BS.1770 (from memory, consistent with READ-CODE). At 48 kHz to the two decimals given; at the other studio rates 0.01;
// below, the bilinear transform bends the shelf towards the tone: 0.1 LU (the tolerance of EBU meters) at 16 kHz,
// 0.25 LU at 8 kHz, as k-weighting.ts states.
test.each([
  [48000, 0.005],
  [44100, 0.01],
  [96000, 0.01],
  [192000, 0.01],
  [16000, 0.1],
  [8000, 0.25],
])('997 Hz at 0 dBFS in one channel is −3.01 LKFS at %i Hz, within %f', (rate, tolerance) => {
  const lufs = integratedLoudness(tone([[0, 5]], 997, rate), { sampleRateHz: rate });
  expect(Math.abs(lufs + 3.01)).toBeLessThan(tolerance);
});

// EBU Tech 3341 minimum test signals 1–6, 9 and 12: 1 kHz sines, tolerance ±0.1 LU
// (READ-CODE, public meter test suites; jiixyj/libebur128 test/tests.c).
describe('EBU Tech 3341', () => {
  const TOLERANCE = 0.1;
  const stereo = (parts: readonly (readonly [number, number])[]) => {
    const channel = tone(parts);
    return [channel, channel];
  };
  const options = { sampleRateHz: RATE };

  test.each([
    [1, -23],
    [2, -33],
  ])('case %i: a steady stereo tone reads %f on all three meters', (_, level) => {
    const channels = stereo([[level, 20]]);
    expect(Math.abs(integratedLoudness(channels, options) - level)).toBeLessThan(TOLERANCE);
    for (const window of ['momentary', 'shortTerm'] as const)
      for (const lufs of loudnessTrack(channels, { ...options, window }).lufs)
        expect(Math.abs(lufs - level)).toBeLessThan(TOLERANCE);
  });

  test.each<[number, readonly (readonly [number, number])[]]>([
    [
      3,
      [
        [-36, 10],
        [-23, 60],
        [-36, 10],
      ],
    ],
    [
      4,
      [
        [-72, 10],
        [-36, 10],
        [-23, 60],
        [-36, 10],
        [-72, 10],
      ],
    ],
    [
      5,
      [
        [-26, 20],
        [-20, 20.1],
        [-26, 20],
      ],
    ],
  ])('case %i: the gates leave −23.0', (_, parts) => {
    expect(Math.abs(integratedLoudness(stereo(parts), options) + 23)).toBeLessThan(TOLERANCE);
  });

  test('case 6: five channels, surrounds weighted, read −23.0', () => {
    const channels = [-28, -28, -24, -30, -30].map((level) => tone([[level, 20]]));
    expect(Math.abs(integratedLoudness(channels, options) + 23)).toBeLessThan(TOLERANCE);
  });

  test('case 9: 3 s patterns read −23.0 short-term throughout', () => {
    const pattern = [
      [-20, 1.34],
      [-30, 1.66],
    ] as const;
    const { lufs } = loudnessTrack(stereo(Array(5).fill(pattern).flat()), {
      ...options,
      window: 'shortTerm',
    });
    for (const value of lufs) expect(Math.abs(value + 23)).toBeLessThan(TOLERANCE);
  });

  test('case 12: 400 ms patterns read −23.0 momentary throughout', () => {
    const pattern = [
      [-20, 0.18],
      [-30, 0.22],
    ] as const;
    const { lufs } = loudnessTrack(stereo(Array(25).fill(pattern).flat()), {
      ...options,
      window: 'momentary',
    });
    for (const value of lufs) expect(Math.abs(value + 23)).toBeLessThan(TOLERANCE);
  });
});

test('four channels take the last two as surrounds; given weights replace the customary ones', () => {
  // 10·log10 1.41 = 1.492 dB (closed form of the surround weight of BS.1770).
  const loud = tone([[-20, 2]]);
  const still = new Float32Array(loud.length);
  const front = integratedLoudness([loud, still, still, still], { sampleRateHz: RATE });
  const rear = integratedLoudness([still, still, still, loud], { sampleRateHz: RATE });
  expect(rear - front).toBeCloseTo(10 * Math.log10(1.41), 9);
  const half = integratedLoudness([loud, still], { sampleRateHz: RATE, channelWeights: [0.5, 1] });
  expect(half - front).toBeCloseTo(-10 * Math.log10(2), 9);
});

test('a track has a value for every whole window and says where they lie', () => {
  const track = loudnessTrack(tone([[-20, 3.25]]), { sampleRateHz: RATE, window: 'momentary' });
  expect(track.windowSamples).toBe(19200);
  expect(track.stepSamples).toBe(4800);
  expect(track.lufs.length).toBe(29);
  expect(loudnessTrack(tone([[-20, 3.25]]), { sampleRateHz: RATE, window: 'shortTerm' }).lufs.length).toBe(3);
});

test('silence after sound reads −Infinity once its window holds nothing', () => {
  const clip = new Float32Array(3 * RATE);
  clip.set(tone([[0, 1]]));
  const { lufs } = loudnessTrack(clip, { sampleRateHz: RATE, window: 'momentary' });
  // The weighting's 38 Hz pole rings on, under −200 dB a second later.
  expect(lufs[lufs.length - 1]).toBeLessThan(-200);
});

test('empty, silent and too short clips have no loudness', () => {
  for (const clip of [new Float32Array(0), new Float32Array(RATE), tone([[0, 0.39]])])
    expect(integratedLoudness(clip, { sampleRateHz: RATE })).toBe(Number.NEGATIVE_INFINITY);
  expect(loudnessTrack(new Float32Array(0), { sampleRateHz: RATE, window: 'momentary' }).lufs.length).toBe(0);
});

test('a clip under −70 LUFS throughout has no integrated loudness: the absolute gate', () => {
  expect(integratedLoudness(tone([[-75, 5]]), { sampleRateHz: RATE })).toBe(Number.NEGATIVE_INFINITY);
  expect(integratedLoudness(tone([[-66, 5]]), { sampleRateHz: RATE })).toBeGreaterThan(-70);
});

test('wrong channels, weights, windows and NaN are refused', () => {
  const clip = tone([[-20, 1]]);
  const options = { sampleRateHz: RATE };
  expect(() => integratedLoudness([clip, clip.slice(1)], options)).toThrow('channels[1].length');
  expect(() => integratedLoudness(Array(6).fill(clip), options)).toThrow('channelWeights');
  expect(() => integratedLoudness(clip, { ...options, channelWeights: [1, 1] })).toThrow(RangeError);
  expect(() => integratedLoudness(clip, { ...options, channelWeights: [-1] })).toThrow(RangeError);
  expect(() => integratedLoudness(clip, { ...options, channelWeights: 1 as never })).toThrow(TypeError);
  expect(() => integratedLoudness(clip, { sampleRateHz: 1 })).toThrow(RangeError);
  expect(() => loudnessTrack(clip, { ...options, window: 'x' as never })).toThrow(RangeError);
  // In the part step at the end, which no window uses: refused all the same.
  const broken = new Float32Array(RATE + 5);
  broken[RATE + 2] = Number.NaN;
  expect(() => integratedLoudness(broken, options)).toThrow('channels[0][48002] must be finite');
});
