import { gainBreakpoints } from '../gain/gain-breakpoints.js';
import { assertRegionList } from '../regions/check-region-list.js';
import type { RegionList } from '../regions/region.js';
import { checkInteger, checkNumber, rangeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { gainSteps } from './gain-steps.js';
import { type MidiGainEvent, type MidiGainFile, MOST_TICKS } from './midi-file-values.js';
import { DEFAULT_MIDI_LAW, type MidiLawOptions, midiLaw, midiValue } from './midi-gain-law.js';

/** Settings of gainToMidi. */
export interface MidiGainOptions extends MidiLawOptions {
  /** Ticks of a beat, 24 to 32,767. */
  readonly ticksPerBeat?: number;
  /** Tempo in beats a minute, 4 to 1,000; written to the nearest microsecond of a beat. */
  readonly tempoBpm?: number;
  /** Largest step within a fade, in dB, 0.01 to 24. */
  readonly stepDb?: number;
}

/** Defaults of gainToMidi: ticks of 1.04 ms, steps of half a decibel. */
export const DEFAULT_MIDI_GAIN_OPTIONS: Readonly<Required<MidiGainOptions>> = Object.freeze({
  ...DEFAULT_MIDI_LAW,
  ticksPerBeat: 480,
  tempoBpm: 120,
  stepDb: 0.5,
});

/**
 * The gain of a clip as controller events of a Standard MIDI File: plain values that `writeMidi` of the package `midi-file` turns into
 * bytes. One track, format 0: name, tempo, a controller value at tick 0, then one wherever the gain changes, and the end of the clip.
 *
 * **A controller acts elsewhere than clip gain.** Channel volume and expression sit behind the inserts of a channel, as its fader does: a
 * compressor there still gets the uncut s and answers to it, where clip gain (renderGain) would have spared it. Use this for an instrument, a hardware
 * channel or a send that listens to MIDI, and clip gain where the mix has it.
 *
 * Value v of the highest value V (127; 16,383 with 14 bits): `squared` is gain = headroomDb + 40·log10(v / V) dB, 0 is silence. It is what
 * MIDI's makers recommend for controllers 7 and 11; a receiver may have its own curve. `decibel` is gain = headroomDb − rangeDb·(1 − v / V), for
 * receivers that are set up so. Highest value = 0 dB unless headroomDb says otherwise. With 7 bits `squared` steps are 0.14 dB near
 * the top, 0.27 dB at −12 dB, 1.4 dB at −40 dB. Gains nearer to value 0 than to 1 are silence: those below −96.2 dB with 7 bits, none with 14.
 *
 * With 14 bits the upper half comes first and the lower one next at the same tick, since a receiver sets the lower half to 0 when an upper one
 * comes (from memory); both are sent each time. A receiver that knows 7 bits alone reads a value up to one step too low.
 *
 * Ticks: position · ticksPerBeat / (microseconds of a beat · sample rate), to the nearest. At 480 ticks and 120 beats a minute a tick is 1.04 ms, so that a fade
 * of 3 ms is three ticks; 960 ticks at 240 beats a minute make it 0.26 ms. The tempo of the file must hold in the session as well, or times shift.
 *
 * How far the events are off, at any sample: by no more than half a step (stepDb / 2, half a value of the law) from a gain that the
 * clip has within half a tick of it (0 dB behind its end). Lost: the samples themselves (positions are ticks), regions with a band, kinds, labels.
 *
 * @param list - The regions of a clip; it is checked. For a send of another depth pass gainAtDepth's list. An empty clip: one value and the end at tick 0.
 * @param options - Controller, bits, law, channel, tempo, ticks, steps.
 * @returns Frozen values all the way down.
 * @throws RangeError or TypeError where the list breaks a rule of checkRegionList or an option is outside its range; RangeError where a
 *   gain is above headroomDb, or below headroomDb − rangeDb with `decibel`, or the clip is longer than 2^28 − 1 ticks (77 hours by default).
 *
 * Sources: "Standard MIDI Files 1.0", International MIDI Association, July 1988 (chunks, delta times, meta events FF 03, FF 51, FF 2F). Law: General MIDI
 * Level 1 Developer Guidelines (40·log V/127 for controllers 7 and 11) and General MIDI 2 Specification, both MIDI Manufacturers Association, as
 * quoted by others. Halves of a value: MIDI 1.0 Detailed Specification (from memory).
 *
 * @example
 * import { gainToMidi } from 'lenition/exchange';
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * const clip = createRegionList({ sampleRateHz: 48000, lengthSamples: 96000 });
 * const list = insertRegion(clip, { startSample: 24000, endSample: 36000, gainDb: -12 });
 * const { tracks } = gainToMidi(list);
 * tracks[0]?.flatMap((event) => (event.type === 'controller' ? [[event.deltaTime, event.value]] : []));
 * // => [[0, 127], [480, 64], [240, 127]]
 */
export function gainToMidi(list: RegionList, options: MidiGainOptions = {}): MidiGainFile {
  assertRegionList('gainToMidi', list);
  const settings = checkedOptions('gainToMidi', DEFAULT_MIDI_GAIN_OPTIONS, options);
  const law = midiLaw('gainToMidi', settings);
  const { ticksPerBeat, tempoBpm, stepDb } = settings;
  checkInteger('gainToMidi', 'ticksPerBeat', ticksPerBeat, 24, 32767);
  checkNumber('gainToMidi', 'tempoBpm', tempoBpm, 4, 1000);
  checkNumber('gainToMidi', 'stepDb', stepDb, 0.01, 24);
  checkGains(list, law);
  // Ticks are counted with the tempo that the file states, or they would drift from it.
  const microsecondsPerBeat = Math.round(60e6 / tempoBpm);
  const ticksPerSample = (ticksPerBeat * 1e6) / (microsecondsPerBeat * list.sampleRateHz);
  const endTick = Math.round(list.lengthSamples * ticksPerSample);
  if (endTick > MOST_TICKS)
    throw rangeError('gainToMidi', 'list.lengthSamples', `must be at most ${MOST_TICKS} ticks`, endTick);

  const track: MidiGainEvent[] = [];
  const add = (event: MidiGainEvent): void => {
    track.push(Object.freeze(event));
  };
  add({ deltaTime: 0, type: 'trackName', text: 'gain' });
  add({ deltaTime: 0, type: 'setTempo', microsecondsPerBeat });
  let last = 0;
  for (const { tick, value } of valueChanges(list, stepDb, ticksPerSample, law)) {
    const event = { type: 'controller' as const, channel: law.channel - 1 };
    const { controller } = law;
    if (law.bits === 7) add({ deltaTime: tick - last, ...event, controllerType: controller, value });
    else {
      add({ deltaTime: tick - last, ...event, controllerType: controller, value: value >> 7 });
      add({ deltaTime: 0, ...event, controllerType: controller + 32, value: value & 127 });
    }
    last = tick;
  }
  add({ deltaTime: endTick - last, type: 'endOfTrack' });
  const header = Object.freeze({ format: 0 as const, numTracks: 1 as const, ticksPerBeat });
  const tracks = [Object.freeze(track) as MidiGainEvent[]];
  return Object.freeze({ header, tracks: Object.freeze(tracks) as MidiGainEvent[][] });
}

function checkGains(list: RegionList, law: Required<MidiLawOptions>): void {
  const { headroomDb, rangeDb } = law;
  for (const { gainDb } of gainBreakpoints(list)) {
    if (gainDb > headroomDb)
      throw rangeError(
        'gainToMidi',
        'headroomDb',
        `must be at least ${gainDb}, a gain of the list`,
        headroomDb,
      );
    if (law.law === 'decibel' && gainDb < headroomDb - rangeDb)
      throw rangeError(
        'gainToMidi',
        'rangeDb',
        `must reach down to ${gainDb} dB, a gain of the list`,
        rangeDb,
      );
  }
}

/** The controller's values: one at tick 0, then only changes, one a tick at most. */
function valueChanges(
  list: RegionList,
  stepDb: number,
  ticksPerSample: number,
  law: Required<MidiLawOptions>,
): readonly { readonly tick: number; readonly value: number }[] {
  const changes: { readonly tick: number; readonly value: number }[] = [];
  for (const { atSample, gainDb } of gainSteps(list, stepDb)) {
    const tick = Math.round(atSample * ticksPerSample);
    const value = midiValue(gainDb, law);
    // Of several within one tick the last is what holds.
    if (changes.at(-1)?.tick === tick) changes.pop();
    if (changes.at(-1)?.value !== value) changes.push({ tick, value });
  }
  return changes;
}
