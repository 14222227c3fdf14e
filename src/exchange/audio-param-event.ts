/** One call to a method of an AudioParam, as data: `param[event.method](...event.args)` makes it. */
export interface AudioParamEvent {
  /** `setValueAtTime` sets a value from a time on; a ramp goes from the event before it and ends at its own time. */
  readonly method: 'setValueAtTime' | 'linearRampToValueAtTime' | 'exponentialRampToValueAtTime';
  /** The method's parameters: an amplitude factor above 0; seconds of the context's clock, 0 or more. */
  readonly args: readonly [value: number, timeSeconds: number];
}

/** The gain of a clip for an AudioParam. */
export interface AudioParamSchedule {
  /** In order of time; the calls are to be made in this order. */
  readonly events: readonly AudioParamEvent[];
  /** Ids of the regions still to come that one gain cannot follow, since they work on a band. */
  readonly left: readonly number[];
}
