import { classNumber } from './labelled-frames.js';

const VOICED = classNumber('voiced');
const SIBILANT = classNumber('sibilant');
const BURST = classNumber('burst');

/** How much each frame is voiced, and how much it is a sibilant, fricative or burst: 0 to 1, soft over two frames. */
export function voicedAndNoise(targets: Int8Array): {
  readonly voiced: Float64Array;
  readonly noise: Float64Array;
} {
  const voiced = Float64Array.from(targets, (target) => (target === VOICED ? 1 : 0));
  const noise = Float64Array.from(targets, (target) => (target >= SIBILANT && target <= BURST ? 1 : 0));
  return { voiced: soft(soft(voiced)), noise: soft(soft(noise)) };
}

/** Mean of three neighbours; the ends stay as they are. */
function soft(weights: Float64Array): Float64Array {
  return weights.map((weight, i) =>
    i === 0 || i === weights.length - 1
      ? weight
      : ((weights[i - 1] as number) + weight + (weights[i + 1] as number)) / 3,
  );
}
