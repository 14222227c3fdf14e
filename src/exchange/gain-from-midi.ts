import type { GainBreakpoint } from '../gain/gain-breakpoints.js';
import type { ClipOptions } from '../regions/create-region-list.js';
import { describe } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import { MOST_TICKS } from './midi-file-values.js';
import { DEFAULT_MIDI_LAW, type MidiLawOptions, midiGainDb, midiLaw } from './midi-gain-law.js';
import type { NoteProblem } from './parse-json.js';
import { fieldsOf, isWhole, readPlainData } from './read-plain-data.js';
import { checkClip } from './region-from-times.js';
import type { Result } from './result.js';

/** Settings of gainFromMidi: the clip that the gain is for, and what the controller means. */
export interface GainFromMidiOptions extends MidiLawOptions, ClipOptions {}

/**
 * The gain that a Standard MIDI File's controller events describe, as breakpoints: what `parseMidi` of the package `midi-file` gives, whoever wrote
 * the file. Never throws for what is in `parsed`; reports every problem, up to 100. Play the points with breakpointGainAt.
 *
 * All tracks are read as one, on one channel and controller; everything else in the file is passed over. A value holds until the next one, so
 * every change is a step of two points at one sample; tempo changes are followed, and without a tempo it is 120 beats a minute. Before the
 * first value the gain is 0 dB. Events at one tick count in the order of the file, the last of them holds. Positions are rounded to the nearest
 * sample; what would fall on the clip's end or later is passed over. With 14 bits an upper half sets the lower one to 0.
 *
 * Problems: no header or tracks; format 2, whose tracks are no common time; a time base of frames (SMPTE) instead of beats; times or values outside
 * of what a file can hold.
 *
 * @param parsed - An object with `header` and `tracks`.
 * @param options - Rate in Hz and length in samples of the clip; controller, bits, law, headroom, range and channel as when
 *   the file was written: it does not carry them.
 * @returns Frozen points in time order from sample 0 to the clip's length, or the problems with their paths.
 * @throws RangeError or TypeError for an option outside its range.
 *
 * Source: see gainToMidi.
 *
 * @example
 * import { gainFromMidi } from 'lenition/exchange';
 * const event = { type: 'controller', channel: 0, controllerType: 7 };
 * const parsed = {
 *   header: { format: 0, numTracks: 1, ticksPerBeat: 480 },
 *   tracks: [[{ ...event, deltaTime: 0, value: 127 }, { ...event, deltaTime: 480, value: 0 }]],
 * };
 * const result = gainFromMidi(parsed, { sampleRateHz: 48000, lengthSamples: 96000 });
 * result.ok ? result.value.map(({ sample, gainDb }) => [sample, gainDb]) : result.problems;
 * // => [[0, 0], [24000, 0], [24000, -120], [96000, -120]]
 */
export function gainFromMidi(
  parsed: unknown,
  options: GainFromMidiOptions,
): Result<readonly GainBreakpoint[]> {
  const settings = checkedOptions('gainFromMidi', DEFAULT_MIDI_LAW, options, [
    'sampleRateHz',
    'lengthSamples',
  ]);
  const { sampleRateHz, lengthSamples } = settings;
  const law = midiLaw('gainFromMidi', settings);
  checkClip('gainFromMidi', options);
  return readPlainData((note) => {
    const file = readFile(parsed, law, note);
    return file && toPoints(file, { sampleRateHz, lengthSamples }, law);
  });
}

interface TimedEvent {
  readonly tick: number;
  /** 0: a tempo, in microseconds a beat; else the controller. */
  readonly controller: number;
  readonly value: number;
}

interface TimedFile {
  readonly ticksPerBeat: number;
  readonly events: readonly TimedEvent[];
}

