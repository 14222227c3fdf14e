/** Analysis frame of the detector: 10.67 ms, 512 samples at 48 kHz. Short enough for a released t, long enough for 2 bins a band. */
export const FRAME_SECONDS: number = 512 / 48000;

/** Step between frames: half a frame, 5.33 ms. Edges are found on a finer scale afterwards. */
export const HOP_SECONDS: number = 256 / 48000;

/** Of so many frames one may be judged alone, at most: 85 ms. */
export const MOST_FRAME_STEP = 16;

/**
 * Edges of the bands in Hz, 80 Hz to 7.6 kHz: near a quarter octave in the middle, wider below, where the frame
 * resolves no more. The same bands at every sample rate, so that a take and its resampled copy give the same
 * regions. Half of all recordings end at 8 kHz: above 7.6 kHz there is only the top band, up to 10 kHz, which no network
 * reads.
 */
export const BAND_EDGES_HZ: readonly number[] = Object.freeze([
  80, 300, 500, 750, 1000, 1300, 1650, 2050, 2500, 3000, 3500, 4000, 4600, 5200, 5900, 6700, 7600, 10_000,
]);

/** Number of bands in a row of powers: the top band is the last of them. */
export const ROW_BANDS: number = BAND_EDGES_HZ.length - 1;

/** Number of bands that the classifier sees: all but the top one. */
export const BAND_COUNT: number = ROW_BANDS - 1;

/** The band above the others, 7.6 to 10 kHz: empty where the sample rate does not reach so far. */
export const TOP_BAND: number = ROW_BANDS - 1;

/** First band that counts as high: 3 kHz and up, where the noise of s, sh, t and f stands above a voice. */
export const FIRST_HIGH_BAND = 9;

/** Bands below this one are low: under 1 kHz, where voicing lives. */
export const LOW_BAND_COUNT = 4;

/** Numbers per frame that a classifier sees; `voice-reference.ts` says which. */
export const INPUT_COUNT: number = BAND_COUNT + 12;

/** Place of the level above 3 kHz over its noise floor, in units of 15 dB, in a row of classifier inputs. */
export const HIGH_FLOOR_INPUT: number = BAND_COUNT + 6;

/** The input that is the mean of the bands' levels. */
const MEAN_INPUT: number = BAND_COUNT + 7;

/** The first of the inputs that compare with the loudest noise near by. */
export const FIRST_CEILING_INPUT: number = MEAN_INPUT + 1;

/** Frames that share one reading of the references. */
export const SLOT_FRAMES = 16;

/** Slots that the references look back: 70 × 85 ms = 6.0 s. */
export const PAST_SLOTS = 70;

/** Slots that the references look ahead: 22 × 85 ms = 1.9 s. */
export const AHEAD_SLOTS = 22;

/** Room for the rows that wait for what lies ahead: those, a slot that is not full, a block of the whole-clip call, and an eighth. */
export const AHEAD_ROWS: number = (AHEAD_SLOTS + 10) * SLOT_FRAMES;

/** One of the frame classes. */
export type FrameClass = 'voiced' | 'silence' | 'sibilant' | 'fricative' | 'burst' | 'breath';

/** What a frame may be, in the order of a classifier's output. */
export const FRAME_CLASSES: readonly FrameClass[] = Object.freeze([
  'voiced',
  'silence',
  'sibilant',
  'fricative',
  'burst',
  'breath',
]);
