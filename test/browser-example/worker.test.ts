import { describe, expect, it } from 'vitest';
import { findInSteps } from '../../examples/browser/worker/find-in-steps.js';
import { pcmWav } from '../../examples/browser/worker/pcm-wav.js';
import { createWaveform } from '../../examples/browser/worker/waveform.js';
import { decodeWave } from '../../examples/lib/wave-file.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { demoLead } from '../lib/demo-lead.js';
import { mulberry32 } from '../lib/random.js';

describe('a search in steps', () => {
  it('finds what detectConsonants finds, and tells how far it is', async () => {
    const { samples, sampleRateHz } = demoLead();
    const parts: number[] = [];
    const { result } = findInSteps([samples], { sampleRateHz }, (part) => parts.push(part));
    const { list, stopped } = await result;
    expect(stopped).toBe(false);
    expect(list).toEqual(detectConsonants(samples, { sampleRateHz }));
    expect(parts.at(-1)).toBe(1);
    expect(parts).toEqual([...parts].sort((a, b) => a - b));
  });

  it('stops when it is told to and keeps what it had', async () => {
    const { samples, sampleRateHz } = demoLead();
    const finding = findInSteps([samples], { sampleRateHz }, (part) => {
      if (part > 0.5) finding.stop();
    });
    const { list, stopped } = await finding.result;
    expect(stopped).toBe(true);
    const all = detectConsonants(samples, { sampleRateHz }).regions.length;
    expect(list.regions.length).toBeGreaterThan(0);
    expect(list.regions.length).toBeLessThan(all);
  });
});

describe('the waveform', () => {
  it('holds the extremes of every column, as looking at each sample gives them', () => {
    const random = mulberry32(7);
    const samples = Float32Array.from({ length: 10_000 }, () => 2 * random() - 1);
    const { least, most } = createWaveform([samples]).columns(1000, 9000, 80);
    for (let c = 0; c < 80; c++) {
      const part = samples.subarray(1000 + 100 * c, 1100 + 100 * c);
      expect([least[c], most[c]]).toEqual([Math.min(...part), Math.max(...part)]);
    }
  });

  it('loses no sample where columns are long', () => {
    const samples = new Float32Array(100_000);
    samples[54_321] = 0.75;
    samples[54_322] = -0.5;
    // The last sample of a column, which ends inside of what is looked at in one go.
    samples[49_999] = 0.25;
    const { least, most } = createWaveform([samples]).columns(0, 100_000, 10);
    expect(most[5]).toBe(0.75);
    expect(most[4]).toBe(0.25);
    expect(least[5]).toBe(-0.5);
    expect(Math.max(...most.slice(6))).toBe(0);
  });

  it('shows one sample in many columns where it is that close', () => {
    const { least, most } = createWaveform([Float32Array.of(0.25, -0.25)]).columns(0, 2, 8);
    expect([...most]).toEqual([0.25, 0.25, 0.25, 0.25, -0.25, -0.25, -0.25, -0.25]);
    expect([...least]).toEqual([...most]);
  });
});

describe('the file of the built-in take', () => {
  it('is read by wavefile (a reference library) as 24-bit codes, an odd number of samples with its pad byte', () => {
    const bytes = pcmWav(Float32Array.of(0, 0.5, -1, 1, -0.25), 44100);
    expect(bytes.length % 2).toBe(0);
    const { depth, sampleRateHz, channels } = decodeWave(bytes);
    expect([depth, sampleRateHz]).toEqual(['24', 44100]);
    // Full scale of 24 bits is 2^23; +1 does not exist and is held at the greatest code.
    expect([...(channels[0] ?? [])]).toEqual([0, 2 ** 22, -(2 ** 23), 2 ** 23 - 1, -(2 ** 21)]);
  });
});
