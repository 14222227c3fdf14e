import { checkNumber, checkObject } from '../signal/check.js';

/** Far beyond every level; its square is still a double. */
const MOST_DB = 1e6;

/** The curve of a compressor: threshold, ratio and knee. */
export interface CompressionCurve {
  /** Level above which it turns down, in dB. */
  readonly thresholdDb: number;
  /** dB in for 1 dB out above the threshold, 1 or more; Infinity is a limiter. */
  readonly ratio: number;
  /** Width of the bend around the threshold in dB, 0 or more; 0, a corner, where left out. */
  readonly kneeDb?: number;
}

/**
 * Gain that a compressor gives a steady level x, by its threshold T, ratio R and knee W, in dB:
 * 0 where 2(x − T) < −W; (1/R − 1)·(x − T + W/2)² / (2W) inside the knee; (1/R − 1)·(x − T) above it.
 *
 * @param levelDb Level in dB, in the unit of the threshold; −Infinity (silence) gives 0.
 * @param curve Threshold, ratio and knee.
 * @returns Gain in dB, 0 or less.
 * @throws TypeError or RangeError for NaN, a ratio under 1, a knee under 0 or a level beyond a million dB.
 * @see Giannoulis, Massberg and Reiss, "Digital Dynamic Range Compressor Design — A Tutorial and Analysis", Journal of
 * the Audio Engineering Society 60(6), 2012.
 * @example
 * import { compressionGainAt } from 'lenition/forecast';
 * compressionGainAt(0, { thresholdDb: -20, ratio: 4 }); // => -15
 * compressionGainAt(-20, { thresholdDb: -20, ratio: 4, kneeDb: 10 }); // => -0.9375
 */
export function compressionGainAt(levelDb: number, curve: CompressionCurve): number {
  checkObject('compressionGainAt', 'curve', curve);
  const { thresholdDb, ratio, kneeDb = 0 } = curve;
  if (levelDb !== Number.NEGATIVE_INFINITY)
    checkNumber('compressionGainAt', 'levelDb', levelDb, -MOST_DB, MOST_DB);
  checkNumber('compressionGainAt', 'thresholdDb', thresholdDb, -MOST_DB, MOST_DB);
  if (ratio !== Number.POSITIVE_INFINITY) checkNumber('compressionGainAt', 'ratio', ratio, 1);
  checkNumber('compressionGainAt', 'kneeDb', kneeDb, 0, MOST_DB);
  const reduction = reductionDb(levelDb - thresholdDb, 1 - 1 / ratio, kneeDb);
  return reduction === 0 ? 0 : -reduction;
}

/** How far the curve turns down a level `overDb` above the threshold; `slope` is 1 − 1/R. 0 or more, in dB. */
export function reductionDb(overDb: number, slope: number, kneeDb: number): number {
  if (2 * overDb >= kneeDb) return slope * overDb;
  const into = overDb + kneeDb / 2;
  return into <= 0 ? 0 : (slope * into * into) / (2 * kneeDb);
}
