import type { RegionKind } from '../regions/region.js';

/**
 * What one region measures, as recorded: its own gain is not in it. Every figure is over the samples from onset to
 * offset (start to end where these are null), channel powers averaged. Peak frequency and moments are those of the
 * region's averaged power spectrum: from 1 kHz up for sibilants, fricatives and bursts, so that the voice in a z or v
 * is left out, from 100 Hz up for all else, and to 16 kHz where the sample rate reaches that far.
 */
export interface RegionLevel {
  /** Id of the region in its list. */
  readonly id: number;
  /** Kind of the region. */
  readonly kind: RegionKind;
  /** From onset to offset, in seconds. */
  readonly durationSeconds: number;
  /** RMS, in dB below a constant full scale; −Infinity for digital silence. */
  readonly rmsDbfs: number;
  /** Greatest sample of any channel, in dB below full scale; −Infinity for digital silence. */
  readonly peakDbfs: number;
  /**
   * RMS after the weighting of ITU-R BS.468-4, in dB below full scale, about the region's mean; −Infinity for digital
   * silence. Within the standard's tolerances from 200 Hz up; sound below that reads too loud (1.3 dB at 100 Hz),
   * because frames of 10 ms cannot tell it from what is above.
   */
  readonly weightedDbfs: number;
  /** Where the spectrum, smoothed by a triangle of 500 Hz to each side, is strongest, in Hz; null for digital silence. */
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
  /**
   * Sibilance: level of the noise less `voiceDbfs`, in dB; null without a voice or for digital silence. The level of the
   * noise is `rmsDbfs` less an offset of the converter and, for a sibilant or fricative, less what its edges caught of a
   * vowel (see measureLevels).
   */
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
  /** Sample rate of the clip, in Hz. */
  readonly sampleRateHz: number;
  /** One entry for every region of the list that was measured. */
  readonly byId: ReadonlyMap<number, RegionLevel>;
  /** Median level of the clip's voiced sound, in dB below full scale; null where it has none. */
  readonly voiceDbfs: number | null;
}
