import { FADE_SHAPES, type RegionList } from '../../src/regions/region.js';
import { listOf, region } from '../gain/lists.js';

/** A second with every shape in and out, regions that touch with and without fades, a mute and steps. */
export function everyShape(sampleRateHz: number): RegionList {
  const at = (seconds: number): number => Math.round(seconds * sampleRateHz);
  const regions = FADE_SHAPES.flatMap((fadeShape, i) => {
    const start = 0.05 + 0.3 * i;
    const piece = (from: number, to: number, gainDb: number, fadeIn: number, fadeOut: number) =>
      region({
        startSample: at(start + from),
        endSample: at(start + to),
        gainDb,
        fadeInSamples: at(fadeIn),
        fadeOutSamples: at(fadeOut),
        fadeShape,
      });
    return [
      piece(0, 0.06, -6, 0.003, 0.002),
      piece(0.06, 0.1, -18, 0, 0.01),
      piece(0.1, 0.15, 3, 0.02, 0.03),
      piece(0.2, 0.25, -120, 0.005, 0),
    ];
  });
  return { ...listOf(at(1), ...regions), sampleRateHz };
}

/** The greatest amplitude factor of a list, at least 1. */
export function greatestGain(list: RegionList): number {
  return Math.max(1, ...list.regions.map(({ gainDb }) => 10 ** (gainDb / 20)));
}
