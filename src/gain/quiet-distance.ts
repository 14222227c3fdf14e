import type { Samples } from '../signal/samples.js';

/** What counts as quiet beside a noise; lengths in samples. */
export interface QuietRule {
  /** Length of the stretch that must be quiet. */
  readonly quietSamples: number;
  /** Farthest distance of that stretch from the edge. */
  readonly skirtSamples: number;
  /** Steps in which the distance grows. */
  readonly stepSamples: number;
  /** Most power that is quiet. */
  readonly mostPower: number;
}

/**
 * Mean power of a stretch, averaged over the channels, each about its own mean: an offset of the converter or a slow
 * rumble must not pass for sound. 0 for an empty stretch.
 */
export function stretchPower(channels: readonly Samples[], start: number, end: number): number {
  const n = end - start;
  if (n <= 0) return 0;
  let total = 0;
  for (const channel of channels) {
    let sum = 0;
    for (let i = start; i < end; i++) sum += channel[i] as number;
    const mean = sum / n;
    for (let i = start; i < end; i++) total += ((channel[i] as number) - mean) ** 2;
  }
  return total / (n * channels.length);
}

/**
 * How far outside an edge the first quiet stretch begins, in samples, looking away from the noise; null where none
 * begins within the skirt, that is, where another sound abuts. Beyond the end of the clip nothing is heard: an edge
 * there is quiet at distance 0.
 */
export function quietDistance(
  channels: readonly Samples[],
  edgeSample: number,
  direction: 'earlier' | 'later',
  rule: QuietRule,
): number | null {
  const room = direction === 'earlier' ? edgeSample : (channels[0] as Samples).length - edgeSample;
  if (room === 0) return 0;
  for (let near = 0; near <= rule.skirtSamples; near += rule.stepSamples) {
    const far = Math.min(near + rule.quietSamples, room);
    // The end of the clip may cut the stretch short, but a few samples of a sound say nothing about it.
    if (near > 0 && far - near < rule.quietSamples / 2) return null;
    const power =
      direction === 'earlier'
        ? stretchPower(channels, edgeSample - far, edgeSample - near)
        : stretchPower(channels, edgeSample + near, edgeSample + far);
    if (power <= rule.mostPower) return near;
  }
  return null;
}
