import { powerFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import type { Random } from './random.js';
import { shapedNoise } from './shaped-noise.js';

export type Stroke = 'closed' | 'open' | 'crash';

/**
 * One share of a sound: amplitude g·(1 − e^(−t/rise))·((1 − b)·e^(−t/decay) + b·e^(−t/burstDecay)), so its power in time is
 * known in closed form.
 */
interface Share {
  readonly lowHz: number;
  readonly highHz: number;
  /** Power without rise and decay. */
  readonly power: number;
  readonly riseSeconds: number;
  readonly decaySeconds: number;
  readonly burst: number;
  readonly burstDecaySeconds: number;
}

/** A timbre: partials that are in no harmonic relation (low = high frequency) and bands of noise. */
export interface CymbalSound {
  readonly partials: readonly Share[];
  readonly bands: readonly Share[];
  /** Nothing is left after this. */
  readonly durationSeconds: number;
}

/** Range of the time in which the band around 6 kHz falls by 30 dB, in seconds, and of its rise. */
const RANGES = {
  closed: { fall: [0.03, 0.08], rise: [0.0003, 0.0015] },
  open: { fall: [0.3, 0.8], rise: [0.0005, 0.003] },
  crash: { fall: [1, 3.5], rise: [0.001, 0.006] },
} as const;

/** Crashes lose a good part at once, the rest rings: share of the first part in amplitude, and its decay re the rest. */
const BURST = { share: [0.5, 0.75], decay: [0.04, 0.12] } as const;

const NOISE_BANDS_HZ = [300, 900, 1800, 3200, 5000, 7500, 11000, 15000, 19000] as const;

/**
 * Draws a cymbal: 60 to 160 partials between 300 Hz and 17 kHz and noise under them, in a share that differs from cymbal to
 * cymbal; the power has a broad hump at 5 to 11 kHz and little below; the high end dies away faster than the low one, and in
 * crashes it also builds up later. The greatest expected power above 4 kHz is 1. Common knowledge of the instrument; the
 * figures are our own choice.
 */
export function createCymbal(stroke: Stroke, random: Random): CymbalSound {
  const { fall, rise } = RANGES[stroke];
  const fallSeconds = random.uniform(fall[0], fall[1]);
  const riseSeconds = random.uniform(rise[0], rise[1]);
  const humpHz = random.uniform(5000, 11000);
  const slope = random.uniform(0.2, 0.9);
  const noiseShare = random.uniform(0.25, 0.85);
  const build = stroke === 'crash' ? random.uniform(1, 10) : 1;
  const burst = stroke === 'crash' ? random.uniform(...BURST.share) : 0;
  const quicker = random.uniform(...BURST.decay);
  const share = (lowHz: number, highHz: number, power: number): Share => {
    const f = Math.sqrt(lowHz * highHz);
    const octaves = Math.log2(f / humpHz);
    // 30 dB are a factor of e^3.454 in amplitude.
    const decaySeconds = (fallSeconds / 3.454) * (6000 / f) ** slope;
    const riseHere = riseSeconds * (f > 6000 ? build ** Math.min(1, Math.log2(f / 6000)) : 1);
    const shape = powerFromDecibels(-(octaves < 0 ? 5 : 4) * octaves * octaves);
    const edges = { lowHz, highHz, power: power * shape, riseSeconds: riseHere, decaySeconds };
    return { ...edges, burst, burstDecaySeconds: quicker * decaySeconds };
  };
  const count = Math.round(random.uniform(60, 160));
  const partials = Array.from({ length: count }, () => {
    const f = 300 * (17000 / 300) ** (random.uniform(0, 1) ** 0.6);
    return share(f, f, powerFromDecibels(random.uniform(-9, 3)));
  });
  const bands = NOISE_BANDS_HZ.slice(1).map((highHz, i) => share(NOISE_BANDS_HZ[i]!, highHz, highHz / 19000));
  const totals = [partials, bands].map((shares) => shares.reduce((sum, one) => sum + one.power, 0));
  const sound = {
    partials: scaled(partials, (1 - noiseShare) / totals[0]!),
    bands: scaled(bands, noiseShare / totals[1]!),
    durationSeconds: 2 * fallSeconds,
  };
  let crest = 0;
  for (let ms = 0; ms < 60; ms += 0.5) crest = Math.max(crest, cymbalPower(sound, ms / 1000, 4000));
  return { ...sound, partials: scaled(sound.partials, 1 / crest), bands: scaled(sound.bands, 1 / crest) };
}

function scaled(shares: readonly Share[], by: number): readonly Share[] {
  return shares.map((one) => ({ ...one, power: one.power * by }));
}

/** Expected power of a sound t seconds after the stroke, of the shares that lie between two frequencies. */
export function cymbalPower(sound: CymbalSound, seconds: number, fromHz = 0, toHz = 20_000): number {
  if (seconds < 0) return 0;
  let sum = 0;
  for (const one of [...sound.partials, ...sound.bands]) {
    const width = one.highHz - one.lowHz;
    const inside = Math.min(one.highHz, toHz) - Math.max(one.lowHz, fromHz);
    const part = width === 0 ? (inside === 0 ? 1 : 0) : Math.max(0, inside) / width;
    if (part > 0) sum += part * one.power * envelope(one, seconds) ** 2;
  }
  return sum;
}

/** One stroke: each has its own phases, noise, and up to 2 dB of change in every share. */
export function strikeCymbal(sound: CymbalSound, sampleRateHz: number, random: Random): Samples {
  const length = Math.ceil(sound.durationSeconds * sampleRateHz);
  const out = new Float32Array(length);
  for (const one of sound.partials) {
    const phase = random.uniform(0, 2 * Math.PI);
    const power = one.power * powerFromDecibels(random.uniform(-2, 2));
    if (one.lowHz < 0.47 * sampleRateHz) addPartial(out, one, 2 * power, phase, sampleRateHz);
  }
  for (const one of sound.bands) {
    const gain = Math.sqrt(one.power * powerFromDecibels(random.uniform(-2, 2)));
    if (one.lowHz > 0.47 * sampleRateHz) continue;
    // shapedNoise has power 1 up to 20 kHz, whatever the rate. After seven decays −61 dB are left.
    const count = Math.min(length, Math.ceil(7 * one.decaySeconds * sampleRateHz));
    const noise = shapedNoise(count, sampleRateHz, (f) => (f >= one.lowHz && f < one.highHz ? 1 : 0), random);
    for (let i = 0; i < count; i++) out[i] = out[i]! + gain * envelope(one, i / sampleRateHz) * noise[i]!;
  }
  return out;
}

function envelope(share: Share, seconds: number): number {
  const ring = (1 - share.burst) * Math.exp(-seconds / share.decaySeconds);
  const burst = share.burst > 0 ? share.burst * Math.exp(-seconds / share.burstDecaySeconds) : 0;
  return (1 - Math.exp(-seconds / share.riseSeconds)) * (ring + burst);
}

/** A decaying sine by rotation: a few multiplications a sample instead of a sine. */
function addPartial(out: Samples, one: Share, power: number, phase: number, sampleRateHz: number): void {
  const angle = (2 * Math.PI * one.lowHz) / sampleRateHz;
  const per = (seconds: number): number => Math.exp(-1 / (seconds * sampleRateHz));
  const [decay, burstDecay, rise] = [per(one.decaySeconds), per(one.burstDecaySeconds), per(one.riseSeconds)];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  let [re, im] = [Math.sqrt(power) * Math.cos(phase), Math.sqrt(power) * Math.sin(phase)];
  let [ring, burst, late] = [1 - one.burst, one.burst, 1];
  for (let i = 0; i < out.length && ring > 1e-3; i++) {
    out[i] = out[i]! + (1 - late) * (ring + burst) * im;
    const next = c * re - s * im;
    im = s * re + c * im;
    re = next;
    ring *= decay;
    burst *= burstDecay;
    late *= rise;
  }
}
