import { changesAudio } from '../gain/changes-audio.js';
import { gainAt } from '../gain/gain-at.js';
import { gainAtDepth } from '../gain/gain-at-depth.js';
import { type GainBreakpoint, gainBreakpoints } from '../gain/gain-breakpoints.js';
import { assertRegionList } from '../regions/check-region-list.js';
import type { RegionList } from '../regions/region.js';
import { checkInteger, checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';
import { withDefaults } from '../signal/with-defaults.js';
import type { AudioParamEvent, AudioParamSchedule } from './audio-param-event.js';
import { addFade, type Clock, stepEvent } from './audio-param-fade.js';

const NAME = 'gainToAudioParamEvents';

/** Settings of gainToAudioParamEvents. */
export interface AudioParamOptions {
  /** When sample `offsetSample` is heard, in seconds of the context's clock, 0 or more. */
  readonly startTimeSeconds?: number;
  /** The sample of the clip that playback begins with, 0 to its length. */
  readonly offsetSample?: number;
  /** Gains in dB are multiplied by this, 0 or more: see gainAtDepth. */
  readonly depth?: number;
  /** Linear ramps that stand for one raised-cosine fade at most, 1 to 65,536. */
  readonly rampsPerFade?: number;
}

/**
 * Defaults of gainToAudioParamEvents: the whole clip from the start of the clock, its gains as they are; 64 ramps, which keep a raised
 * cosine to 1.5e-4 of its step (in a cut of 6 dB: to 0.0013 dB, derived) and a song of 700 such regions to 92,000 calls.
 */
export const DEFAULT_AUDIO_PARAM_OPTIONS: Readonly<Required<AudioParamOptions>> = Object.freeze({
  startTimeSeconds: 0,
  offsetSample: 0,
  depth: 1,
  rampsPerFade: 64,
});

/** The latest time in an event, in seconds: up to here a double tells half samples apart at 192 kHz with room to spare. */
const LATEST_SECONDS = 1e9;

/**
 * The gain of a clip as calls to the methods of a W3C AudioParam, such as the gain of a GainNode: what renderGain does, while it plays.
 * The library never calls them; the player does, in order: `for (const event of events) gain[event.method](...event.args)`.
 *
 * Call `gain.cancelScheduledValues(0)` before a new list, and schedule ahead: times that have passed are moved to now, which distorts fades.
 *
 * Sample s of the clip is due at startTimeSeconds + (s − offsetSample) / sampleRateHz, and there the value is gainAt(list, s), but for the
 * 32-bit float that the standard keeps values in. A `linear` fade is one linear ramp, `decibel` one exponential ramp. `raisedCosine` is linear
 * ramps: one a sample, which is exact, or `rampsPerFade` even ones in a longer fade, whose chords depart from it by at most
 * π²/16 / rampsPerFade² of the step. (Value curves would be fewer calls, but Chromium 156 misses events within a block of the end of one: measured here.)
 * A step is set half a sample early, so that no rounding of times can move it to the next sample. After the clip the value is 1.
 *
 * Lost: regions with a band, which no single gain can follow (their ids are in `left`; render those beforehand), and what a region knows beside
 * its gain. Where `startTimeSeconds` is no whole number of samples, steps move by less than a sample. A context at another rate gets the same
 * gain at the same time, read off between our samples. The param must be a-rate, as the gain of a GainNode is by default.
 *
 * @param list - The regions of a clip; it is checked.
 * @param options - Where playback begins, and when; depth. Right within a fade, too.
 * @returns Frozen events, plain data that can be posted or written as JSON, and the ids of what they leave out.
 * @throws RangeError or TypeError where the list breaks a rule of checkRegionList, an option is outside its range, or the clip would end later
 *   than 1e9 s.
 *
 * Source: P. Adenot and H. Choi (eds.), "Web Audio API", W3C Recommendation, 17 June 2021, section 1.6, "The AudioParam Interface": the
 * formulas; times finite and not negative; no exponential ramp from or to 0, or between signs. All gains here are above 0.
 *
 * @example
 * import { gainToAudioParamEvents } from 'lenition/exchange';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 });
 * const list = insertRegion(clip, {
 *   startSample: 24000, endSample: 48000, gainDb: -20, fadeInSamples: 6000, fadeOutSamples: 0, fadeShape: 'decibel',
 * });
 * const { events } = gainToAudioParamEvents(list, { startTimeSeconds: 10 });
 * events[2]?.method; // => 'exponentialRampToValueAtTime'
 * events.map(({ args }) => args.map((x) => x.toFixed(2)).join(' at '));
 * // => ['1.00 at 10.00', '1.00 at 10.50', '0.10 at 10.63', '1.00 at 11.00']
 */
export function gainToAudioParamEvents(
  list: RegionList,
  options: AudioParamOptions = {},
): AudioParamSchedule {
  const clock = checkedClock(list, options);
  const { offsetSample, depth, rampsPerFade } = withDefaults(DEFAULT_AUDIO_PARAM_OPTIONS, options);
  const deep = gainAtDepth(list, { depth });
  const points = gainBreakpoints(deep);
  const events: AudioParamEvent[] = [];
  const first = offsetSample < list.lengthSamples ? gainAt(deep, offsetSample) : 1;
  events.push(stepEvent(first, offsetSample, clock));
  for (let k = 1; k < points.length; k++) {
    const from = points[k - 1] as GainBreakpoint;
    const to = points[k] as GainBreakpoint;
    if (to.sample <= offsetSample || to.gainDb === from.gainDb) continue;
    if (to.sample === from.sample) {
      events.push(stepEvent(amplitudeFromDecibels(to.gainDb), to.sample, clock));
      continue;
    }
    // A fade that a step cuts off ends with its last sample, so that the step finds no event after it.
    const endSample = points[k + 1]?.sample === to.sample ? to.sample - 1 : to.sample;
    const startSample = Math.max(from.sample, offsetSample);
    if (startSample < endSample) addFade(events, { from, to, startSample, endSample }, clock, rampsPerFade);
  }
  return Object.freeze({ events: Object.freeze(events), left: leftOut(list, offsetSample) });
}

function checkedClock(list: RegionList, options: AudioParamOptions): Clock {
  const { startTimeSeconds, offsetSample, depth, rampsPerFade } = checkedOptions(
    NAME,
    DEFAULT_AUDIO_PARAM_OPTIONS,
    options,
  );
  assertRegionList(NAME, list);
  checkNumber(NAME, 'startTimeSeconds', startTimeSeconds, 0, LATEST_SECONDS);
  checkInteger(NAME, 'offsetSample', offsetSample, 0, list.lengthSamples);
  checkNumber(NAME, 'depth', depth, 0);
  checkInteger(NAME, 'rampsPerFade', rampsPerFade, 1, 65536);
  const clock: Clock = (sample) =>
    Math.max(0, startTimeSeconds + (sample - offsetSample) / list.sampleRateHz);
  const endSeconds = clock(list.lengthSamples);
  if (endSeconds > LATEST_SECONDS)
    throw rangeError(NAME, 'the end of the clip', `must be at ${LATEST_SECONDS} s at most`, endSeconds);
  return clock;
}

function leftOut({ regions }: RegionList, offsetSample: number): readonly number[] {
  const left = regions.filter(
    (region) => region.band !== undefined && changesAudio(region) && region.endSample > offsetSample,
  );
  return Object.freeze(left.map(({ id }) => id));
}
