import type { AudioParamEvent } from '../../src/exchange/audio-param-event.js';

/** The part of the interface that the events use, as the IDL of section 1.6 has it. */
export interface GainParam {
  setValueAtTime(value: number, startTime: number): unknown;
  linearRampToValueAtTime(value: number, endTime: number): unknown;
  exponentialRampToValueAtTime(value: number, endTime: number): unknown;
}

interface Timed {
  readonly kind: 'value' | 'linear' | 'exponential';
  readonly time: number;
  readonly value: number;
}

/**
 * An AudioParam by the letter of the W3C Web Audio API 1.0 (Recommendation, 17 June 2021), section 1.6: the order of its events, its
 * refusals and its formulas, in doubles, with values kept as the 32-bit floats of its IDL. Rules READ (WebAudio/web-audio-api
 * index.bs); the number of the section from memory. Value curves and targets are left out: no event uses them.
 */
export class AudioParamOracle implements GainParam {
  readonly timeline: Timed[] = [];

  setValueAtTime(value: number, startTime: number): void {
    this.#insert('value', value, startTime);
  }

  linearRampToValueAtTime(value: number, endTime: number): void {
    this.#insert('linear', value, endTime);
  }

  exponentialRampToValueAtTime(value: number, endTime: number): void {
    if (Math.fround(value) === 0) throw new RangeError('an exponential ramp to 0');
    this.#insert('exponential', value, endTime);
  }

  /** The value at a time, in seconds; 1, the default of a gain, before the first event. */
  valueAt(time: number): number {
    const i = this.#countUntil(time) - 1;
    const [event, next] = [this.timeline[i], this.timeline[i + 1]];
    if (event === undefined) return 1;
    if (next === undefined || next.kind === 'value') return event.value;
    const x = (time - event.time) / (next.time - event.time);
    if (next.kind === 'linear') return event.value + (next.value - event.value) * x;
    // "If V0 and V1 have opposite signs or if V0 is zero, then v(t) = V0."
    return event.value * next.value <= 0 ? event.value : event.value * (next.value / event.value) ** x;
  }

  /** How many events have a time up to this one. */
  #countUntil(time: number): number {
    let [from, to] = [0, this.timeline.length];
    while (from < to) {
      const middle = (from + to) >> 1;
      if ((this.timeline[middle] as Timed).time <= time) from = middle + 1;
      else to = middle;
    }
    return from;
  }

  /** "It will be placed in the list after them, but before events whose times are after the event." */
  #insert(kind: Timed['kind'], value: number, time: number): void {
    if (!(Number.isFinite(time) && time >= 0)) throw new RangeError(`the time ${time}`);
    if (!Number.isFinite(value)) throw new TypeError(`the value ${value}`);
    this.timeline.splice(this.#countUntil(time), 0, { kind, time, value: Math.fround(value) });
  }
}

/** The loop that the documentation of gainToAudioParamEvents shows: it passes the type check here, too. */
export function schedule<T extends GainParam>(gain: T, events: readonly AudioParamEvent[]): T {
  for (const event of events) gain[event.method](...event.args);
  return gain;
}
