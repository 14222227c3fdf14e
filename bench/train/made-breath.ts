import { highPass, highShelf, peaking } from '../../src/signal/biquad-design.js';
import { filterSamples } from '../../src/signal/biquad-filter.js';
import { between, type Random } from './random.js';

/** Where a throat and mouth resonate while air runs through them, in Hz: least and most, from memory of the phonetics of h. */
const RESONANCES_HZ: readonly (readonly [number, number])[] = [
  [350, 900],
  [1000, 2000],
  [2100, 3200],
  [3300, 4600],
];

/** The resonances that one singer's breaths have in common. */
export type Mouth = readonly { readonly frequencyHz: number; readonly gainDb: number; readonly q: number }[];

/** A breath and where it can be heard: from −25 dB on, as breaths are labelled. */
export interface MadeBreath {
  /** Peak 1. */
  readonly samples: Float32Array;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

export function createMouth(random: Random): Mouth {
  return RESONANCES_HZ.map(([least, most]) => ({
    frequencyHz: between(least, most, random),
    gainDb: between(4, 18, random),
    q: between(1.5, 6, random),
  }));
}

/**
 * A breath of 0.07 to 1.1 s that nobody breathed: noise that swells and ebbs, through the resonances of a mouth. The ranges are
 * wide on purpose, for whoever breathes anywhere must lie inside. Needs a sample rate of 12 kHz or more.
 */
export function madeBreath(mouth: Mouth, sampleRateHz: number, random: Random): MadeBreath {
  const seconds = 0.07 * 16 ** random.uniform();
  const rise = between(0.1, 0.5, random);
  const fall = between(0.1, 0.5, random);
  const swing = between(0, 0.3, random);
  const swingHz = between(2, 7, random);
  const noise = Float32Array.from({ length: Math.round(seconds * sampleRateHz) }, (_, i) => {
    const t = i / sampleRateHz;
    const edge = Math.min(1, t / (rise * seconds), 1 - (t / seconds - 1 + fall) / fall);
    return edge * (1 + swing * Math.sin(2 * Math.PI * swingHz * t)) * random.normal();
  });
  const shaped = filterSamples(noise, [
    highPass({ sampleRateHz, frequencyHz: between(60, 300, random) }),
    highShelf({
      sampleRateHz,
      frequencyHz: Math.min(0.4 * sampleRateHz, between(3500, 8000, random)),
      gainDb: between(-24, 0, random),
    }),
    ...mouth.map(({ frequencyHz, gainDb, q }) =>
      peaking({
        sampleRateHz,
        frequencyHz: frequencyHz * between(0.9, 1.1, random),
        gainDb: gainDb * between(0.7, 1.3, random),
        q,
      }),
    ),
  ]);
  const peak = shaped.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const heard = 10 ** (-25 / 20);
  return {
    samples: shaped.map((x) => x / peak),
    startSeconds: heard * rise * seconds,
    endSeconds: seconds - heard * fall * seconds,
  };
}
