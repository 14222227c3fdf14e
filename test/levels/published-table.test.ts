import { describe, expect, it } from 'vitest';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { hiss, take, vowel } from './sounds.js';

// Jongman, Wayland and Wong 2000 (references.md B1: from notes on it, not seen in the paper itself): noise RMS less vowel RMS
// in dB, first and second moment over 0 to 11,025 Hz, duration in ms of the voiceless and the voiced one.
const PUBLISHED = [
  { name: 's', kind: 'sibilant', dB: -10, m1Hz: 6133, m2Hz2: 2.92e6, ms: 178, sound: 's-like' },
  { name: 'z', kind: 'sibilant', dB: -10, m1Hz: 6133, m2Hz2: 2.92e6, ms: 118, sound: 's-like' },
  { name: 'sh', kind: 'sibilant', dB: -9, m1Hz: 4229, m2Hz2: 3.38e6, ms: 178, sound: 'sh-like' },
  { name: 'zh', kind: 'sibilant', dB: -9, m1Hz: 4229, m2Hz2: 3.38e6, ms: 123, sound: 'sh-like' },
  { name: 'f', kind: 'fricative', dB: -17, m1Hz: 5108, m2Hz2: 6.37e6, ms: 166, sound: null },
  { name: 'v', kind: 'fricative', dB: -17, m1Hz: 5108, m2Hz2: 6.37e6, ms: 80, sound: null },
  { name: 'th', kind: 'fricative', dB: -18, m1Hz: 5137, m2Hz2: 6.19e6, ms: 163, sound: null },
  { name: 'dh', kind: 'fricative', dB: -18, m1Hz: 5137, m2Hz2: 6.19e6, ms: 88, sound: null },
] as const;

/** Each published sound between two vowels of 0.12 s, again and again: nothing but voice lies between two regions. */
function sentence(sampleRateHz: number, pitchHz: number) {
  const spoken = () => ({ samples: vowel(sampleRateHz, 0.12, 0.1, pitchHz) });
  const noises = PUBLISHED.map(({ kind, dB, m1Hz, m2Hz2, ms }, seed) => ({
    kind,
    samples: hiss(sampleRateHz, ms / 1000, 0.1 * 10 ** (dB / 20), { m1Hz, m2Hz2, seed }),
  }));
  return take(sampleRateHz, [...noises.flatMap((noise) => [spoken(), noise]), spoken()]);
}

describe('speech made to the published table', () => {
  it.each([
    [22_050, 110],
    [44_100, 220],
    [48_000, 330],
    [96_000, 150],
    [192_000, 200],
  ])('at %i Hz with a voice of %i Hz gives each sound its level relative to the vowel', (rate, pitch) => {
    const { samples, list } = sentence(rate, pitch);
    const { byId, voiceDbfs } = measureLevels(samples, list);
    PUBLISHED.forEach(({ dB, ms }, i) => {
      const level = byId.get(i + 1)!;
      // The noise is at its RMS exactly. The voice has the RMS of a whole vowel, but blocks of 10 ms hold parts of
      // periods (1.1 at 110 Hz): their mean, over eight and more, stays within a few per cent, 0.2 dB.
      expect(Math.abs(level.sibilanceDb! - dB)).toBeLessThan(0.2);
      expect(Math.abs(level.rmsDbfs - (-20 + dB))).toBeLessThan(1e-4);
      expect(Math.abs(level.durationSeconds - ms / 1000)).toBeLessThanOrEqual(0.5 / rate);
    });
    // The vowel's RMS is 0.1; the median block differs from the mean one by about as much as blocks do.
    expect(Math.abs(voiceDbfs! + 20)).toBeLessThan(0.3);
  });

  it.each([16_000, 22_050, 44_100, 48_000])('at %i Hz tells s and z from sh and zh', (rate) => {
    const { samples, list } = sentence(rate, 200);
    const { byId } = measureLevels(samples, list);
    PUBLISHED.forEach(({ sound }, i) => {
      expect(byId.get(i + 1)?.sound).toBe(sound);
    });
  });

  it('gives centroid, spread and peak of the published spectra back', () => {
    const rate = 44_100;
    for (const { m1Hz, m2Hz2, name } of PUBLISHED.filter(({ kind }) => kind === 'sibilant')) {
      const spread = Math.sqrt(m2Hz2);
      const noise = hiss(rate, 3, 0.05, { m1Hz, m2Hz2, seed: 9 });
      const { samples, list } = take(rate, [{ kind: 'sibilant', samples: noise }]);
      const level = measureLevels(samples, list).byId.get(1)!;
      // Over T = 3 s a centroid has about B = 2·√π·spread·T independent values: standard error spread/√B, of the
      // spread a little less; four of them. What lies below 1 kHz is left out: 1.6 % of the power of sh, which moves its
      // centroid by 1.6 % of the distance to it, 3400 Hz at most, and its spread by half of (3400/1840)²·1.6 %.
      const error = (4 * spread) / Math.sqrt(2 * Math.sqrt(Math.PI) * spread * 3);
      expect(Math.abs(level.centroidHz! - m1Hz), name).toBeLessThan(error + 0.016 * 3400);
      expect(Math.abs(level.spreadHz! - spread), name).toBeLessThan(error + 0.028 * spread);
      // Mode of the beta distribution: (a − 1)/(a + b − 2).
      const mean = m1Hz / 11025;
      const sum = (mean * (1 - mean)) / (m2Hz2 / 11025 ** 2) - 1;
      const mode = (11025 * (mean * sum - 1)) / (sum - 2);
      // The top is flat: half a spread from it the power is still about 90 %, which the chance of 600 frames with
      // triangles over 1 kHz (1.5 %) tells from the top.
      expect(Math.abs(level.peakFrequencyHz! - mode), name).toBeLessThan(spread / 2);
    }
  });
});

describe('a take whose own sibilants lie elsewhere', () => {
  /** Twelve s and six sh, all spectra moved by a factor. */
  function moved(factor: number, rate = 48_000) {
    const pieces = Array.from({ length: 18 }, (_, i) => {
      const { m1Hz, m2Hz2 } = PUBLISHED[i % 3 === 2 ? 2 : 0];
      const noise = hiss(rate, 0.12, 0.03, { m1Hz: m1Hz * factor, m2Hz2: m2Hz2 * factor ** 2, seed: i });
      return [{ samples: vowel(rate, 0.1, 0.1) }, { kind: 'sibilant' as const, samples: noise }];
    });
    const { samples, list } = take(rate, pieces.flat());
    const { byId } = measureLevels(samples, list);
    return list.regions.map(({ id }) => byId.get(id)?.sound);
  }

  // Men's s has its main peak at 3.5 to 5 kHz (Behrens and Blumstein 1988, from notes on it), so below the average sh of
  // others: 0.72 of the published average is that; 1.25 is a bright one.
  it.each([0.72, 0.85, 1, 1.25])('is told apart by its own two groups (spectra times %f)', (factor) => {
    expect(moved(factor)).toEqual(Array.from({ length: 18 }, (_, i) => (i % 3 === 2 ? 'sh-like' : 's-like')));
  });
});
