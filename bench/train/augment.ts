import { addNoise, addRoom, changeBalance, equalise, limitBand, warpBands } from './augmentations.js';
import type { Random } from './random.js';

/**
 * A changed copy of a clip's band powers: another mouth, room, singer, noise and microphone around the same phones.
 * What each frame is stays as it was. The ranges are wide on purpose: a voice that was never heard must lie inside.
 */
export function augment(
  clip: { readonly powers: Float64Array; readonly targets: Int8Array },
  random: Random,
): Float64Array<ArrayBuffer> {
  const powers = Float64Array.from(clip.powers);
  const chance = (share: number): boolean => random.uniform() < share;
  const between = (least: number, most: number): number => least + (most - least) * random.uniform();
  const spread = (deviation: number): number => deviation * random.normal();

  if (chance(0.6)) warpBands(powers, Math.exp(between(-0.24, 0.24)));
  if (chance(0.35)) addRoom(powers, { decaySeconds: between(0.15, 0.85), directDb: between(3, 21) });

  const vowelsChange = chance(0.5);
  const consonantsChange = chance(0.5);
  if (vowelsChange || consonantsChange)
    changeBalance(powers, clip.targets, {
      vowelDb: vowelsChange ? between(-3, 11) : 0,
      cornerHz: between(1800, 4300),
      consonantDb: consonantsChange ? between(-10, 6) : 0,
    });

  if (chance(0.6)) addNoise(powers, { belowPeakDb: between(22, 67), slope: between(-1, 0.3) }, random);
  if (chance(0.85))
    equalise(powers, {
      tiltDbPerOctave: spread(2.2),
      shelfDb: spread(5),
      shelfHz: 300 * 20 ** random.uniform(),
      topShelfDb: spread(2),
      topShelfHz: between(3000, 7000),
      highPassHz: chance(0.3) ? between(80, 330) : 20,
      bellDb: spread(4),
      bellHz: 500 * 14 ** random.uniform(),
    });
  if (chance(0.08)) {
    const cornerHz = between(3400, 7200);
    limitBand(powers, cornerHz, () => between(40, 60));
  }
  return powers;
}
