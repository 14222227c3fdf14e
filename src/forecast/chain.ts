/** A filter of the Audio EQ Cookbook, as data; the sample rate comes from the audio. */
export type FilterSpec = PassSpec | BandPassSpec | PeakingSpec | ShelfSpec;

/** A low- or high-pass. */
export interface PassSpec {
  /** Which side is let through. */
  readonly kind: 'lowPass' | 'highPass';
  /** Corner in Hz, above 0 and under half the sample rate. */
  readonly frequencyHz: number;
  /** Quality factor, 0.01 to 1000; √½ where left out. */
  readonly q?: number;
}

/** A band-pass of 0 dB at its centre. */
export interface BandPassSpec {
  /** Says that it is a band-pass. */
  readonly kind: 'bandPass';
  /** Centre in Hz, above 0 and under half the sample rate. */
  readonly frequencyHz: number;
  /** Quality factor, 0.01 to 1000. */
  readonly q: number;
}

/** A bell. */
export interface PeakingSpec {
  /** Says that it is a bell. */
  readonly kind: 'peaking';
  /** Centre in Hz, above 0 and under half the sample rate. */
  readonly frequencyHz: number;
  /** Quality factor, 0.01 to 1000. */
  readonly q: number;
  /** Gain at the centre in dB, −120 to 120. */
  readonly gainDb: number;
}

/** A shelf. */
export interface ShelfSpec {
  /** Which side is raised or lowered. */
  readonly kind: 'lowShelf' | 'highShelf';
  /** Midpoint of the slope in Hz, above 0 and under half the sample rate. */
  readonly frequencyHz: number;
  /** Gain of the shelf in dB, −120 to 120. */
  readonly gainDb: number;
  /** Shelf slope S, above 0 to 1; 1 where left out. */
  readonly slope?: number;
}

/** Every kind of filter. */
export const FILTER_KINDS: readonly FilterSpec['kind'][] = Object.freeze([
  'lowPass',
  'highPass',
  'bandPass',
  'peaking',
  'lowShelf',
  'highShelf',
] as const);

/** What a detector makes of the sound: its magnitude, or the root of its averaged square. */
export type DetectorKind = 'peak' | 'rms';

/** Every detector. */
export const DETECTOR_KINDS: readonly DetectorKind[] = Object.freeze(['peak', 'rms'] as const);

/**
 * Where attack and release act: on the wanted gain in dB, after the curve, or on the detected amplitude, before it.
 * Both designs exist in hardware and software; they differ in how fast they follow.
 */
export type Smoothing = 'gain' | 'level';

/** Every place of the smoothing. */
export const SMOOTHINGS: readonly Smoothing[] = Object.freeze(['gain', 'level'] as const);

/** How a compressor works. */
export interface CompressorSettings {
  /** Level above which it turns down, in dB of full scale (amplitude 1 is 0 dB), −100 to 20. */
  readonly thresholdDb: number;
  /** dB in for 1 dB out above the threshold, 1 to 1000. */
  readonly ratio: number;
  /** Width of the bend around the threshold in dB, 0 (a corner) to 60. */
  readonly kneeDb?: number;
  /** Time constant of turning down: 63 % of a step is done after it. Seconds, 0 (at once) to 10. */
  readonly attackSeconds: number;
  /** Time constant of coming back, in seconds, 0.001 to 10 (shorter would shape the wave itself: that is saturation). */
  readonly releaseSeconds: number;
  /** What the detector makes of the sound; `peak` where left out. */
  readonly detector?: DetectorKind;
  /** Time constant of the average of an RMS detector, in seconds, 0.0001 to 10; a peak detector has none. */
  readonly averageSeconds?: number;
  /** Where attack and release act; `gain` where left out. */
  readonly smoothing?: Smoothing;
  /** Filters that the detector hears through; the sound itself does not pass them. None: it hears the sound. */
  readonly sidechain?: readonly FilterSpec[];
  /** Gain of the compressed path in dB, −60 to 60. */
  readonly makeUpDb?: number;
  /** Share of the compressed path, 0 to 1; the rest is the input (parallel compression). */
  readonly wet?: number;
}

