import { BAND_COUNT, HOP_SECONDS, ROW_BANDS, TOP_BAND } from '../../src/detection/detection-scale.js';
import { BAND_CENTRES_HZ, BAND_WIDTHS_HZ } from './band-scale.js';
import { voicedAndNoise } from './frame-weights.js';
import type { Random } from './random.js';

/** All of these change a table of band powers, ROW_BANDS a frame, in place. */

/**
 * Another length of mouth: every resonance moves by the same factor. Band b takes the power density that stood at
 * `ratio` times its centre, interpolated over log frequency; beyond the ends, that of the last band.
 */
export function warpBands(powers: Float64Array, ratio: number): void {
  const taken = BAND_CENTRES_HZ.map((centre, band) => {
    const f = centre * ratio;
    // Half of all recordings have nothing in the top band: the others do not take from it.
    const last = band === TOP_BAND ? TOP_BAND : TOP_BAND - 1;
    let i = 0;
    while (i < last - 1 && (BAND_CENTRES_HZ[i + 1] as number) < f) i++;
    const below = Math.log(BAND_CENTRES_HZ[i] as number);
    const above = Math.log(BAND_CENTRES_HZ[i + 1] as number);
    const share = Math.max(0, Math.min(1, (Math.log(f) - below) / (above - below)));
    const width = BAND_WIDTHS_HZ[band] as number;
    return {
      from: i,
      lower: ((1 - share) * width) / (BAND_WIDTHS_HZ[i] as number),
      upper: (share * width) / (BAND_WIDTHS_HZ[i + 1] as number),
    };
  });
  const row = new Float64Array(ROW_BANDS);
  for (let at = 0; at < powers.length; at += ROW_BANDS) {
    for (let band = 0; band < ROW_BANDS; band++) row[band] = powers[at + band] as number;
    for (let band = 0; band < ROW_BANDS; band++) {
      const { from, lower, upper } = taken[band] as (typeof taken)[number];
      powers[at + band] = lower * (row[from] as number) + upper * (row[from + 1] as number);
    }
  }
}

/** High bands die away faster in a room, by this power of the decay per frame, from 3.5 kHz on. */
const HIGH_DECAY_POWER = 1.6;
const FIRST_FAST_BAND = 10;

/** A room: each frame goes on sounding, 60 dB weaker after `decaySeconds`; the direct sound is `directDb` above it. */
export function addRoom(
  powers: Float64Array,
  { decaySeconds, directDb }: { readonly decaySeconds: number; readonly directDb: number },
): void {
  const decay = 10 ** ((-6 * HOP_SECONDS) / decaySeconds);
  const gain = 10 ** (-directDb / 10) * (1 - decay);
  for (let band = 0; band < ROW_BANDS; band++) {
    const kept = band >= FIRST_FAST_BAND ? decay ** HIGH_DECAY_POWER : decay;
    let sounding = 0;
    for (let at = band; at < powers.length; at += ROW_BANDS) {
      sounding = sounding * kept + (powers[at] as number);
      powers[at] = (powers[at] as number) + gain * sounding;
    }
  }
}

/**
 * Another singer or another way of singing: vowels brighter or duller above a corner (`vowelDb` far above it, half
 * of that at it), s, t and f louder or softer. Changes fade in and out over two frames.
 */
export function changeBalance(
  powers: Float64Array,
  targets: Int8Array,
  change: { readonly vowelDb: number; readonly cornerHz: number; readonly consonantDb: number },
): void {
  const vowelDb = BAND_CENTRES_HZ.map((f) => change.vowelDb / (1 + (change.cornerHz / f) ** 4));
  const { voiced, noise } = voicedAndNoise(targets);
  for (let frame = 0; frame < targets.length; frame++) {
    const v = voiced[frame] as number;
    const n = noise[frame] as number;
    if (v < 0.01 && n < 0.01) continue;
    for (let band = 0; band < ROW_BANDS; band++)
      scale(powers, frame * ROW_BANDS + band, v * (vowelDb[band] as number) + n * change.consonantDb);
  }
}

