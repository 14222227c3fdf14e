import { fadeGain } from '../gain/fade-gain.js';
import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';
import type { AudioParamEvent } from './audio-param-event.js';

/** Seconds of the context's clock at a position in the clip, in samples. */
export type Clock = (sample: number) => number;

/** The part of a fade that is heard: startSample to endSample on the way between two points. */
export interface HeardFade {
  readonly from: GainBreakpoint;
  readonly to: GainBreakpoint;
  readonly startSample: number;
  readonly endSample: number;
}

/** From `sample` on the gain is this. Half a sample early: a rounded time cannot move it to the next sample. */
export function stepEvent(gain: number, sample: number, clock: Clock): AudioParamEvent {
  return eventOf('setValueAtTime', gain, clock(sample - 0.5));
}

/** Adds what is heard of a fade; the value before it must be the one that it begins with. */
export function addFade(events: AudioParamEvent[], fade: HeardFade, clock: Clock, mostRamps: number): void {
  const { from, to, startSample, endSample } = fade;
  const { shape } = from;
  const [fromGain, toGain] = [amplitudeFromDecibels(from.gainDb), amplitudeFromDecibels(to.gainDb)];
  const gainOf = (sample: number): number =>
    fadeGain(sample - from.sample, to.sample - from.sample, fromGain, toGain, shape);
  const start = clock(startSample);
  // A ramp runs from the event before it, so there has to be one where the fade begins.
  if (events.at(-1)?.args[1] !== start) events.push(eventOf('setValueAtTime', gainOf(startSample), start));
  const method = shape === 'decibel' ? 'exponentialRampToValueAtTime' : 'linearRampToValueAtTime';
  const length = endSample - startSample;
  const ramps = shape === 'raisedCosine' ? Math.min(length, mostRamps) : 1;
  for (let i = 1; i <= ramps; i++) {
    const sample = startSample + (length * i) / ramps;
    events.push(eventOf(method, gainOf(sample), clock(sample)));
  }
}

function eventOf(method: AudioParamEvent['method'], gain: number, timeSeconds: number): AudioParamEvent {
  return Object.freeze({ method, args: Object.freeze([gain, timeSeconds] as const) });
}
