/**
 * What mix engineers take for granted, said in numbers and asked of the library's own functions. Every fact here is common
 * practice, no source; where a bound leans on a published or derived figure, that is named beside it.
 */
import { describe, expect, it } from 'vitest';
import {
  type SungVowelOptions,
  synthesiseFricative,
  synthesiseSungVowel,
} from '../../examples/lib/demo/pieces.js';
import { analyse } from '../../src/features/analyse.js';
import { DEFAULT_EDGE_OPTIONS } from '../../src/gain/edge-options.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { stepGain } from '../../src/gain/step-gain.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { markRange } from '../../src/regions/mark-range.js';
import type { RegionList } from '../../src/regions/region.js';
import { setGain } from '../../src/regions/set-gain.js';
import { snapRegion } from '../../src/regions/snap-region.js';
import { samplesToSeconds, secondsToSamples } from '../../src/regions/time.js';
import { type BiquadCoefficients, highPass, highShelf, lowPass } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import { decibelsFromPower } from '../../src/signal/decibels.js';
import { magnitudeResponseDb } from '../../src/signal/frequency-response.js';
import { rmsDbfs } from '../../src/signal/meters.js';
import type { Samples } from '../../src/signal/samples.js';

const sampleRateHz = 48000;
const VOWELS = ['aa', 'ae', 'ah', 'ao', 'ax', 'ih', 'iy', 'uw'] as const;

/** One sibilant marked by hand over a whole clip. */
function marked(lengthSamples: number): RegionList {
  const empty = createRegionList({ sampleRateHz, lengthSamples });
  return markRange(empty, 0, lengthSamples, { kind: 'sibilant' });
}

/** What the gain of a list makes of a constant 1. */
function factorOf(list: RegionList): number {
  return renderGain(new Float32Array(list.lengthSamples).fill(1), list)[5] as number;
}

const gainOf = (list: RegionList): number | undefined => list.regions[0]?.gainDb;

/** A steady s of the demonstration, its fades left out. */
const hiss = (kind: 's' | 'f', seed: number, seconds = 1): Samples =>
  withoutFades(synthesiseFricative(kind, { durationSeconds: seconds + 0.2, sampleRateHz, seed }));

const vowel = (
  name: SungVowelOptions['vowel'],
  pitchHz = 220,
  more: Partial<SungVowelOptions> = {},
): Samples =>
  withoutFades(
    synthesiseSungVowel({ vowel: name, pitchHz, durationSeconds: 1.2, sampleRateHz, seed: 5, ...more }),
  );

function withoutFades(samples: Samples): Samples {
  return samples.slice(0.1 * sampleRateHz, samples.length - 0.1 * sampleRateHz);
}

describe('how far one press turns an s down (common practice, no source)', () => {
  // 10^(-6/20) and so on, to the five digits that the trade writes; half a digit of the last place.
  const HALF_A_DIGIT = 0.5e-5;

  it('one press is -6 dB, x0.50119', () => {
    const list = stepGain(marked(10));
    expect(gainOf(list)).toBe(-6);
    expect(Math.abs(factorOf(list) - 0.50119)).toBeLessThan(HALF_A_DIGIT);
  });

  it('one press is six steps of 1 dB', () => {
    let list = marked(10);
    for (let step = 0; step < 6; step++) list = stepGain(list, { stepDb: -1 });
    expect(gainOf(list)).toBe(gainOf(stepGain(marked(10))));
    expect(factorOf(list)).toBe(factorOf(stepGain(marked(10))));
  });

  it('two presses are -12 dB, x0.25119', () => {
    const list = stepGain(stepGain(marked(10)));
    expect(gainOf(list)).toBe(-12);
    expect(Math.abs(factorOf(list) - 0.25119)).toBeLessThan(HALF_A_DIGIT);
  });

  it('the gentler press is -3 dB, x0.70795, and twice it is -6 dB', () => {
    const gentle = stepGain(marked(10), { stepDb: -3 });
    expect(gainOf(gentle)).toBe(-3);
    expect(Math.abs(factorOf(gentle) - 0.70795)).toBeLessThan(HALF_A_DIGIT);
    expect(gainOf(stepGain(gentle, { stepDb: -3 }))).toBe(-6);
  });

  it('what a 6 dB cut takes away lies 6.04 dB below the s', () => {
    const s = hiss('s', 1);
    const tamed = renderGain(s, setGain(marked(s.length), 1, -6));
    const removed = s.map((x, i) => x - (tamed[i] as number));
    // 20·log10(1 - 0.50119) = -6.042: the two decimals as written.
    expect(Math.abs(rmsDbfs(removed) - rmsDbfs(s) + 6.04)).toBeLessThan(0.005);
  });
});

