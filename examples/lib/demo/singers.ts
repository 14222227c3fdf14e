import type { Glottis } from './glottis.js';

/** A singer and the part that they take. */
export interface Singer {
  readonly name: string;
  readonly role: 'lead' | 'harmony';
  readonly seed: number;
  /** Key note of the song for this singer, as a MIDI number (60 is middle C). */
  readonly keyNote: number;
  /** Steps of the scale above or below the tune. */
  readonly steps: number;
  /** Formants re a man's tract of 17 cm. */
  readonly tractScale: number;
  /** Peaks of s and its like re the table: small mouths hiss higher. */
  readonly hissScale: number;
  readonly glottis: Glottis;
  readonly vibratoHz: number;
  /** Swing of the vibrato to either side, in cents. */
  readonly vibratoCents: number;
  /** Least and most distance of a syllable from the beat, in seconds. */
  readonly raggedSeconds: readonly [number, number];
  /** Spread of consonant levels around those of the song, in dB to either side. */
  readonly unevenDb: number;
  /** Greatest sample of the take, in dBFS. */
  readonly peakDb: number;
}

/** Four invented singers: one leads, three sing the same words around her, a little apart in time. */
export const SINGERS: readonly Singer[] = [
  {
    name: 'wren-lead',
    role: 'lead',
    seed: 11,
    keyNote: 62,
    steps: 0,
    tractScale: 1.13,
    hissScale: 1.03,
    glottis: { openQuotient: 0.6, edgeHz: 1400, tiltHz: 14000, airiness: 0.06 },
    vibratoHz: 5.6,
    vibratoCents: 40,
    raggedSeconds: [0, 0],
    unevenDb: 0,
    peakDb: -6,
  },
  {
    name: 'odile-high',
    role: 'harmony',
    seed: 23,
    keyNote: 62,
    steps: 2,
    tractScale: 1.19,
    hissScale: 1.08,
    glottis: { openQuotient: 0.66, edgeHz: 1700, tiltHz: 9000, airiness: 0.09 },
    vibratoHz: 6,
    vibratoCents: 32,
    raggedSeconds: [0.01, 0.06],
    unevenDb: 3,
    peakDb: -9,
  },
  {
    name: 'piet-middle',
    role: 'harmony',
    seed: 37,
    keyNote: 62,
    steps: -2,
    tractScale: 1.02,
    hissScale: 0.94,
    glottis: { openQuotient: 0.56, edgeHz: 1100, tiltHz: 12000, airiness: 0.05 },
    vibratoHz: 5.3,
    vibratoCents: 38,
    raggedSeconds: [0.01, 0.05],
    unevenDb: 3,
    peakDb: -9,
  },
  {
    name: 'hale-low',
    role: 'harmony',
    seed: 41,
    keyNote: 50,
    steps: 0,
    tractScale: 0.96,
    hissScale: 0.88,
    glottis: { openQuotient: 0.52, edgeHz: 950, tiltHz: 12000, airiness: 0.05 },
    vibratoHz: 5.1,
    vibratoCents: 42,
    raggedSeconds: [0.015, 0.06],
    unevenDb: 3,
    peakDb: -8,
  },
];
