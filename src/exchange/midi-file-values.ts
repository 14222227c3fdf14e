/** A controller event. */
export interface MidiController {
  /** Ticks since the event before. */
  readonly deltaTime: number;
  /** What it is. */
  readonly type: 'controller';
  /** MIDI channel as files count it, from 0. */
  readonly channel: number;
  /** Controller number. */
  readonly controllerType: number;
  /** Its 7 bits. */
  readonly value: number;
}

/** The name of a track. */
export interface MidiTrackName {
  /** Ticks since the event before. */
  readonly deltaTime: number;
  /** What it is. */
  readonly type: 'trackName';
  /** ASCII. */
  readonly text: string;
}

/** The tempo from here on. */
export interface MidiTempo {
  /** Ticks since the event before. */
  readonly deltaTime: number;
  /** What it is. */
  readonly type: 'setTempo';
  /** Length of a beat (a quarter note) in microseconds. */
  readonly microsecondsPerBeat: number;
}

/** The end of a track. */
export interface MidiEnd {
  /** Ticks since the event before. */
  readonly deltaTime: number;
  /** What it is. */
  readonly type: 'endOfTrack';
}

/** An event of the file that gainToMidi describes. */
export type MidiGainEvent = MidiController | MidiTrackName | MidiTempo | MidiEnd;

/**
 * A Standard MIDI File as plain values, in the shape that `writeMidi` of the package `midi-file` takes. Frozen; the arrays are not
 * called readonly only because that package does not either.
 */
export interface MidiGainFile {
  /** The content of the `MThd` chunk. */
  readonly header: {
    /** One track. */
    readonly format: 0;
    /** 1. */
    readonly numTracks: 1;
    /** Ticks of a beat (a quarter note). */
    readonly ticksPerBeat: number;
  };
  /** The content of the one `MTrk` chunk, in order of time. */
  readonly tracks: MidiGainEvent[][];
}

/** The longest time between events that a file can hold, in ticks: four groups of seven bits. */
export const MOST_TICKS = 0x0fffffff;
