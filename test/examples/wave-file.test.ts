import { expect, test } from 'vitest';
import { decodeWave, encodeWave } from '../../examples/lib/wave-file.js';
import { makeWav } from './make-wav.js';

test('the package is reached by its default export', () => {
  expect(encodeWave([[0]], { sampleRateHz: 48000, depth: '16' }).length).toBe(46);
});

test('extensible float is read as float, not as integers', () => {
  const channels = [[0.5, -0.25, 1.5]];
  for (const extensible of [false, true]) {
    const decoded = decodeWave(makeWav({ tag: 3, bits: 32, channels, extensible }));
    expect(Array.from(decoded.channels[0] as Float64Array)).toEqual(channels[0]);
  }
});

test('extensible float is found behind another chunk, and the bytes passed in stay as they are', () => {
  const bytes = makeWav({
    tag: 3,
    bits: 32,
    channels: [[0.5]],
    extensible: true,
    before: [['zz  ', new Uint8Array(3)]],
  });
  // A Buffer from the pool: its slice() is a view, and its memory starts elsewhere.
  const buffer = Buffer.from('x'.repeat(9) + Buffer.from(bytes).toString('latin1'), 'latin1').subarray(9);
  const copy = Uint8Array.from(buffer);
  expect(decodeWave(buffer).channels[0]?.[0]).toBe(0.5);
  expect(Uint8Array.from(buffer)).toEqual(copy);
});

test('extensible integers stay integers', () => {
  const decoded = decodeWave(makeWav({ tag: 1, bits: 24, channels: [[5, -6]], extensible: true }));
  expect(Array.from(decoded.channels[0] as Float64Array)).toEqual([5, -6]);
});

test('24-bit mono with an odd number of frames ends with a pad byte that the RIFF size counts', () => {
  const bytes = encodeWave([[1, -2, 3]], { sampleRateHz: 48000, depth: '24' });
  expect(bytes.length).toBe(44 + 9 + 1);
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  expect(view.getUint32(4, true)).toBe(bytes.length - 8);
  expect(view.getUint32(40, true)).toBe(9);
  expect(Array.from(decodeWave(bytes).channels[0] as Float64Array)).toEqual([1, -2, 3]);
});

test('one channel and several are both given as lists of channels', () => {
  for (const channels of [
    [[1, 2]],
    [
      [1, 2],
      [3, 4],
    ],
    [
      [1, 2],
      [3, 4],
      [5, 6],
    ],
  ]) {
    const decoded = decodeWave(encodeWave(channels, { sampleRateHz: 96000, depth: '32' }));
    expect(decoded.channels.map((channel) => Array.from(channel))).toEqual(channels);
    expect(decoded.sampleRateHz).toBe(96000);
  }
});