/** What holds where a compressor leaves something out. Averaging 20 ms: common practice, no source. */
export const DEFAULT_COMPRESSOR_SETTINGS: Readonly<
  Required<Omit<CompressorSettings, 'thresholdDb' | 'ratio' | 'attackSeconds' | 'releaseSeconds'>>
> = Object.freeze({
  kneeDb: 0,
  detector: 'peak',
  averageSeconds: 0.02,
  smoothing: 'gain',
  sidechain: Object.freeze([]),
  makeUpDb: 0,
  wet: 1,
});

/** How an equaliser works. */
export interface EqualiserSettings {
  /** Filters in a row; none pass the sound as it is. */
  readonly filters: readonly FilterSpec[];
  /** Share of the filtered path, 0 to 1; 1 where left out. The filter's own delay is not undone in the dry path. */
  readonly wet?: number;
}

/**
 * Shape of a saturation, f(u) with slope 1 at 0: `tanh`; `arctangent` (2/π)·atan(πu/2); `cubic` u − u³/3, flat at
 * ±2/3 beyond |u| = 1; `clip` u, flat at ±1 beyond.
 */
export type SaturationCurve = 'tanh' | 'arctangent' | 'cubic' | 'clip';

/** Every curve. */
export const SATURATION_CURVES: readonly SaturationCurve[] = Object.freeze([
  'tanh',
  'arctangent',
  'cubic',
  'clip',
] as const);

/** How a saturation works. */
export interface SaturationSettings {
  /** Shape of the curve. */
  readonly curve: SaturationCurve;
  /** Gain into the curve in dB, −60 to 60; undone behind it, so that quiet sound keeps its level. */
  readonly driveDb: number;
  /** Offset added before the curve, −0.9 to 0.9: makes even harmonics. 0 where left out. */
  readonly bias?: number;
  /** How many times the sample rate the curve runs at: 1, 2, 4 or 8; 4 where left out. */
  readonly oversampling?: number;
  /** Gain of the saturated path in dB, −60 to 60; 0 where left out. */
  readonly makeUpDb?: number;
  /** Share of the saturated path, 0 to 1; 1 where left out. The dry path is delayed to line up. */
  readonly wet?: number;
}

/** What holds where a saturation leaves something out. */
export const DEFAULT_SATURATION_SETTINGS: Readonly<Required<Omit<SaturationSettings, 'curve' | 'driveDb'>>> =
  Object.freeze({ bias: 0, oversampling: 4, makeUpDb: 0, wet: 1 });

/** A name of the user's for one stage, for tables and messages. */
interface Named {
  /** What to call the stage. */
  readonly name?: string;
}

/** A compressor in a chain. */
export interface CompressorStage extends CompressorSettings, Named {
  /** Says that the stage is a compressor. */
  readonly kind: 'compressor';
}

/** An equaliser in a chain. */
export interface EqualiserStage extends EqualiserSettings, Named {
  /** Says that the stage is an equaliser. */
  readonly kind: 'equaliser';
}

/** A saturation in a chain. */
export interface SaturationStage extends SaturationSettings, Named {
  /** Says that the stage is a saturation. */
  readonly kind: 'saturation';
}

/** One stage of a chain. */
export type Stage = CompressorStage | EqualiserStage | SaturationStage;

/** Every kind of stage. */
export const STAGE_KINDS: readonly Stage['kind'][] = Object.freeze([
  'compressor',
  'equaliser',
  'saturation',
] as const);

/** What the mix will do to a track, as data: stages in the order in which the sound passes them. */
export interface Chain {
  /** What it does, in plain words. */
  readonly name?: string;
  /** At most 32; none pass the sound as it is. */
  readonly stages: readonly Stage[];
}
