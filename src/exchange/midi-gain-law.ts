import { LEAST_GAIN_DB, MOST_GAIN_DB } from '../regions/region.js';
import { checkNumber, rangeError } from '../signal/check.js';
import { withDefaults } from '../signal/with-defaults.js';

/** What a controller value means as a gain; the writer and the reader of a file must agree on it. */
export interface MidiLawOptions {
  /**
   * Controller number: 7 is channel volume, 11 expression. Both have the same law and multiply; 11 leaves the volume to the mix.
   */
  readonly controller?: 7 | 11;
  /** 7: one event a value, 0 to 127. 14: two, first the upper 7 bits, then the lower ones on controller + 32; 0 to 16,383. */
  readonly bits?: 7 | 14;
  /** `squared`: 40·log10 of the value's share of the highest one. `decibel`: straight in decibels from the highest value down. */
  readonly law?: 'squared' | 'decibel';
  /** Gain of the highest value, in dB, 0 to MOST_GAIN_DB: room for boosts. Above 0, a gain of 0 dB is a lower value. */
  readonly headroomDb?: number;
  /** For `decibel` alone: how far value 0 lies below the highest one, in dB, 1 to 144. Value 0 is that gain and no silence. */
  readonly rangeDb?: number;
  /** MIDI channel, 1 to 16. */
  readonly channel?: number;
}

/** Defaults of MidiLawOptions. */
export const DEFAULT_MIDI_LAW: Readonly<Required<MidiLawOptions>> = Object.freeze({
  controller: 7,
  bits: 7,
  law: 'squared',
  headroomDb: 0,
  rangeDb: 120,
  channel: 1,
});

/** The law that is among these options, which have been looked through, with its defaults. */
export function midiLaw(functionName: string, options: MidiLawOptions): Required<MidiLawOptions> {
  const { controller, bits, law, headroomDb, rangeDb, channel } = withDefaults(DEFAULT_MIDI_LAW, options);
  if (controller !== 7 && controller !== 11)
    throw rangeError(functionName, 'controller', 'must be 7 (channel volume) or 11 (expression)', controller);
  if (bits !== 7 && bits !== 14) throw rangeError(functionName, 'bits', 'must be 7 or 14', bits);
  if (law !== 'squared' && law !== 'decibel')
    throw rangeError(functionName, 'law', 'must be squared or decibel', law);
  checkNumber(functionName, 'headroomDb', headroomDb, 0, MOST_GAIN_DB);
  checkNumber(functionName, 'rangeDb', rangeDb, 1, MOST_GAIN_DB - LEAST_GAIN_DB);
  if (!(Number.isInteger(channel) && channel >= 1 && channel <= 16))
    throw rangeError(functionName, 'channel', 'must be a whole number from 1 to 16', channel);
  return { controller, bits, law, headroomDb, rangeDb, channel };
}

/** The highest controller value. */
function highest(bits: 7 | 14): number {
  return 2 ** bits - 1;
}

/** The controller value for a gain: the nearest one, halves up. */
export function midiValue(gainDb: number, law: Required<MidiLawOptions>): number {
  const { bits, headroomDb, rangeDb } = law;
  const below = gainDb - headroomDb;
  return Math.round(highest(bits) * (law.law === 'squared' ? 10 ** (below / 40) : 1 + below / rangeDb));
}

/** The gain of a controller value, in dB; silence is the finite LEAST_GAIN_DB. */
export function midiGainDb(value: number, law: Required<MidiLawOptions>): number {
  const { bits, headroomDb, rangeDb } = law;
  const share = value / highest(bits);
  // log10(0) is −Infinity, which the maximum turns into the finite mute.
  const below = law.law === 'squared' ? 40 * Math.log10(share) : (share - 1) * rangeDb;
  return Math.max(headroomDb + below, LEAST_GAIN_DB);
}
