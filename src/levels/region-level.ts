import type { RegionKind } from '../regions/region.js';

/**
 * What one region measures, as recorded: its own gain is not in it. Every figure is over the samples from onset to
 * offset (start to end where these are null), channel powers averaged.
 */
export interface RegionLevel {
  readonly id: number;
  readonly kind: RegionKind;
  readonly durationSeconds: number;
  /** RMS, in dB below a constant full scale; −Infinity for digital silence. */
  readonly rmsDbfs: number;
  /** Greatest sample of any channel, in dB below full scale; −Infinity for digital silence. */
  readonly peakDbfs: number;
  /** RMS after the weighting of ITU-R BS.468-4, in dB below full scale; −Infinity for digital silence. */
  readonly weightedDbfs: number;
  /** Frequency of the strongest part of the smoothed spectrum, in Hz; null for digital silence. */
  readonly peakFrequencyHz: number | null;
  /** First spectral moment, in Hz; null for digital silence. */
  readonly centroidHz: number | null;
  /** Square root of the second central moment, in Hz; null for digital silence. */
  readonly spreadHz: number | null;
  /** Third moment over the spread cubed; null where it is not defined. */
  readonly skewness: number | null;
  /** Fourth moment over the spread to the fourth, less 3; null where it is not defined. */
  readonly excessKurtosis: number | null;
  /** RMS of the voiced sound around it, in dB below full scale; null where the clip has none to compare with. */
  readonly voiceDbfs: number | null;
  /** Sibilance: `rmsDbfs − voiceDbfs`, in dB; null without a voice or for digital silence. */
  readonly sibilanceDb: number | null;
  /** Share of the regions of its kind with a sibilance no greater than its own, 0 to 100; null without one. */
  readonly percentile: number | null;
  /** Which of the two hisses a sibilant is nearer to; null for other kinds and for digital silence. */
  readonly sound: SibilantSound | null;
}

/** A sibilant hisses like the s of "see" or, with its energy lower, like the sh of "she". */
export type SibilantSound = 's-like' | 'sh-like';

/** The measures of a list's regions, by id; a table of its own, since regions hold decisions and no measures. */
export interface LevelTable {
  readonly sampleRateHz: number;
  /** One entry for every region of the list that was measured. */
  readonly byId: ReadonlyMap<number, RegionLevel>;
  /** Median level of the clip's voiced sound, in dB below full scale; null where it has none. */
  readonly voiceDbfs: number | null;
}
