/** Power of a filtered signal by blocks, two samples to a vector: the sums of src/detection/block-powers.ts, in the same order. */

/**
 * Adds the sum of squares of each block of `blockSamples` to `out`. `numbers`: b0, b1, b2, a1, a2, then the state: the last two samples
 * and the last two results, newest first.
 */
export function blockPowers(
  samples: usize,
  blockSamples: usize,
  blockCount: usize,
  numbers: usize,
  out: usize,
  leastState: f64,
): void {
  const b0 = load<f64>(numbers);
  const b1 = load<f64>(numbers + 8);
  const b2 = load<f64>(numbers + 16);
  const a1 = load<f64>(numbers + 24);
  const a2 = load<f64>(numbers + 32);
  const state = numbers + 40;
  // To both results from the last one and from the one before it.
  const fromLast = v128.replace_lane<f64>(f64x2.splat(-a1), 1, a1 * a1 - a2);
  const fromEarlier = v128.replace_lane<f64>(f64x2.splat(-a2), 1, a1 * a2);
  const c0 = f64x2.splat(b0);
  const c1 = f64x2.splat(b1);
  const c2 = f64x2.splat(b2);
  let x1 = load<f64>(state);
  let x2 = load<f64>(state + 8);
  let y1 = load<f64>(state + 16);
  let y2 = load<f64>(state + 24);
  let x = samples;
  for (let block: usize = 0; block < blockCount; block++) {
    // Lanes: the sample and the next one; those one and two samples before them.
    let before = v128.replace_lane<f64>(f64x2.splat(x2), 1, x1);
    let results = v128.replace_lane<f64>(f64x2.splat(y2), 1, y1);
    let sums = f64x2.splat(0);
    const end = x + ((blockSamples & ~1) << 2);
    for (; x < end; x += 8) {
      const now = f64x2.promote_low_f32x4(v128.load64_zero(x));
      const between = v128.shuffle<f64>(before, now, 1, 2);
      const zeros = f64x2.add(f64x2.add(f64x2.mul(c0, now), f64x2.mul(c1, between)), f64x2.mul(c2, before));
      const first = f64x2.extract_lane(zeros, 0);
      const inputs = f64x2.replace_lane(zeros, 1, f64x2.extract_lane(zeros, 1) - a1 * first);
      const earlier = v128.shuffle<f64>(results, results, 0, 0);
      const last = v128.shuffle<f64>(results, results, 1, 1);
      results = f64x2.add(f64x2.add(inputs, f64x2.mul(fromEarlier, earlier)), f64x2.mul(fromLast, last));
      sums = f64x2.add(sums, f64x2.mul(results, results));
      before = now;
    }
    x1 = f64x2.extract_lane(before, 1);
    x2 = f64x2.extract_lane(before, 0);
    y1 = f64x2.extract_lane(results, 1);
    y2 = f64x2.extract_lane(results, 0);
    let even = f64x2.extract_lane(sums, 0);
    if (blockSamples & 1) {
      const now = <f64>load<f32>(x);
      x += 4;
      const y = b0 * now + b1 * x1 + b2 * x2 - a2 * y2 - a1 * y1;
      y2 = y1;
      y1 = y;
      x2 = x1;
      x1 = now;
      even += y * y;
    }
    if (abs(y1) < leastState) y1 = 0;
    if (abs(y2) < leastState) y2 = 0;
    store<f64>(out, load<f64>(out) + (even + f64x2.extract_lane(sums, 1)));
    out += 8;
  }
  store<f64>(state, x1);
  store<f64>(state + 8, x2);
  store<f64>(state + 16, y1);
  store<f64>(state + 24, y2);
}
