/**
 * Regions and gain in open forms, out and in. What comes from outside never throws: a reader returns the value or a list of problems.
 *
 * @packageDocumentation
 */
export type { AudioParamEvent, AudioParamSchedule } from './audio-param-event.js';
export { breakpointGainAt } from './breakpoint-gain-at.js';
export { CHAIN_FORMAT, CHAIN_FORMAT_VERSION } from './chain-format.js';
export { chainFromJson } from './chain-from-json.js';
export { chainToJson } from './chain-to-json.js';
export type {
  CueChunk,
  CueLength,
  CuePoint,
  CuePointChunks,
  CueText,
  CueTextList,
} from './cue-point-chunks.js';
export { type GainFromCsvOptions, gainFromCsv } from './gain-from-csv.js';
export { type GainFromMidiOptions, gainFromMidi } from './gain-from-midi.js';
export {
  type AudioParamOptions,
  DEFAULT_AUDIO_PARAM_OPTIONS,
  gainToAudioParamEvents,
} from './gain-to-audio-param-events.js';
export { DEFAULT_GAIN_CSV_OPTIONS, type GainCsvOptions, gainToCsv } from './gain-to-csv.js';
export { DEFAULT_MIDI_GAIN_OPTIONS, gainToMidi, type MidiGainOptions } from './gain-to-midi.js';
export { HISTORY_FORMAT, HISTORY_FORMAT_VERSION } from './history-format.js';
export { historyFromJson } from './history-from-json.js';
export { historyToJson } from './history-to-json.js';
export type {
  MidiController,
  MidiEnd,
  MidiGainEvent,
  MidiGainFile,
  MidiTempo,
  MidiTrackName,
} from './midi-file-values.js';
export { DEFAULT_MIDI_LAW, type MidiLawOptions } from './midi-gain-law.js';
export { REGION_FORMAT, REGION_FORMAT_VERSION } from './region-format.js';
export { regionsFromCuePoints } from './regions-from-cue-points.js';
export { regionsFromJson } from './regions-from-json.js';
export { regionsFromTable } from './regions-from-table.js';
export { regionsFromWebVtt } from './regions-from-webvtt.js';
export { regionsToCuePoints } from './regions-to-cue-points.js';
export { regionsToJson } from './regions-to-json.js';
export { regionsToTable } from './regions-to-table.js';
export {
  type CuePayload,
  DEFAULT_WEBVTT_OPTIONS,
  regionsToWebVtt,
  type WebVttOptions,
} from './regions-to-webvtt.js';
export type { Problem, Result } from './result.js';
export type { StraightLaw } from './straight-points.js';
export { REGION_TABLE_FORMAT, REGION_TABLE_FORMAT_VERSION } from './table-format.js';
export { REGION_WEBVTT_FORMAT, REGION_WEBVTT_FORMAT_VERSION } from './webvtt-format.js';
