import type { Samples } from '../../../src/signal/samples.js';

/** Rises from 0 to 1 as x does, flat at both ends, 0.5 at x = 0.5. */
export function ease(x: number): number {
  return x <= 0 ? 0 : x >= 1 ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * x);
}

/** Where a sound begins and ends and how long its fades take, all in samples. */
export interface Span {
  readonly startSample: number;
  readonly endSample: number;
  readonly fadeInSamples: number;
  readonly fadeOutSamples: number;
}

/**
 * Gain of a sound at a sample. The fades are centred on start and end, so the gain is exactly 0.5 (−6.02 dB) there:
 * that is what makes start and end the true onset and offset.
 */
export function spanGain(span: Span, sample: number): number {
  const rise = edge(sample - span.startSample, span.fadeInSamples);
  const fall = edge(span.endSample - sample, span.fadeOutSamples);
  return Math.min(rise, fall);
}

function edge(distance: number, fadeSamples: number): number {
  return ease(fadeSamples > 0 ? distance / fadeSamples + 0.5 : distance >= 0 ? 1 : 0);
}

/** Adds a sound to a take, its first sample at `startSample`; what lies outside the take is dropped. */
export function mixInto(take: Samples, sound: Samples, startSample: number, gain: number): void {
  const from = Math.max(0, -startSample);
  const to = Math.min(sound.length, take.length - startSample);
  for (let i = from; i < to; i++) take[startSample + i] = take[startSample + i]! + gain * sound[i]!;
}
