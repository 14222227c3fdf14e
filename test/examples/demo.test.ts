import { describe, expect, it } from 'vitest';
import { spanGain } from '../../examples/lib/demo/fade.js';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { PHONES, type PhoneLabel } from '../../examples/lib/demo/phones.js';
import {
  synthesiseBreath,
  synthesiseFricative,
  synthesiseSungVowel,
  synthesiseTBurst,
} from '../../examples/lib/demo/pieces.js';
import { schedule } from '../../examples/lib/demo/schedule.js';
import { SINGERS } from '../../examples/lib/demo/singers.js';
import { type TruthEntry, toTsv } from '../../examples/lib/demo/truth.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { createWindow } from '../../src/signal/windows.js';

const demonstration = makeDemonstration();
const { sampleRateHz, takes } = demonstration;
const lead = takes[0]!;

function rmsDb(samples: Float32Array, from = 0, to = samples.length): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += samples[i]! ** 2;
  return 10 * Math.log10(sum / (to - from));
}

function seconds({ startSample, endSample }: TruthEntry): number {
  return (endSample - startSample) / sampleRateHz;
}

/** Pitch near an expected one, from the greatest autocorrelation within a fifth of an octave; in cents from it. */
function centsFrom(expectedHz: number, samples: Float32Array, centre: number, rateHz: number): number {
  const half = Math.round((2 * rateHz) / expectedHz);
  const product = (lag: number): number => {
    let sum = 0;
    let a = 0;
    let b = 0;
    for (let i = centre - half; i < centre + half; i++) {
      sum += samples[i]! * samples[i + lag]!;
      a += samples[i]! ** 2;
      b += samples[i + lag]! ** 2;
    }
    return sum / Math.sqrt(a * b);
  };
  const period = rateHz / expectedHz;
  let best = Math.round(period);
  for (let lag = Math.floor(period * 0.87); lag <= period * 1.15; lag++)
    if (product(lag) > product(best)) best = lag;
  const [left, top, right] = [product(best - 1), product(best), product(best + 1)];
  const exact = best + (0.5 * (left - right)) / (left - 2 * top + right);
  return 1200 * Math.log2(rateHz / exact / expectedHz);
}

