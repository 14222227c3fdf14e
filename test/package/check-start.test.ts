import { describe, expect, it } from 'vitest';
import { type CheckedRegion, checkTamed } from '../../.ci/check-start.js';
import { codes, makeWav } from '../examples/make-wav.js';

const FRAMES = 400;
const region = (
  startSample: number,
  endSample: number,
  more: Partial<CheckedRegion> = {},
): CheckedRegion => ({
  kind: 'sibilant',
  startSample,
  endSample,
  gainDb: -6,
  bypassed: false,
  fadeInSamples: 0,
  fadeOutSamples: 0,
  ...more,
});
const regions = [
  region(50, 100, { fadeInSamples: 10 }),
  region(120, 140, { bypassed: true }),
  region(200, 260, { gainDb: 0 }),
];
const list = JSON.stringify({
  format: 'lenition.regions',
  version: 1,
  sampleRateHz: 48000,
  lengthSamples: FRAMES,
  regions,
});
const input = Buffer.from(
  makeWav({ tag: 1, bits: 16, channels: [codes(1, 16, FRAMES, 1), codes(1, 16, FRAMES, 2)] }),
);
const dataStart = input.indexOf('data') + 8;
const at = (frame: number, channel: number): number => dataStart + 4 * frame + 2 * channel;

/** The input with the first region turned down by its definition: linear in amplitude over ten samples, then -6 dB. */
function tamed(): Buffer {
  const bytes = Buffer.from(input);
  const gain = 10 ** (-6 / 20);
  for (let frame = 50; frame < 100; frame++)
    for (const channel of [0, 1]) {
      const now = frame < 60 ? 1 + ((gain - 1) * (frame - 50)) / 10 : gain;
      bytes.writeInt16LE(Math.round(now * input.readInt16LE(at(frame, channel))), at(frame, channel));
    }
  return bytes;
}

describe('the check of what npm start wrote', () => {
  it('passes a file that is turned down by the book, and counts what it compared', () => {
    expect(checkTamed(input, tamed(), list)).toEqual({ untouched: FRAMES - 50, between: 40, fading: 10 });
  });

  for (const [what, frame] of [
    ['outside regions', 10],
    ['in a bypassed region', 130],
    ['in a 0 dB region', 230],
    ['in the last sample', FRAMES - 1],
  ] as const)
    it(`sees one bit that changed ${what}, on the second channel alone`, () => {
      const bytes = tamed();
      const place = at(frame, 1);
      bytes[place] = (bytes[place] as number) ^ 1;
      expect(() => checkTamed(input, bytes, list)).toThrow(`sample ${frame} lies outside`);
    });

  it('sees two steps too much between the fades', () => {
    const bytes = tamed();
    bytes.writeInt16LE(bytes.readInt16LE(at(80, 0)) + 2, at(80, 0));
    expect(() => checkTamed(input, bytes, list)).toThrow('sample 80, channel 0');
  });

  it('sees a fade that goes beyond the input', () => {
    const bytes = tamed();
    const frame = 55;
    const x = input.readInt16LE(at(frame, 0));
    bytes.writeInt16LE(x + 3 * Math.sign(x), at(frame, 0));
    expect(() => checkTamed(input, bytes, list)).toThrow(`sample ${frame}, channel 0`);
  });

  it('sees a changed header, a changed end and a region file of another clip', () => {
    const header = tamed();
    header[dataStart - 1] = (header[dataStart - 1] as number) ^ 1;
    expect(() => checkTamed(input, header, list)).toThrow('before the samples');
    expect(() => checkTamed(input, Buffer.concat([tamed(), Buffer.of(0, 0)]), list)).toThrow('the size');
    expect(() => checkTamed(input, tamed(), list.replace('48000', '44100'))).toThrow('another clip');
  });
});
