/** What a region is believed to hold. */
export type RegionKind =
  | 'sibilant'
  | 'fricative'
  | 'burst'
  | 'breath'
  | 'click'
  | 'noise'
  | 'cymbal'
  | 'custom';

/** Every kind, in the order in which tables and legends list them. */
export const REGION_KINDS: readonly RegionKind[] = Object.freeze([
  'sibilant',
  'fricative',
  'burst',
  'breath',
  'click',
  'noise',
  'cymbal',
  'custom',
] as const);

/**
 * How gain moves across a fade of n samples; sample i stands at x = i/n, from gain g0 to gain g1.
 * `linear`: g0 + (g1 − g0)·x. `raisedCosine`: g0 + (g1 − g0)·(1 − cos πx)/2.
 * `decibel`: straight in decibels, g0·(g1/g0)^x.
 */
export type FadeShape = 'linear' | 'raisedCosine' | 'decibel';

/** Every fade shape. */
export const FADE_SHAPES: readonly FadeShape[] = Object.freeze([
  'linear',
  'raisedCosine',
  'decibel',
] as const);

/** Why a region is there or has its gain: the rule that spoke last and the numbers it used. */
export interface RegionReason {
  /** The rule in words, as a table may print it. */
  readonly rule: string;
  /** The numbers it used, by name with their unit; every one finite, since files cannot carry others. */
  readonly numbers: Readonly<Record<string, number>>;
}

/**
 * Part of the spectrum, in Hz, 0 ≤ lowHz < highHz ≤ half the sample rate, at least LEAST_BAND_WIDTH_HZ wide.
 * From 0 it is everything below `highHz`, up to half the rate everything above `lowHz`. Both ends are finite, since
 * files cannot carry anything else.
 */
export interface RegionBand {
  /** Lower end in Hz; 0 takes everything below `highHz`. */
  readonly lowHz: number;
  /** Upper end in Hz; half the sample rate takes everything above `lowHz`. */
  readonly highHz: number;
}

/** Least width of a RegionBand, in Hz: a narrower cut would ring for longer than a consonant lasts. */
export const LEAST_BAND_WIDTH_HZ = 20;

/** An editable stretch of audio with its own gain. Positions are samples from the start of the clip. */
export interface Region {
  /** Unique in its list, a positive integer, never reused. */
  readonly id: number;
  /** What it is believed to hold. */
  readonly kind: RegionKind;
  /** Measured start of the noise (its −6 dB amplitude point), in samples; null where made by hand. */
  readonly onsetSample: number | null;
  /** Measured end of the noise, in samples, exclusive; null where made by hand. */
  readonly offsetSample: number | null;
  /** First sample that the gain may touch. */
  readonly startSample: number;
  /** One past the last sample that the gain may touch; greater than `startSample`. */
  readonly endSample: number;
  /** Gain between the fades, in dB; from LEAST_GAIN_DB to MOST_GAIN_DB. */
  readonly gainDb: number;
  /** The gain works on this part of the spectrum alone and leaves the rest as it is; absent: on everything. */
  readonly band?: RegionBand;
  /** Belief that there is such a sound here, 0 to 1. A detector tells harsh consonants from all else by it, not from each other. */
  readonly confidence: number;
  /** True: heard as recorded, whatever its gain. */
  readonly bypassed: boolean;
  /** True: no edit or decision changes it. */
  readonly locked: boolean;
  /** Length of the fade at the start, in samples; the two fades together fit inside the region. */
  readonly fadeInSamples: number;
  /** Length of the fade at the end, in samples. */
  readonly fadeOutSamples: number;
  /** Shape of both fades. */
  readonly fadeShape: FadeShape;
  /** Any text of the user's; empty for none. */
  readonly label: string;
  /** Why it is there or has its gain. */
  readonly reason: RegionReason;
}

/** The regions of one clip, ordered by `startSample`; no two overlap, whatever their kind; they may touch. */
export interface RegionList {
  /** Samples a second, 8,000 to 192,000. */
  readonly sampleRateHz: number;
  /** Length of the clip, in samples. */
  readonly lengthSamples: number;
  /** The id that the next new region gets. */
  readonly nextId: number;
  /** In order of time. */
  readonly regions: readonly Region[];
}

/** Least gain of a region, in dB: a mute is this, ×1e-6 (below the last bit of 16-bit audio and near that of 20 bits). */
export const LEAST_GAIN_DB = -120;

/** Most gain of a region, in dB: the library turns down; a boost has to be asked for and is bounded. */
export const MOST_GAIN_DB = 24;
