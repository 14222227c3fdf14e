/** How an optimiser steps. */
export interface Adam {
  readonly stepCount: number;
  /** Changes weights against `gradients · scale`. */
  step(weights: Float64Array, gradients: Float64Array, scale: number, learningRate: number): void;
}

const FIRST_KEPT = 0.9;
const SECOND_KEPT = 0.999;
const LEAST = 1e-8;

/**
 * Adam with decoupled weight decay. Per weight, m ← 0.9 m + 0.1 g and v ← 0.999 v + 0.001 g², corrected for their
 * start at 0; then w ← w − rate · (m/(√v + 1e-8) + decay · w). After Kingma and Ba, "Adam", 2015, and Loshchilov
 * and Hutter, "Decoupled Weight Decay Regularization", 2019 (both from memory).
 */
export function createAdam(weightCount: number, weightDecay: number): Adam {
  const first = new Float64Array(weightCount);
  const second = new Float64Array(weightCount);
  let stepCount = 0;
  return {
    get stepCount() {
      return stepCount;
    },
    step(weights, gradients, scale, learningRate) {
      stepCount++;
      const firstShare = 1 - FIRST_KEPT ** stepCount;
      const secondShare = 1 - SECOND_KEPT ** stepCount;
      for (let i = 0; i < weightCount; i++) {
        const g = (gradients[i] as number) * scale;
        const m = FIRST_KEPT * (first[i] as number) + (1 - FIRST_KEPT) * g;
        const v = SECOND_KEPT * (second[i] as number) + (1 - SECOND_KEPT) * g * g;
        first[i] = m;
        second[i] = v;
        const w = weights[i] as number;
        const direction = m / firstShare / (Math.sqrt(v / secondShare) + LEAST);
        weights[i] = w - learningRate * (direction + weightDecay * w);
      }
    },
  };
}

/** Share of the full learning rate at a step from 1 on: a straight rise, and half a cosine down to 0 at the last step. */
export function learningShare(step: number, totalSteps: number, warmUpSteps: number): number {
  const rise = warmUpSteps > 0 ? Math.min(1, step / warmUpSteps) : 1;
  return rise * 0.5 * (1 + Math.cos(Math.PI * Math.min(1, step / totalSteps)));
}