describe('a cut without any fade (common practice, no source)', () => {
  const s = hiss('s', 2);
  const EDGES = 200;
  /** How far beyond the greatest step within 1 ms of it in the recording the step at an edge of the cut goes; above 1 is a click. */
  const clicks = (samples: Samples, snap: boolean): number[] =>
    Array.from({ length: EDGES }, (_, k) => {
      const empty = createRegionList({ sampleRateHz, lengthSamples: samples.length });
      const hand = markRange(empty, 1000 + 101 * k, 5800 + 101 * k, { gainDb: -6 });
      const list = snap ? snapRegion(hand, 1, samples) : hand;
      const { startSample, endSample } = list.regions[0] as (typeof list.regions)[number];
      const cut = renderGain(samples, list);
      return Math.max(
        ...[startSample, endSample].map((edge) => {
          const near = Array.from({ length: 97 }, (_, j) => step(samples, edge - 48 + j));
          return step(cut, edge) / Math.max(...near);
        }),
      );
    });
  const step = (samples: Samples, i: number): number =>
    Math.abs((samples[i] as number) - (samples[i - 1] as number));

  it('makes no click above its neighbourhood where it is snapped to a zero crossing, on noise', () => {
    // Across a zero crossing |g·b - a| = g·|b| + |a| ≤ |b - a|: never above the step that was there, which is in the neighbourhood.
    expect(Math.max(...clicks(s, true))).toBeLessThanOrEqual(1);
  });

  it('can click where it is not snapped: a low hum jumps far beyond any of its own steps', () => {
    const hum = Float32Array.from({ length: s.length }, (_, i) => Math.sin((2 * Math.PI * 110 * i) / 48000));
    // A jump of half the amplitude at a peak, against steps of 2π·110/48000 = 0.0144 of it: some 35 times.
    expect(Math.max(...clicks(hum, false))).toBeGreaterThan(30);
  });
});

describe('a frame of timecode (common practice, no source)', () => {
  it('is 33.3 to 41.7 ms long, from 30 frames a second to 23.976', () => {
    const framesMs = [30, 30000 / 1001, 25, 24, 24000 / 1001].map((rate) => {
      const samples = secondsToSamples(1 / rate, sampleRateHz);
      return 1000 * samplesToSeconds(samples, sampleRateHz);
    });
    // To the nearest sample at 48 kHz: half of 0.0208 ms, on top of the half digit of the two figures.
    expect(Math.abs(Math.min(...framesMs) - 33.3)).toBeLessThan(0.05 + 0.0105);
    expect(Math.abs(Math.max(...framesMs) - 41.7)).toBeLessThan(0.05 + 0.0105);
  });

  it('is longer than any fade that is put at an edge, so timecode alone cannot carry an edit', () => {
    expect(Math.max(...Object.values(DEFAULT_EDGE_OPTIONS.fadeSeconds))).toBeLessThan(1 / 30);
  });
});

describe('an s shows as noise against a sung vowel (common practice, no source)', () => {
  const features = (samples: Samples) => {
    const { columns, grid } = analyse(samples, {
      sampleRateHz,
      features: ['flatness', 'zeroCrossingsPerSecond', 'periodicity'],
    });
    // Frames near the ends are part silence. 5 and 95 %: nine frames in ten must bear it out.
    const range = (column: Float64Array): { low: number; high: number } => {
      const sorted = column.slice(4, grid.frameCount - 4).sort();
      return {
        low: sorted[Math.floor(0.05 * sorted.length)] as number,
        high: sorted[Math.floor(0.95 * sorted.length)] as number,
      };
    };
    return {
      flatness: range(columns.flatness),
      crossings: range(columns.zeroCrossingsPerSecond),
      periodicity: range(columns.periodicity),
    };
  };
  const s = features(hiss('s', 3));
  const sung = VOWELS.flatMap((name) =>
    [[130, 1] as const, [330, 1.15] as const].map(
      ([pitchHz, tractScale]) =>
        [
          `${name} at ${pitchHz} Hz`,
          features(vowel(name, pitchHz, { tractScale, vibratoCents: 40 })),
        ] as const,
    ),
  );

  it('flatness is up: at least four times that of any vowel (6 dB)', () => {
    for (const [name, v] of sung) expect(s.flatness.low / v.flatness.high, name).toBeGreaterThan(4);
  });

  it('zero crossings are up: above 8000 a second, where vowels stay below 6000', () => {
    // Rice (from memory): noise crosses at twice its root-mean-square frequency, and s lies above 4 kHz; vowels lie below 3 kHz.
    expect(s.crossings.low).toBeGreaterThan(8000);
    for (const [name, v] of sung) expect(v.crossings.high, name).toBeLessThan(6000);
  });

  it('periodicity is down: less than half of an s repeats, more than half of a vowel does', () => {
    expect(s.periodicity.high).toBeLessThan(0.5);
    for (const [name, v] of sung) expect(v.periodicity.low, name).toBeGreaterThan(0.5);
  });
});

