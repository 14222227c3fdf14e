import type { Samples } from '../../../src/signal/samples.js';

/** The four formants that tell sounds apart, in Hz. */
export type Formants = readonly [number, number, number, number];

const BANDWIDTHS_HZ = [105, 115, 140, 160, 170, 180, 190, 200, 220, 240, 260, 280, 300, 320];
const LOWEST_FIXED_HZ = 4450;
const SPACING_HZ = 1030;

/** Middle between two settings of the tract, `x` from 0 to 1. */
export function mixFormants(a: Formants, b: Formants, x: number): Formants {
  return [0, 1, 2, 3].map((k) => a[k]! + (b[k]! - a[k]!) * x) as unknown as Formants;
}

/**
 * Sends a source through a vocal tract: two-pole resonators in cascade, each with unit gain at 0 Hz, as Klatt, JASA 67
 * (1980) 971, describes (from memory). Four formants follow the track; those above stand fixed, one per 1030 Hz as in
 * a tube closed at one end, so that the harmonics do not end at 5 kHz. What would lie near half the sample rate is
 * left out.
 *
 * @param tractScale 1 for a man's tract of 17 cm; about 1.15 for a woman's.
 * @param settingAt The four formants at a sample, for a scale of 1; asked for every millisecond, in rising order.
 */
export function throughTract(
  source: Samples,
  sampleRateHz: number,
  tractScale: number,
  settingAt: (sample: number) => Formants,
): Samples {
  const out = new Float64Array(source);
  // A millisecond is finer than any movement of a tongue.
  const block = Math.max(1, Math.round(sampleRateHz / 1000));
  const blocks = Math.ceil(out.length / block);
  const settings = new Float64Array(4 * blocks);
  for (let b = 0; b < blocks; b++) settings.set(settingAt(b * block), 4 * b);
  for (let formant = 0; formant < BANDWIDTHS_HZ.length; formant++) {
    const fixedHz = LOWEST_FIXED_HZ + SPACING_HZ * (formant - 4);
    if (formant >= 4 && fixedHz * tractScale > 0.45 * sampleRateHz) break;
    const radius = Math.exp((-Math.PI * BANDWIDTHS_HZ[formant]!) / sampleRateHz);
    const c = -radius * radius;
    const middleAt = (b: number): number => {
      const frequencyHz = formant < 4 ? settings[4 * Math.min(b, blocks - 1) + formant]! : fixedHz;
      const bounded = Math.min(frequencyHz * tractScale, 0.46 * sampleRateHz);
      return 2 * radius * Math.cos((2 * Math.PI * bounded) / sampleRateHz);
    };
    let y1 = 0;
    let y2 = 0;
    let k = middleAt(0);
    for (let b = 0; b < blocks; b++) {
      // Straight on to the next setting: steps would click.
      const slope = (middleAt(b + 1) - k) / block;
      const end = Math.min(out.length, (b + 1) * block);
      for (let i = b * block; i < end; i++) {
        const y = (1 - k - c) * out[i]! + k * y1 + c * y2;
        y2 = y1;
        y1 = y;
        out[i] = y;
        k += slope;
      }
    }
  }
  return new Float32Array(out);
}
