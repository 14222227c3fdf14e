import { expect, test } from 'vitest';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import { kWeighting } from '../../src/signal/k-weighting.js';

const KEYS = ['b0', 'b1', 'b2', 'a1', 'a2'] as const;

test('at 48 kHz it has the coefficients that ITU-R BS.1770 prints (READ-CODE, many repositories)', () => {
  // 1e-10: the analogue filters were found by others from the printed digits.
  const printed = [
    {
      b0: 1.53512485958697,
      b1: -2.69169618940638,
      b2: 1.19839281085285,
      a1: -1.69065929318241,
      a2: 0.73248077421585,
    },
    { b0: 1, b1: -2, b2: 1, a1: -1.99004745483398, a2: 0.99007225036621 },
  ];
  kWeighting({ sampleRateHz: 48000 }).forEach((section, i) => {
    for (const key of KEYS) expect(Math.abs(section[key] - printed[i]![key])).toBeLessThan(1e-10);
  });
});

test('at 44.1 kHz it has the coefficients of the same analogue filters (computed from its figures; high-pass: its poles)', () => {
  const [shelf, highPass] = kWeighting({ sampleRateHz: 44100 });
  const expected = {
    b0: 1.5308412300503478,
    b1: -2.6509799951547297,
    b2: 1.169079079921587,
    a1: -1.6636551132560204,
    a2: 0.7125954280732254,
  };
  // 1e-13: a few roundings of numbers near 2.
  for (const key of KEYS) expect(Math.abs(shelf[key] - expected[key])).toBeLessThan(1e-13);
  expect(Math.abs(highPass.a1 + 1.989169673629796)).toBeLessThan(1e-13);
  expect(Math.abs(highPass.a2 - 0.9891990357870393)).toBeLessThan(1e-13);
});

// K response at 48 kHz in dB (computed from the printed coefficients). 0.001: one step of the three decimals given.
const RESPONSE: readonly (readonly [number, number])[] = [
  [100, -1.134],
  [200, -0.265],
  [500, 0.043],
  [997, 0.691],
  [1000, 0.698],
  [2000, 3.071],
  [4000, 3.968],
  [6000, 4.03],
  [8000, 4.039],
  [10000, 4.042],
];

test.each(RESPONSE)('at 48 kHz %i Hz is weighted by %f dB', (frequencyHz, dB) => {
  const [response] = magnitudeResponseDb(kWeighting({ sampleRateHz: 48000 }), [frequencyHz], {
    sampleRateHz: 48000,
  });
  expect(Math.abs(response! - dB)).toBeLessThan(0.001);
});

test('at every rate the response is that of 48 kHz, as BS.1770 asks of other rates', () => {
  // 0.03 dB: the bilinear transform bends what lies far from the shelf's own frequency, the more the lower the rate.
  for (const sampleRateHz of [22050, 32000, 44100, 88200, 96000, 192000])
    for (const [frequencyHz, dB] of RESPONSE.filter(([f]) => f < sampleRateHz / 4)) {
      const [response] = magnitudeResponseDb(kWeighting({ sampleRateHz }), [frequencyHz], { sampleRateHz });
      expect(Math.abs(response! - dB), `${frequencyHz} Hz at ${sampleRateHz} Hz`).toBeLessThan(0.03);
    }
});

test('rates outside 8 to 192 kHz are refused', () => {
  expect(() => kWeighting({ sampleRateHz: 4000 })).toThrow(RangeError);
  expect(() => kWeighting({ sampleRateHz: '48000' as unknown as number })).toThrow(TypeError);
});