describe('what the chain does to sibilance (common practice, no source)', () => {
  const bandDb = (samples: Samples, lowHz: number, highHz: number): number => {
    const { columns } = analyse(samples, {
      sampleRateHz,
      features: ['bandEnergies'],
      bands: [{ lowHz, highHz }],
    });
    return decibelsFromPower((columns.bandEnergies[0] as Float64Array).reduce((sum, x) => sum + x, 0));
  };
  const responseDb = (sections: readonly BiquadCoefficients[], frequencyHz: number): number =>
    magnitudeResponseDb(sections, [frequencyHz], { sampleRateHz })[0] as number;

  it.each([3, 6, 9])('a +%i dB top shelf lifts sibilance by about as much', (gainDb) => {
    const shelf = [highShelf({ sampleRateHz, frequencyHz: 3000, gainDb })];
    const s = hiss('s', 5);
    const rise = bandDb(filterSamples(s, shelf), 5000, 8000) - bandDb(s, 5000, 8000);
    // Vowels whose energy lies below 1.5 kHz; an "ee" has a formant at the shelf and rises with it.
    for (const name of ['aa', 'ah', 'ao', 'uw'] as const) {
      const v = vowel(name);
      const lift = rise - (rmsDbfs(filterSamples(v, shelf)) - rmsDbfs(v));
      // The shelf rises steadily, so its response bounds the band's rise at 5 and 8 kHz, and the vowel's at 1.5 kHz.
      expect(lift, name).toBeGreaterThan(responseDb(shelf, 5000) - responseDb(shelf, 1500));
      expect(lift, name).toBeLessThan(responseDb(shelf, 8000));
      // "About": at 5 kHz the shelf has 88 % of its decibels, and the vowel takes up to 3 %.
      expect(Math.abs(lift - gainDb), name).toBeLessThan(0.15 * gainDb);
    }
  });

  it('a band of 300 to 3400 Hz loses s and f and keeps vowels', () => {
    // Butterworth sections (quality factors 1 / (2·cos θ)): two for the lower edge, four for the upper.
    const q = (order: number, k: number): number => 0.5 / Math.cos((Math.PI * (2 * k + 1)) / (2 * order));
    const band = [
      ...[0, 1].map((k) => highPass({ sampleRateHz, frequencyHz: 300, q: q(4, k) })),
      ...[0, 1, 2, 3].map((k) => lowPass({ sampleRateHz, frequencyHz: 3400, q: q(8, k) })),
    ];
    const s = hiss('s', 6);
    const f = hiss('f', 7);
    const lossDb = (samples: Samples): number => rmsDbfs(samples) - rmsDbfs(filterSamples(samples, band));
    const hissLossDb = (samples: Samples): number =>
      bandDb(samples, 5000, 12000) - bandDb(filterSamples(samples, band), 5000, 12000);
    // A cut of 14.6 dB took [s] from 97 to 60 % recognised (mean over speakers, computed from figures in notes on it): past that it is lost.
    expect(lossDb(s)).toBeGreaterThan(14.6);
    // An f is weak and spread out: what tells it is its hiss, and of that and of the s no more is left than the filter's skirt.
    const skirtDb = -responseDb(band, 5000);
    expect(skirtDb).toBeGreaterThan(20);
    expect(hissLossDb(s)).toBeGreaterThan(skirtDb);
    expect(hissLossDb(f)).toBeGreaterThan(skirtDb);
    // At most half the amplitude: "ee" and "oo" have their first formant at the lower edge.
    for (const name of VOWELS) expect(lossDb(vowel(name)), name).toBeLessThan(6);
  });
});

describe('a stack of takes (common practice, no source)', () => {
  const SECONDS = 2;
  const takes = Array.from({ length: 8 }, (_, k) => hiss('s', 20 + k, SECONDS));
  const sumDb = (list: readonly Samples[]): number =>
    rmsDbfs(
      Float32Array.from(list[0] as Samples, (_, i) =>
        list.reduce((sum, take) => sum + (take[i] as number), 0),
      ),
    );
  const meanPowerDb = (list: readonly Samples[]): number =>
    decibelsFromPower(list.reduce((sum, take) => sum + 10 ** (rmsDbfs(take) / 10), 0) / list.length);

  // The power of noise of bandwidth B over T seconds scatters by 1/√(B·T). B of an s is above 3 kHz (spread of 1.7 kHz to either side,
  // Jongman et al. 2000, from notes on it), so 1/√6000 = 1.3 % or 0.056 dB; four of these.
  const FOUR_SIGMA_DB = 4 * 0.056;

  it.each([2, 4, 8])('%i equal loose takes of one s add 10·log10 of their number in dB', (count) => {
    const some = takes.slice(0, count);
    const added = sumDb(some) - meanPowerDb(some);
    expect(Math.abs(added - 10 * Math.log10(count))).toBeLessThan(FOUR_SIGMA_DB);
  });

  it('one take doubled onto itself adds 6 dB, twice as much: looseness is what keeps the sum down', () => {
    const [take] = takes as [Samples, ...Samples[]];
    // 20·log10(2) = 6.0206; single precision of the samples.
    expect(sumDb([take, take]) - rmsDbfs(take)).toBeCloseTo(6.0206, 3);
  });
});