describe('the demonstration', () => {
  it('is the same every time', () => {
    const once = makeDemonstration({ sampleRateHz: 16_000 });
    const again = makeDemonstration({ sampleRateHz: 16_000 });
    expect(once.takes.length).toBe(4);
    for (const [k, take] of once.takes.entries()) {
      expect(again.takes[k]!.truth).toEqual(take.truth);
      expect(
        Buffer.compare(Buffer.from(again.takes[k]!.samples.buffer), Buffer.from(take.samples.buffer)),
      ).toBe(0);
    }
  });

  it('is a lead and three harmonies of 12 to 20 seconds, equally long and not alike', () => {
    expect(takes.map(({ role }) => role)).toEqual(['lead', 'harmony', 'harmony', 'harmony']);
    expect(new Set(takes.map(({ name }) => name)).size).toBe(4);
    for (const { samples } of takes) {
      expect(samples.length).toBe(lead.samples.length);
      expect(samples.length / sampleRateHz).toBeGreaterThan(12);
      expect(samples.length / sampleRateHz).toBeLessThan(20);
    }
  });

  it('tells what every sample holds: entries touch, from the first sample to the last', () => {
    for (const { truth, samples } of takes) {
      expect(truth[0]!.startSample).toBe(0);
      expect(truth.at(-1)!.endSample).toBe(samples.length);
      for (const [k, entry] of truth.entries()) {
        expect(entry.endSample).toBeGreaterThan(entry.startSample);
        if (k > 0) expect(entry.startSample).toBe(truth[k - 1]!.endSample);
      }
    }
  });

  it('writes its truth as lines that give the samples back', () => {
    const rows = toTsv(lead.truth, sampleRateHz).trimEnd().split('\n');
    const parsed = rows.map((row) => row.split('\t'));
    expect(parsed.map(([start]) => Math.round(Number(start) * sampleRateHz))).toEqual(
      lead.truth.map(({ startSample }) => startSample),
    );
    expect(parsed.map(([, , label]) => label)).toEqual(lead.truth.map(({ label }) => label));
  });

  it('never clips: the lead peaks at −6 dBFS, the others below', () => {
    const peaks = takes.map(({ samples }) => samples.reduce((peak, x) => Math.max(peak, Math.abs(x)), 0));
    // The room tone is added after the peak is set; at −65 dBFS RMS it can move it by 0.05 dB.
    expect(20 * Math.log10(peaks[0]!)).toBeCloseTo(-6, 1);
    for (const peak of peaks) expect(peak).toBeLessThan(0.51);
  });

  it('has soft and harsh sibilants in the lead, around the published levels', () => {
    // Noise re vowel: −10 dB for /s z/ and −9 for /ʃ ʒ/ (Jongman et al. 2000, from notes on it), −3.2 and −3.8
    // (Behrens and Blumstein 1988, computed from figures in notes on it); a harsh one reaches the vowel (common practice, no source).
    const levels = lead.truth.filter(({ kind }) => kind === 'sibilant').map(({ levelDb }) => levelDb!);
    expect(levels.length).toBeGreaterThanOrEqual(12);
    expect(levels.filter((level) => level >= 0 && level <= 3).length).toBeGreaterThanOrEqual(4);
    expect(levels.filter((level) => level <= -6).length).toBeGreaterThanOrEqual(6);
    expect(Math.min(...levels)).toBeGreaterThanOrEqual(-12);
  });

  it('plays each voiceless sibilant at the level that its truth states', () => {
    let checked = 0;
    for (const [k, { samples, truth }] of takes.entries()) {
      for (const [j, { label, vowelIndex }] of schedule(SINGERS[k]!, sampleRateHz).entries()) {
        if (label !== 's' && label !== 'sh') continue;
        const sibilant = truth[j]!;
        const vowel = truth[vowelIndex]!;
        expect(vowel.kind).toBe('vowel');
        const margin = Math.floor(0.2 * (vowel.endSample - vowel.startSample));
        const vowelDb = rmsDb(samples, vowel.startSample + margin, vowel.endSample - margin);
        const halfFade = Math.ceil(0.017 * sampleRateHz);
        const noiseDb = rmsDb(samples, sibilant.startSample + halfFade, sibilant.endSample - halfFade);
        // Noise some 3 kHz wide over 80 ms has about 480 degrees of freedom: 0.28 dB; four of those.
        expect(Math.abs(noiseDb - vowelDb - sibilant.levelDb!)).toBeLessThan(1.2);
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(40);
  });

  it.each(['startSample', 'endSample'] as const)(
    'puts the %s of s and sh where the noise is halved',
    (side) => {
      let edge = 0;
      let steady = 0;
      for (const { samples, truth } of takes) {
        // Third differences leave little of a voice: they weigh 6 kHz 40 dB above 1 kHz.
        const hiss = (i: number): number =>
          (samples[i + 1]! - 3 * samples[i]! + 3 * samples[i - 1]! - samples[i - 2]!) ** 2;
        for (const entry of truth) {
          if (entry.label !== 's' && entry.label !== 'sh') continue;
          const middle = (entry.startSample + entry.endSample) >> 1;
          let own = 0;
          let inside = 0;
          for (let i = -48; i < 48; i++) own += hiss(entry[side] + i);
          for (let i = -1500; i < 1500; i++) inside += hiss(middle + i);
          edge += own / 96 / (inside / 3000);
          steady++;
        }
      }
      // Half the amplitude, a quarter of the power. 64 events of about 10 independent values leave 6 %, three of those
      // are 18 %; an edge 2 ms off would change it by 37 % or more.
      expect(steady).toBeGreaterThan(50);
      expect(Math.abs(edge / steady / 0.25 - 1)).toBeLessThan(0.2);
    },
  );

  it('holds nothing but room tone where nobody sings', () => {
    for (const { samples, truth } of takes) {
      const gaps = truth.filter((entry) => entry.kind === 'silence' && seconds(entry) > 0.25);
      expect(gaps.length).toBeGreaterThanOrEqual(2);
      for (const { startSample, endSample } of gaps) {
        // 0.1 s is longer than the half fades of a breath and of the end of a line that reach in. The least gap left
        // is 50 ms; pink noise varies by a few dB over that.
        const level = rmsDb(samples, startSample + 0.1 * sampleRateHz, endSample - 0.1 * sampleRateHz);
        expect(Math.abs(level + 65)).toBeLessThan(3);
      }
    }
  });

  it('is silent in the closure before a release', () => {
    for (const { samples, truth } of takes) {
      for (const { label, startSample, endSample } of truth) {
        if (label !== 'cl') continue;
        const middle = (startSample + endSample) >> 1;
        expect(rmsDb(samples, middle - 240, middle + 240)).toBeLessThan(-55);
      }
    }
  });

  it('sets the harmonies 10 to 60 ms beside the lead, either way', () => {
    const reference = lead.truth.filter(({ kind }) => kind === 'vowel');
    for (const { truth } of takes.slice(1)) {
      const vowels = truth.filter(({ kind }) => kind === 'vowel');
      const offsets = vowels.map((v, k) => (v.startSample - reference[k]!.startSample) / sampleRateHz);
      expect(vowels.map(({ label }) => label)).toEqual(reference.map(({ label }) => label));
      // Two roundings to a sample.
      for (const offset of offsets) {
        expect(Math.abs(offset)).toBeGreaterThan(0.01 - 5e-5);
        expect(Math.abs(offset)).toBeLessThan(0.06 + 5e-5);
      }
      expect(Math.min(...offsets)).toBeLessThan(0);
      expect(Math.max(...offsets)).toBeGreaterThan(0);
    }
  });

  it('gives consonants the lengths of speech and leaves a vowel to every syllable', () => {
    for (const { truth } of takes) {
      for (const entry of truth) {
        // /s/ 112–149 ms (van Santen 1993), 178 ms in single words (Jongman et al. 2000), both from notes on it.
        if (entry.label === 's') expect(seconds(entry)).toBeGreaterThan(0.085);
        if (entry.label === 's') expect(seconds(entry)).toBeLessThan(0.178);
        if (entry.kind === 'vowel') expect(seconds(entry)).toBeGreaterThan(0.09);
        if (entry.kind === 'breath') expect(seconds(entry)).toBeGreaterThan(0.3);
      }
    }
  });

  it('sings the written notes, and swings around the long ones', () => {
    for (const [k, singer] of SINGERS.entries()) {
      const vowels = schedule(singer, sampleRateHz).filter(({ phone }) => phone.kind === 'vowel');
      const long = vowels.filter(
        ({ startSample, endSample }) => endSample - startSample > 0.5 * sampleRateHz,
      );
      expect(long.length).toBeGreaterThanOrEqual(4);
      for (const { startSample, endSample, note } of long) {
        // Equal temperament on A = 440 Hz (ISO 16).
        const expectedHz = 440 * 2 ** ((note - 69) / 12);
        const cents: number[] = [];
        for (let t = startSample + 0.3 * sampleRateHz; t < endSample - 0.06 * sampleRateHz; t += 480)
          cents.push(centsFrom(expectedHz, takes[k]!.samples, Math.round(t), sampleRateHz));
        // Vibrato, and 4 standard deviations (6 cents) of the wandering.
        const most = singer.vibratoCents + 24;
        expect(Math.max(...cents)).toBeLessThan(most);
        expect(Math.min(...cents)).toBeGreaterThan(-most);
        const swing = Math.max(...cents) - Math.min(...cents);
        // 0.14 s or more: most of one period of the vibrato, of which the window of four periods blurs a little.
        expect(swing).toBeGreaterThan(0.8 * singer.vibratoCents);
      }
    }
  });

  it('uses only phones that are known, sibilants as sibilants', () => {
    for (const { label, kind } of lead.truth) expect(PHONES[label as PhoneLabel].kind).toBe(kind);
    for (const label of ['s', 'z', 'sh', 'ch'] as const) expect(PHONES[label].kind).toBe('sibilant');
    const used = new Set(lead.truth.map(({ label }) => label));
    for (const label of ['s', 'z', 'sh', 'ch', 't', 'f', 'k', 'h', 'br', 'sil'])
      expect(used).toContain(label);
  });
});

/** Moments and peak of a noise as Jongman et al. measured them: 22 kHz, 40 ms Hamming, 98 % pre-emphasis. */
function moments(kind: 's' | 'sh' | 'f' | 'th'): { peakHz: number; meanHz: number; spreadHz: number } {
  const rateHz = 22_050;
  const noise = synthesiseFricative(kind, { durationSeconds: 8, sampleRateHz: rateHz, seed: 5 });
  const length = Math.round(0.04 * rateHz);
  const plan = createFftPlan(1024);
  const window = createWindow('hamming', length, 'symmetric');
  const frame = new Float64Array(1024);
  const power = new Float64Array(513);
  const mean = new Float64Array(513);
  for (let start = 2000; start + length < noise.length - 2000; start += length) {
    for (let i = 0; i < length; i++)
      frame[i] = window[i]! * (noise[start + i]! - 0.98 * noise[start + i - 1]!);
    plan.powerSpectrum(frame, power);
    for (let k = 0; k < 513; k++) mean[k] = mean[k]! + power[k]!;
  }
  const binHz = rateHz / 1024;
  const total = mean.reduce((a, b) => a + b, 0);
  const meanHz = mean.reduce((sum, p, k) => sum + (p * k * binHz) / total, 0);
  const variance = mean.reduce((sum, p, k) => sum + (p * (k * binHz - meanHz) ** 2) / total, 0);
  return { peakHz: mean.indexOf(Math.max(...mean)) * binHz, meanHz, spreadHz: Math.sqrt(variance) };
}

describe('the pieces', () => {
  // Jongman, Wayland and Wong, JASA 108 (2000) 1252, from notes on it; spread = √M2, computed from its figures. The table pools 20 speakers,
  // of whom women peak some 700 Hz (10 %) above men, so 10 % for places; spreads of single speakers are not given: 20 %.
  it.each([
    ['s', 6839, 6133, 1710],
    ['sh', 3820, 4229, 1840],
    ['f', 7733, 5108, 2520],
    ['th', 7470, 5137, 2490],
  ] as const)('shape /%s/ by its published peak, mean and spread', (kind, peakHz, meanHz, spreadHz) => {
    const found = moments(kind);
    expect(Math.abs(found.peakHz / peakHz - 1)).toBeLessThan(0.1);
    expect(Math.abs(found.meanHz / meanHz - 1)).toBeLessThan(0.1);
    expect(Math.abs(found.spreadHz / spreadHz - 1)).toBeLessThan(0.2);
  });

  it('pass half their amplitude exactly on onset and offset', () => {
    const span = { startSample: 1000, endSample: 5000, fadeInSamples: 1440, fadeOutSamples: 1152 };
    expect(spanGain(span, 1000)).toBeCloseTo(0.5, 14);
    expect(spanGain(span, 5000)).toBeCloseTo(0.5, 14);
    expect(spanGain(span, 280)).toBe(0);
    expect(spanGain(span, 3000)).toBe(1);
    // And so does the sound: mean power of 300 noises within ±0.5 ms of the onset, 48 samples each.
    let edge = 0;
    let steady = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const noise = synthesiseFricative('s', { durationSeconds: 0.1, sampleRateHz: 48_000, seed });
      for (let i = -24; i < 24; i++) {
        edge += noise[720 + i]! ** 2;
        steady += noise[2400 + i]! ** 2;
      }
    }
    // 300 noises of about 4 independent values each leave 4 %, twice over; three of those.
    expect(edge / steady).toBeGreaterThan(0.25 * 0.83);
    expect(edge / steady).toBeLessThan(0.25 * 1.17);
  });

  it('keep their level from 44.1 to 192 kHz and lose it where the rate cuts the band', () => {
    const level = (rateHz: number): number => {
      const noise = synthesiseFricative('s', {
        durationSeconds: 2,
        sampleRateHz: rateHz,
        seed: 3,
        rmsDb: -12,
      });
      return rmsDb(noise, Math.round(0.1 * rateHz), Math.round(1.9 * rateHz));
    };
    // 1.8 s of noise 3 kHz wide: 0.06 dB; four of those.
    for (const rateHz of [44_100, 48_000, 96_000, 192_000])
      expect(Math.abs(level(rateHz) + 12)).toBeLessThan(0.25);
    // Below 4 kHz an s has little: teeth and front cavity put its peak above 4.5 kHz (Stevens 1998, from notes on it).
    expect(level(8000)).toBeLessThan(-20);
  });

  it('come at any rate, finite and as long as asked', () => {
    for (const sampleRateHz of [8000, 11_025, 44_100, 192_000]) {
      const options = { durationSeconds: 0.3, sampleRateHz, seed: 2 };
      const pieces = [
        synthesiseBreath(options),
        synthesiseTBurst(options),
        synthesiseFricative('sh', options),
        synthesiseSungVowel({ ...options, vowel: 'iy', pitchHz: 220, tractScale: 1.15 }),
      ];
      for (const piece of pieces) {
        expect(piece.length).toBe(Math.round(0.3 * sampleRateHz));
        expect(piece.every(Number.isFinite)).toBe(true);
        expect(rmsDb(piece)).toBeGreaterThan(-45);
      }
    }
  });

  it('depend on nothing but their options', () => {
    const options = { durationSeconds: 0.2, sampleRateHz: 48_000, seed: 9 };
    expect(synthesiseBreath(options)).toEqual(synthesiseBreath(options));
    expect(synthesiseBreath(options)).not.toEqual(synthesiseBreath({ ...options, seed: 10 }));
  });

  it.each([110, 220, 392])('sing a vowel at %d Hz, to within 8 cents', (pitchHz) => {
    const vowel = synthesiseSungVowel({
      durationSeconds: 0.8,
      sampleRateHz: 48_000,
      seed: 4,
      vowel: 'aa',
      pitchHz,
    });
    const cents = [0.2, 0.3, 0.4, 0.5, 0.6].map((t) => centsFrom(pitchHz, vowel, t * 48_000, 48_000));
    // Periods vary by 0.3 % (5 cents) one by one; the mean of five windows of four periods by 1.2. The rest is the
    // pull of formants on a finite window.
    expect(Math.abs(cents.reduce((a, b) => a + b, 0) / 5)).toBeLessThan(8);
  });

  it('start a t within a millisecond and let it die away', () => {
    const burst = synthesiseTBurst({ durationSeconds: 0.03, sampleRateHz: 48_000, seed: 6 });
    // Stevens (from notes on it): within 5 dB of its greatest level for 9–19 ms.
    expect(rmsDb(burst, 48, 336)).toBeGreaterThan(-24);
    expect(rmsDb(burst, 1100, 1300)).toBeLessThan(rmsDb(burst, 48, 336) - 6);
  });
});
