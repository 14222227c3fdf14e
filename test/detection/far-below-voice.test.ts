import { describe, expect, it } from 'vitest';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { BAND_COUNT, FRAME_CLASSES, INPUT_COUNT, ROW_BANDS } from '../../src/detection/detection-scale.js';
import { isFarBelowVoice } from '../../src/detection/far-below-voice.js';
import { demoLead } from '../lib/demo-lead.js';

const tables = (rowCount: number, level: (frame: number, band: number) => number) => ({
  rowCount,
  bands: new Float64Array(rowCount * ROW_BANDS),
  track: new Float64Array(rowCount * FRAME_CLASSES.length),
  inputs: Float64Array.from({ length: rowCount * INPUT_COUNT }, (_, i) =>
    i % INPUT_COUNT < BAND_COUNT ? level(Math.floor(i / INPUT_COUNT), i % INPUT_COUNT) : 0,
  ),
});

describe('isFarBelowVoice', () => {
  it('is true only where every band of every frame lies more than 35 dB below the voice', () => {
    const part = { start: 2, end: 6, class: 2 };
    expect(
      isFarBelowVoice(
        tables(8, () => -4),
        part,
      ),
    ).toBe(true);
    expect(
      isFarBelowVoice(
        tables(8, () => -3.4),
        part,
      ),
    ).toBe(false);
    expect(
      isFarBelowVoice(
        tables(8, (t, band) => (t === 5 && band === 15 ? 0 : -4)),
        part,
      ),
    ).toBe(false);
    // What lies outside the stretch is not asked.
    expect(
      isFarBelowVoice(
        tables(8, (t) => (t === 6 || t === 1 ? 0 : -4)),
        part,
      ),
    ).toBe(true);
  });
});

describe('the noise of a room that begins after digital silence', () => {
  it('is no consonant, 80 dB below the peaks of the voice, at no confidence at all', () => {
    const lead = demoLead();
    const rate = lead.sampleRateHz;
    // From where it sings: within the 1.9 s that are looked ahead there is voice.
    const voice = lead.samples.subarray(5 * rate);
    let loudest = 0;
    for (const x of voice) loudest = Math.max(loudest, Math.abs(x));
    // Three bursts of 60 ms, hard edges, in a second of digital silence before the voice.
    const samples = new Float32Array(rate + voice.length);
    samples.set(voice, rate);
    let state = 7;
    for (const at of [0.2, 0.45, 0.7])
      for (let i = 0; i < 0.06 * rate; i++) {
        state = (state * 48271) % 2147483647;
        samples[Math.round(at * rate) + i] = loudest * 10 ** (-80 / 20) * ((2 * state) / 2147483647 - 1);
      }
    const { regions } = detectConsonants(samples, { sampleRateHz: rate, minConfidence: 0 });
    const early = regions.filter(({ startSample, kind }) => startSample < 0.9 * rate && kind !== 'breath');
    expect(early).toEqual([]);
    // The same noise 50 dB louder is there to be judged.
    const loud = samples.slice();
    for (let i = 0; i < 0.9 * rate; i++) loud[i] = (loud[i] as number) * 10 ** (50 / 20);
    const heard = detectConsonants(loud, { sampleRateHz: rate, minConfidence: 0 }).regions;
    expect(heard.filter(({ startSample }) => startSample < 0.9 * rate).length).toBeGreaterThan(0);
  });
});
