import type { VoicedTrack } from './voiced-level.js';

/** How the voice beside a noise is looked for; lengths in samples. */
export interface NeighbourRule {
  /** Voiced sound to gather on each side. */
  readonly neighbourSamples: number;
  /** Unvoiced stretch beyond which the voice belongs to another phrase. */
  readonly pauseSamples: number;
  /** True for a block inside a harsh consonant, which is no pause. */
  readonly isConsonant: (block: number) => boolean;
}

/**
 * Power of the voiced sound beside [start, end): on each side the nearest `neighbourSamples` of it, each block weighted
 * by h/(h + d), with d its distance from the edge and h half of `neighbourSamples`.
 *
 * A side ends at a pause. Where only one side has voice before its pause (at a phrase's start or end, or the clip's),
 * that side counts alone; where neither has, the pauses are disregarded and the nearest voice counts, however far.
 * 0 where the clip has no voice.
 */
export function neighbourVoicePower(
  track: VoicedTrack,
  start: number,
  end: number,
  rule: NeighbourRule,
): number {
  const sum: WeightedSum = { power: 0, weight: 0 };
  addSide(sum, track, start, -1, rule, rule.pauseSamples);
  addSide(sum, track, end, 1, rule, rule.pauseSamples);
  if (sum.weight === 0) {
    addSide(sum, track, start, -1, rule, Number.POSITIVE_INFINITY);
    addSide(sum, track, end, 1, rule, Number.POSITIVE_INFINITY);
  }
  return sum.weight > 0 ? sum.power / sum.weight : 0;
}

interface WeightedSum {
  power: number;
  weight: number;
}

function addSide(
  sum: WeightedSum,
  { blockSamples, power }: VoicedTrack,
  edge: number,
  step: 1 | -1,
  rule: NeighbourRule,
  pauseSamples: number,
): void {
  const half = rule.neighbourSamples / 2;
  let left = rule.neighbourSamples;
  let unvoiced = 0;
  // The first block that lies wholly beyond the edge.
  let block = step > 0 ? Math.ceil(edge / blockSamples) : Math.floor(edge / blockSamples) - 1;
  for (; block >= 0 && block < power.length && left > 0 && unvoiced <= pauseSamples; block += step) {
    const p = power[block] as number;
    if (p === 0) {
      if (!rule.isConsonant(block)) unvoiced += blockSamples;
      continue;
    }
    unvoiced = 0;
    const distance = Math.abs((block + 0.5) * blockSamples - edge);
    const weight = (Math.min(left, blockSamples) * half) / (half + distance);
    sum.power += weight * p;
    sum.weight += weight;
    left -= blockSamples;
  }
}
