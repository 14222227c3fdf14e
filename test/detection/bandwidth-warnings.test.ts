import { beforeAll, describe, expect, it } from 'vitest';
import { bandwidthWarnings } from '../../src/detection/bandwidth-warnings.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { RegionReason } from '../../src/regions/region.js';
import { highPass, lowPass } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import type { Samples } from '../../src/signal/samples.js';
import { type DemoLead, demoLead } from '../lib/demo-lead.js';
import { resample } from '../lib/resample.js';

const RATE = 48_000;
let lead: DemoLead;
let narrow: Samples;
let at8k: Samples;

beforeAll(() => {
  lead = demoLead(RATE);
  // A telephone band, 300 to 3400 Hz (ITU-T G.712, from memory): twelve Butterworth sections, 144 dB an octave. By their closed form,
  // 1/(1 + (f/fc)⁴) each, 4 kHz lies 56 dB lower and 6 kHz, where an s is, 124 dB: nothing of it comes through.
  const low = lowPass({ sampleRateHz: RATE, frequencyHz: 3400 });
  const high = highPass({ sampleRateHz: RATE, frequencyHz: 300 });
  narrow = filterSamples(lead.samples, [...new Array<typeof low>(12).fill(low), high, high]);
  at8k = resample(lead.samples, RATE, 8000);
});

const rules = (channels: Samples | readonly Samples[], sampleRateHz = RATE): string[] =>
  bandwidthWarnings(channels, { sampleRateHz }).map(({ rule }) => rule);

const bandwidthOf = ({ numbers: { bandwidth } }: RegionReason): number => bandwidth ?? Number.NaN;

describe('bandwidthWarnings', () => {
  it('has nothing to say of a wideband voice, loud or soft', () => {
    expect(rules(lead.samples)).toEqual([]);
    expect(rules(lead.samples.map((x) => x * 1e-3))).toEqual([]);
  });

  it('has nothing to say of silence, of nothing and of one sample', () => {
    expect(rules(new Float32Array(RATE))).toEqual([]);
    expect(rules(new Float32Array(0))).toEqual([]);
    expect(rules(new Float32Array(1))).toEqual([]);
  });

  it('says narrowBand of a voice through a telephone band, at any level and with any silence about it', () => {
    expect(rules(narrow)).toEqual(['narrowBand']);
    expect(rules(narrow.map((x) => x * 30))).toEqual(['narrowBand']);
    const padded = new Float32Array(narrow.length + 3 * RATE);
    padded.set(narrow, RATE);
    expect(rules(padded)).toEqual(['narrowBand']);
    expect(rules([narrow, new Float32Array(narrow.length)])).toEqual(['narrowBand']);
  });

  it('says nothing of narrow bands as long as one channel is wide', () => {
    expect(rules([narrow, lead.samples])).toEqual([]);
  });

  it('says lowSampleRate below 16 kHz, whatever the sound', () => {
    expect(rules(at8k, 8000)).toEqual(['lowSampleRate']);
    expect(rules(resample(lead.samples, RATE, 15_000), 15_000)).toEqual(['lowSampleRate']);
    expect(rules(resample(lead.samples, RATE, 16_000), 16_000)).toEqual([]);
  });

  it('says so in a sentence that names the rate and where the recording ends', () => {
    const [warning] = bandwidthWarnings(at8k, { sampleRateHz: 8000 });
    expect(warning!.message).toMatch(/8000 Hz.*4000 Hz.*\.$/);
    expect(bandwidthWarnings(narrow, { sampleRateHz: RATE })[0]!.message).toMatch(/4 kHz.*\.$/);
  });

  it('refuses what detectConsonants refuses', () => {
    const broken = Float32Array.of(0, Number.NaN);
    expect(() => rules(broken)).toThrow('bandwidthWarnings: channels[0][1] must be finite; received NaN');
    expect(() => rules(lead.samples, 1)).toThrow(/^bandwidthWarnings: sampleRateHz must lie within/);
    expect(() => rules([new Float32Array(2), new Float32Array(3)])).toThrow(RangeError);
    expect(() => rules([0, 1] as never)).toThrow(TypeError);
  });
});

describe('confidence where the band is narrow', () => {
  for (const [what, samples, rate] of [
    ['through a telephone band', () => narrow, RATE],
    ['at 8 kHz', () => at8k, 8000],
  ] as const)
    it(`is lowered, and not to silence: ${what} regions are still found`, () => {
      const { regions } = detectConsonants(samples(), { sampleRateHz: rate, minConfidence: 0.2 });
      const wide = detectConsonants(lead.samples, { sampleRateHz: RATE, minConfidence: 0.2 }).regions;
      const lowered = regions.filter(({ reason }) => bandwidthOf(reason) < 1);
      console.info(
        `${what}: ${regions.length} regions (${wide.length} in the whole band), ${lowered.length} of them lowered`,
      );
      expect(regions.length).toBeGreaterThanOrEqual(5);
      expect(lowered.length).toBe(regions.length);
      for (const { confidence, reason } of regions)
        expect(confidence).toBeLessThanOrEqual(bandwidthOf(reason));
      for (const { reason } of wide) expect(bandwidthOf(reason)).toBe(1);
    });

  // Not so yet between 8.25 and 16 kHz: event-finder.ts lowers confidence below the first rate only.
  it('is lowered at every rate that bandwidthWarnings warns of', () => {
    for (const rate of [8000, 11_025, 12_000, 15_000])
      for (const { reason } of detectConsonants(resample(lead.samples, RATE, rate), { sampleRateHz: rate })
        .regions)
        expect(bandwidthOf(reason), `${rate} Hz`).toBeLessThan(1);
  });
});
