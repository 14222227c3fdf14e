import fc from 'fast-check';
import * as r from '../../../src/regions/index.js';
import { histories } from '../arbitraries/edits.js';
import { options, rates, whole, within } from '../arbitraries/numbers.js';
import { lists } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { fingerprint } from '../lib/fingerprint.js';
import { type Properties, property } from '../lib/property.js';

const wholeRates = fc.oneof(
  fc.constantFrom(8000, 44100, 48000, 192000),
  fc.integer({ min: 8000, max: 192000 }),
);
const timecodeRates = fc.constantFrom(...(Object.keys(r.TIMECODE_RATES) as r.TimecodeRate[]));
const aDay = 24 * 3600;

/** Edit history, seconds and timecode. */
export const HISTORY_AND_TIME: Properties = {
  startHistory: property(r.startHistory, fc.tuple(lists(), options({ maxEdits: whole(1, r.MOST_EDITS) })), {
    frozen: true,
  }),
  recordEdit: property(r.recordEdit, fc.tuple(histories, lists({}, true), fc.string()), {
    frozen: true,
    made: [0],
    check: (after, _, list) => must(after.present === list || after.past.length >= 0, 'holds the list'),
  }),
  undo: property(r.undo, fc.tuple(histories), {
    frozen: true,
    made: [0],
    check: (back, history) => {
      if (history.past.length > 0)
        must(
          fingerprint(r.redo(back).present) === fingerprint(history.present),
          'redo must bring back what undo took',
        );
    },
  }),
  redo: property(r.redo, fc.tuple(histories), { frozen: true, made: [0] }),
  lastEdit: property(r.lastEdit, fc.tuple(histories), { made: [0] }),
  secondsToSamples: property(r.secondsToSamples, fc.tuple(within(-1e9, 1e9), rates)),
  samplesToSeconds: property(
    r.samplesToSeconds,
    fc.tuple(whole(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER), rates),
    {
      check: (seconds, samples, rate) => {
        // A double of n seconds resolves n * 2^-53, which is half a sample only beyond 2^52 samples.
        if (Math.abs(samples) < 2 ** 50)
          must(r.secondsToSamples(seconds, rate) === samples, 'there and back', samples);
      },
    },
  ),
  samplesWithin: property(r.samplesWithin, fc.tuple(within(0, 1e9), rates)),
  framesToSamples: property(r.framesToSamples, fc.tuple(whole(-1e9, 1e9), wholeRates, timecodeRates)),
  samplesToTimecode: property(
    r.samplesToTimecode,
    fc
      .tuple(fc.nat(), wholeRates, timecodeRates)
      .map(([n, rate, name]) => [n % (aDay * rate), rate, name] as const),
    {
      check: (timecode, sample, rate, name) =>
        must(r.timecodeToSamples(timecode, rate, name) === sample, 'there and back', sample),
    },
  ),
  timecodeToSamples: property(
    r.timecodeToSamples,
    fc.tuple(fc.nat(), wholeRates, timecodeRates, fc.boolean()).map(([n, rate, name, whole]) => {
      const timecode = r.samplesToTimecode(n % (aDay * rate), rate, name);
      return [whole ? timecode : timecode.text, rate, name] as const;
    }),
  ),
  framesToTimecode: property(r.framesToTimecode, fc.tuple(fc.nat(23 * 3600 * 24), timecodeRates), {
    check: (text, frames, rate) => must(r.timecodeToFrames(text, rate) === frames, 'there and back', frames),
  }),
  timecodeToFrames: property(
    r.timecodeToFrames,
    fc
      .tuple(fc.nat(23 * 3600 * 24), timecodeRates)
      .map(([n, rate]) => [r.framesToTimecode(n, rate), rate] as const),
  ),
};
