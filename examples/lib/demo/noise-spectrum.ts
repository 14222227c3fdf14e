import { powerFromDecibels } from '../../../src/signal/decibels.js';

/** One resonance of a noise: centre and width between its −3 dB points (of order 1). */
interface Resonance {
  readonly frequencyHz: number;
  readonly widthHz: number;
  /** Power at the centre. */
  readonly power: number;
  /** Steepness: each order adds 6 dB an octave to both skirts. */
  readonly order: number;
}

/** Power of a noise at a frequency, in any unit: only the shape counts. */
export type NoiseSpectrum = (frequencyHz: number) => number;

export type NoiseName = 's' | 'sh' | 'f' | 'th' | 'h' | 'breath' | 't' | 'k' | 'd' | 'room';

const r = (frequencyHz: number, widthHz: number, levelDb: number, order = 1): Resonance => ({
  frequencyHz,
  widthHz,
  power: powerFromDecibels(levelDb),
  order,
});

/**
 * Resonances per noise. s, sh, f and th are fitted to the peaks and spectral moments of Jongman, Wayland and Wong,
 * JASA 108 (2000) 1252 (from notes on it); the t and k bursts stand at the centres of Zue (1976) (from notes on it); the breath
 * has its bump near 1.6 kHz (Nakano et al. 2008, from memory). The rest is our own ear and eye.
 */
const RESONANCES: Readonly<Record<Exclude<NoiseName, 'room'>, readonly Resonance[]>> = {
  s: [
    r(6800, 1150, 0, 3),
    r(5000, 2000, -1, 3),
    r(9000, 3000, -9, 3),
    r(13000, 5000, -17, 3),
    r(2600, 2600, -17, 2),
  ],
  sh: [r(3780, 850, 0, 3), r(2700, 1300, -4, 3), r(5600, 2300, -14, 3), r(8000, 3600, -20, 2)],
  f: [r(7600, 1400, 0, 2), r(4500, 3500, -6), r(1700, 1300, 11.5)],
  th: [r(7400, 1400, 0, 2), r(4700, 3600, -7), r(1900, 1400, 10)],
  h: [r(1150, 500, 0, 2), r(2700, 700, -5, 2), r(3900, 900, -10, 2), r(5600, 3000, -20, 2)],
  breath: [
    r(1600, 700, 0, 2),
    r(2900, 900, -8, 2),
    r(4600, 1800, -12, 2),
    r(7500, 3500, -20, 2),
    r(600, 400, -8, 2),
  ],
  t: [r(3660, 1500, 0, 2), r(6000, 3000, -5, 2), r(1700, 900, -16)],
  k: [r(1900, 700, 0, 2), r(4200, 1800, -13, 2), r(6500, 4000, -20, 2)],
  d: [r(3300, 2000, 0), r(1600, 1200, -8)],
};

/** The spectrum of a noise by name; `scale` moves it up for a small mouth, down for a large one. */
export function noiseSpectrum(name: NoiseName, scale = 1): NoiseSpectrum {
  // Room tone falls 3 dB an octave as pink noise does, and is rolled off below 60 Hz as by a microphone's filter.
  if (name === 'room') return (f) => (f < 1 ? 0 : 1 / (f * (1 + (60 / f) ** 4)));
  const resonances = RESONANCES[name];
  return (frequencyHz) => {
    const f = frequencyHz / scale;
    if (f < 1) return 0;
    let sum = 0;
    for (const { frequencyHz: f0, widthHz, power, order } of resonances) {
      const detuning = (f0 / widthHz) * (f / f0 - f0 / f);
      sum += power / (1 + detuning * detuning) ** order;
    }
    return sum;
  };
}
