import { FADE_SHAPES, type FadeShape, REGION_KINDS, type RegionKind } from '../regions/region.js';
import { checkChoice, checkFields, checkNumber, checkObject, checkSampleRate } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { withDefaults } from '../signal/with-defaults.js';

/** Settings of placeEdges; what is left out has its value from DEFAULT_EDGE_OPTIONS. */
export interface EdgeOptions {
  /** Length of a fade in quiet, in seconds, 0 to 0.1, by kind; kinds left out keep their default. */
  readonly fadeSeconds?: Readonly<Partial<Record<RegionKind, number>>>;
  /** Length of a fade where another sound abuts, in seconds, 0 to 0.02; never longer than the kind's own. */
  readonly abuttingFadeSeconds?: number;
  /** Length of the stretch beside the noise that must be quiet, in seconds, 0.002 to 0.1. */
  readonly quietSeconds?: number;
  /** How far outside the edge that stretch may begin, in seconds, 0 to 0.1. */
  readonly skirtSeconds?: number;
  /** How far below the noise quiet is, in dB, 3 to 60. */
  readonly quietBelowDb?: number;
  /** Farthest move of an outer end to a zero crossing, in seconds, 0 to 0.001; 0 turns it off. */
  readonly snapSeconds?: number;
  /** Shape of both fades; left out: each region keeps its own. */
  readonly fadeShape?: FadeShape;
}

/**
 * Defaults of placeEdges, in seconds and dB.
 *
 * - `fadeSeconds`: sibilant 3 ms and fricative 4 ms, long enough to hide the change of level of a hiss; burst 1 ms and
 *   click 0.5 ms, since they are short themselves; breath 20 ms and noise 10 ms, which rise slowly; cymbal 5 ms and custom
 *   3 ms (common practice, no source).
 * - `abuttingFadeSeconds` 2 ms: half of it, 1 ms, falls on the vowel.
 * - `quietSeconds` 10 ms: about a period of a low voice, so that the trough between two of its pulses is no closure,
 *   and shorter than the closure of a stop.
 * - `skirtSeconds` 20 ms: an s swells and dies away; what lies below the -6 dB points of its edges is s too.
 * - `quietBelowDb` 15 dB: vowels lie above the sibilants beside them (by 9 to 10 dB on average, Jongman, Wayland and Wong
 *   2000, from notes on it; by 3 to 4 dB, Behrens and Blumstein 1988, from notes on it), so a vowel 15 dB under its s is rare; room
 *   noise and closures lie deeper.
 * - `snapSeconds` 1 ms: never enough to let a fade miss the noise.
 */
export const DEFAULT_EDGE_OPTIONS: Readonly<
  Required<Omit<EdgeOptions, 'fadeSeconds' | 'fadeShape'>> & {
    /** Length of a fade in quiet, in seconds, for every kind. */
    readonly fadeSeconds: Readonly<Record<RegionKind, number>>;
  }
> = Object.freeze({
  fadeSeconds: Object.freeze({
    sibilant: 0.003,
    fricative: 0.004,
    burst: 0.001,
    breath: 0.02,
    click: 0.0005,
    noise: 0.01,
    cymbal: 0.005,
    custom: 0.003,
  }),
  abuttingFadeSeconds: 0.002,
  quietSeconds: 0.01,
  skirtSeconds: 0.02,
  quietBelowDb: 15,
  snapSeconds: 0.001,
});

/** The settings in samples of one clip. */
export interface EdgeSettings {
  readonly fadeSamples: Readonly<Record<RegionKind, number>>;
  readonly abuttingFadeSamples: number;
  readonly quietSamples: number;
  readonly skirtSamples: number;
  readonly stepSamples: number;
  readonly quietBelowDb: number;
  readonly snapSamples: number;
  readonly fadeShape: FadeShape | undefined;
}

/** Checks options and turns seconds into samples: to the nearest, the reach of a snap downwards. */
export function edgeSettings(functionName: string, options: EdgeOptions, sampleRateHz: number): EdgeSettings {
  checkSampleRate(functionName, sampleRateHz);
  const all = checkedOptions(functionName, DEFAULT_EDGE_OPTIONS, options, ['fadeShape']);
  const { fadeSeconds: own = {} } = options;
  checkObject(functionName, 'fadeSeconds', own);
  checkFields(functionName, 'fadeSeconds', own, REGION_KINDS);
  checkNumber(functionName, 'abuttingFadeSeconds', all.abuttingFadeSeconds, 0, 0.02);
  checkNumber(functionName, 'quietSeconds', all.quietSeconds, 0.002, 0.1);
  checkNumber(functionName, 'skirtSeconds', all.skirtSeconds, 0, 0.1);
  checkNumber(functionName, 'quietBelowDb', all.quietBelowDb, 3, 60);
  checkNumber(functionName, 'snapSeconds', all.snapSeconds, 0, 0.001);
  if (options.fadeShape !== undefined) checkChoice(functionName, 'fadeShape', options.fadeShape, FADE_SHAPES);
  const fadeSeconds = withDefaults(DEFAULT_EDGE_OPTIONS.fadeSeconds, own);
  const samples = (seconds: number): number => Math.round(seconds * sampleRateHz);
  const fadeSamples = {} as Record<RegionKind, number>;
  for (const kind of REGION_KINDS) {
    checkNumber(functionName, `fadeSeconds.${kind}`, fadeSeconds[kind], 0, 0.1);
    fadeSamples[kind] = samples(fadeSeconds[kind]);
  }
  return {
    fadeSamples,
    abuttingFadeSamples: samples(all.abuttingFadeSeconds),
    quietSamples: samples(all.quietSeconds),
    skirtSamples: samples(all.skirtSeconds),
    // A millisecond: finer than any fade that hangs on it, coarse enough to stay cheap.
    stepSamples: samples(0.001),
    quietBelowDb: all.quietBelowDb,
    snapSamples: Math.floor(all.snapSeconds * sampleRateHz),
    fadeShape: options.fadeShape,
  };
}