function readFile(parsed: unknown, law: Required<MidiLawOptions>, note: NoteProblem): TimedFile | undefined {
  const { header, tracks } = fieldsOf(parsed);
  const { format, ticksPerBeat } = fieldsOf(header);
  if (format !== 0 && format !== 1) note('$.header.format', 'must be 0 or 1', describe(format));
  if (!isWhole(ticksPerBeat, 1, 32767))
    note('$.header.ticksPerBeat', 'must be a whole number within [1, 32767]', describe(ticksPerBeat));
  if (!Array.isArray(tracks) || tracks.length > 65535) {
    note('$.tracks', 'must be an array of at most 65535', describe(tracks));
    return undefined;
  }
  const events: TimedEvent[] = [];
  for (let t = 0; t < tracks.length; t++) {
    const track: unknown = tracks[t];
    if (Array.isArray(track)) readTrack(track, `$.tracks[${t}]`, law, events, note);
    else note(`$.tracks[${t}]`, 'must be an array', describe(track));
  }
  // A stable sort: at one tick the order of the file stands.
  events.sort((a, b) => a.tick - b.tick);
  return { ticksPerBeat: ticksPerBeat as number, events };
}

function readTrack(
  track: readonly unknown[],
  path: string,
  law: Required<MidiLawOptions>,
  events: TimedEvent[],
  note: NoteProblem,
): void {
  let tick = 0;
  for (let e = 0; e < track.length; e++) {
    const { deltaTime, type, channel, controllerType, value, microsecondsPerBeat } = fieldsOf(track[e]);
    if (!isWhole(deltaTime, 0, MOST_TICKS)) {
      const rule = `must be a whole number within [0, ${MOST_TICKS}]`;
      note(`${path}[${e}].deltaTime`, rule, describe(deltaTime));
      continue;
    }
    tick += deltaTime;
    if (type === 'setTempo') {
      if (isWhole(microsecondsPerBeat, 1, 0xffffff))
        events.push({ tick, controller: 0, value: microsecondsPerBeat });
      else {
        const rule = 'must be a whole number within [1, 16777215]';
        note(`${path}[${e}].microsecondsPerBeat`, rule, describe(microsecondsPerBeat));
      }
    } else if (type === 'controller' && channel === law.channel - 1) {
      const lower = law.bits === 14 && controllerType === law.controller + 32;
      if (controllerType !== law.controller && !lower) continue;
      if (isWhole(value, 0, 127)) events.push({ tick, controller: controllerType as number, value });
      else note(`${path}[${e}].value`, 'must be a whole number within [0, 127]', describe(value));
    }
  }
}

function toPoints(
  file: TimedFile,
  clip: ClipOptions,
  law: Required<MidiLawOptions>,
): readonly GainBreakpoint[] {
  const steps: { sample: number; gainDb: number }[] = [{ sample: 0, gainDb: 0 }];
  // Time of the last change of tempo, and the tempo since; without one a beat has half a second.
  let since = { tick: 0, seconds: 0, microseconds: 500_000 };
  let upper = 0;
  let lower = 0;
  for (const { tick, controller, value } of file.events) {
    const beats = (tick - since.tick) / file.ticksPerBeat;
    const seconds = since.seconds + (beats * since.microseconds) / 1e6;
    if (controller === 0) {
      since = { tick, seconds, microseconds: value };
      continue;
    }
    if (controller === law.controller) [upper, lower] = [value, 0];
    else lower = value;
    const sample = Math.round(seconds * clip.sampleRateHz);
    // Not `break`: nothing later can count, but this keeps the loop plain.
    if (sample >= clip.lengthSamples) continue;
    if (steps.at(-1)?.sample === sample) steps.pop();
    steps.push({ sample, gainDb: midiGainDb(law.bits === 7 ? upper : upper * 128 + lower, law) });
  }
  return pointsOfSteps(steps, clip.lengthSamples);
}

function pointsOfSteps(
  steps: readonly { readonly sample: number; readonly gainDb: number }[],
  lengthSamples: number,
): readonly GainBreakpoint[] {
  const points: GainBreakpoint[] = [];
  const add = (sample: number, gainDb: number): void => {
    points.push(Object.freeze({ sample, gainDb, shape: 'linear' }));
  };
  let held: number | undefined;
  for (const { sample, gainDb } of steps) {
    if (gainDb === held) continue;
    if (held !== undefined) add(sample, held);
    add(sample, gainDb);
    held = gainDb;
  }
  if (lengthSamples > 0) add(lengthSamples, held ?? 0);
  return Object.freeze(points);
}