/** Band of noise with the width of a bin per frame: a wider one fluctuates less. */
const STEADY_WIDTH_HZ = 150;

/** Steady noise of a microphone, a fan or a tape: `belowPeakDb` under the loudest frame, density ∝ f^slope. */
export function addNoise(
  powers: Float64Array,
  { belowPeakDb, slope }: { readonly belowPeakDb: number; readonly slope: number },
  random: Random,
): void {
  const shape = BAND_CENTRES_HZ.map((f, band) => (BAND_WIDTHS_HZ[band] as number) * (f / 1000) ** slope);
  const total = shape.slice(0, BAND_COUNT).reduce((sum, share) => sum + share, 0);
  const level = (loudestFrame(powers) * 10 ** (-belowPeakDb / 10)) / total;
  const deviation = BAND_WIDTHS_HZ.map((width) => 1 / Math.sqrt(Math.max(1, width / STEADY_WIDTH_HZ)));
  for (let at = 0; at < powers.length; at += ROW_BANDS)
    for (let band = 0; band < ROW_BANDS; band++) {
      // The top band is so wide that it is steady.
      const fluctuation =
        band === TOP_BAND ? 1 : Math.max(0.05, 1 + random.normal() * (deviation[band] as number));
      powers[at + band] = (powers[at + band] as number) + level * (shape[band] as number) * fluctuation;
    }
}

function loudestFrame(powers: Float64Array): number {
  let most = 0;
  for (let at = 0; at < powers.length; at += ROW_BANDS) {
    let sum = 0;
    for (let band = 0; band < BAND_COUNT; band++) sum += powers[at + band] as number;
    most = Math.max(most, sum);
  }
  return most;
}

/** What a microphone and an engineer do to a recording. */
export interface Equaliser {
  readonly tiltDbPerOctave: number;
  readonly shelfDb: number;
  readonly shelfHz: number;
  readonly topShelfDb: number;
  readonly topShelfHz: number;
  readonly highPassHz: number;
  readonly bellDb: number;
  readonly bellHz: number;
}

/** No band is changed by more, in dB. */
const MOST_EQ_DB = 20;

/** A filter over the whole recording: tilt about 1 kHz, two high shelves, a high-pass, and a bell about an octave wide. */
export function equalise(powers: Float64Array, eq: Equaliser): void {
  for (let band = 0; band < ROW_BANDS; band++) {
    const f = BAND_CENTRES_HZ[band] as number;
    const dB =
      eq.tiltDbPerOctave * Math.log2(f / 1000) +
      eq.shelfDb / (1 + (eq.shelfHz / f) ** 2) +
      eq.topShelfDb / (1 + (eq.topShelfHz / f) ** 3) -
      10 * Math.log10(1 + (eq.highPassHz / f) ** 4) +
      eq.bellDb * Math.exp(-2 * Math.log2(f / eq.bellHz) ** 2);
    const held = Math.max(-MOST_EQ_DB, Math.min(MOST_EQ_DB, dB));
    for (let at = band; at < powers.length; at += ROW_BANDS) scale(powers, at, held);
  }
}

/** A telephone or a lossy coder: above a corner, bands fall by `depthDb()` within a third of an octave. */
export function limitBand(powers: Float64Array, cornerHz: number, depthDb: () => number): void {
  let depth = 0;
  for (let band = 0; band < ROW_BANDS; band++) {
    const octaves = Math.log2((BAND_CENTRES_HZ[band] as number) / cornerHz);
    if (octaves <= 0) continue;
    // The top band falls as the one below it.
    if (band !== TOP_BAND) depth = depthDb();
    const dB = -depth * Math.min(1, 3 * octaves);
    for (let at = band; at < powers.length; at += ROW_BANDS) scale(powers, at, dB);
  }
}

function scale(powers: Float64Array, at: number, dB: number): void {
  powers[at] = (powers[at] as number) * Math.exp((Math.LN10 / 10) * dB);
}
