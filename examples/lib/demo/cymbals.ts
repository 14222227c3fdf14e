import { decibelsFromPower, powerFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import { type CymbalSound, createCymbal, cymbalPower, type Stroke, strikeCymbal } from './cymbal-sound.js';
import { strikeKick, strikeSnare } from './drum-bleed.js';
import { mixInto } from './fade.js';
import { noiseSpectrum } from './noise-spectrum.js';
import { createRandom, type Random } from './random.js';
import { shapedNoise } from './shaped-noise.js';

/** One stroke of the truth. Half-open; in samples. */
export interface CymbalEntry {
  /** Where the stroke's sound begins. */
  readonly startSample: number;
  /**
   * Where its own expected power above 4 kHz has fallen by 30 dB from its greatest, or lies 6 dB under what else sounds
   * (a ring beneath it, the room), or where the next stroke begins.
   */
  readonly endSample: number;
  readonly label: Stroke;
  /** Greatest expected power above 4 kHz, in dB re that of a stroke at 0 dB. */
  readonly levelDb: number;
  /** True: the ring beneath it is stronger than the stroke itself, so that the level rises by less than 3 dB. */
  readonly masked: boolean;
}

/** A synthesised recording of hi-hat and crash with its truth. */
export interface CymbalTrack {
  readonly sampleRateHz: number;
  readonly samples: Samples;
  readonly truth: readonly CymbalEntry[];
  /** Where drums leak in, in samples; `alone`: no stroke of a cymbal within 60 ms. */
  readonly drums: readonly {
    readonly sample: number;
    readonly name: 'kick' | 'snare';
    readonly alone: boolean;
  }[];
}

interface PlannedStroke {
  readonly stroke: Stroke;
  readonly sound: CymbalSound;
  readonly atSeconds: number;
  readonly gainDb: number;
  /** A hand or the pedal stops the ring here. */
  chokeSeconds: number;
}

const STEP_SECONDS = 0.001;
const CHOKE_SECONDS = 0.012;
const BASE_GAIN = 0.06;

/**
 * Plays a pattern of about 12 s: hi-hats with accents (eighths, sixteenths, shuffled or off the beat), open ones that the
 * next closed one chokes, crashes that ring under what follows, a roll, a bar in which only the drums play, and bass drum and
 * snare that leak in. Seed decides the tempo (70 to 170 beats a minute), pattern, three timbres and every level; the same
 * seed gives the same samples.
 */
export function makeCymbalTrack(options: {
  readonly seed: number;
  readonly sampleRateHz?: number;
}): CymbalTrack {
  const { seed, sampleRateHz = 48_000 } = options;
  const random = createRandom(seed);
  const { strokes, kicks, snares, endSeconds } = planPattern(random);
  const samples = new Float32Array(Math.ceil(endSeconds * sampleRateHz));
  const roomDb = random.uniform(-62, -48);
  const room = shapedNoise(samples.length, sampleRateHz, noiseSpectrum('room'), createRandom(seed + 1));
  mixInto(samples, room, 0, BASE_GAIN * 10 ** (roomDb / 20));
  const position = (seconds: number): number => Math.round(seconds * sampleRateHz);
  for (const one of strokes) {
    const sound = strikeCymbal(one.sound, sampleRateHz, random);
    const choke = (one.chokeSeconds - one.atSeconds) * sampleRateHz;
    for (let i = Math.max(0, Math.ceil(choke)); i < sound.length; i++)
      sound[i] = sound[i]! * Math.exp(-(i - choke) / (CHOKE_SECONDS * sampleRateHz));
    mixInto(samples, sound, position(one.atSeconds), BASE_GAIN * 10 ** (one.gainDb / 20));
  }
  const kickGain = BASE_GAIN * random.uniform(0.5, 2);
  const snareGain = BASE_GAIN * random.uniform(0.3, 1);
  for (const at of kicks) mixInto(samples, strikeKick(sampleRateHz, random), position(at), kickGain);
  for (const at of snares) mixInto(samples, strikeSnare(sampleRateHz, random), position(at), snareGain);
  const alone = (at: number): boolean => strokes.every((one) => Math.abs(one.atSeconds - at) > 0.06);
  const drums = [
    ...kicks.map((at) => ({ sample: position(at), name: 'kick' as const, alone: alone(at) })),
    ...snares.map((at) => ({ sample: position(at), name: 'snare' as const, alone: alone(at) })),
  ].sort((a, b) => a.sample - b.sample);
  return { sampleRateHz, samples, truth: truthOf(strokes, endSeconds, roomDb, sampleRateHz), drums };
}

function planPattern(random: Random): {
  strokes: PlannedStroke[];
  kicks: number[];
  snares: number[];
  endSeconds: number;
} {
  const beat = 60 / random.uniform(70, 170);
  const style = Math.floor(random.uniform(0, 4));
  const [closed, open, crash] = [
    createCymbal('closed', random),
    createCymbal('open', random),
    createCymbal('crash', random),
  ];
  // Places of hi-hat strokes within a beat, by style: eighths, sixteenths, shuffle, off the beat.
  const places = [[0, 0.5], [0, 0.25, 0.5, 0.75], [0, 0.66], [0.5]][style]!;
  // Sixteenths faster than about 11 a second are played by two hands; ours has one.
  const grid = style === 1 && beat < 0.36 ? [0, 0.5] : places;
  const strokes: PlannedStroke[] = [];
  const [kicks, snares]: [number[], number[]] = [[], []];
  const lead = 0.5;
  const bars = Math.max(4, Math.round(11 / (4 * beat)));
  const drumBar = Math.floor(bars / 2);
  const add = (stroke: Stroke, sound: CymbalSound, at: number, gainDb: number): void => {
    const atSeconds = at + 0.003 * random.normal();
    strokes.push({ stroke, sound, atSeconds, gainDb, chokeSeconds: Number.POSITIVE_INFINITY });
  };
  for (let bar = 0; bar < bars; bar++) {
    const crashes = bar === 0 || random.uniform(0, 1) < 0.3;
    for (let quarter = 0; quarter < 4; quarter++) {
      const start = lead + (4 * bar + quarter) * beat;
      (quarter % 2 === 0 ? kicks : snares).push(start + 0.004 * random.normal());
      if (random.uniform(0, 1) < 0.25) kicks.push(start + 0.5 * beat + 0.004 * random.normal());
      if (bar === drumBar) continue;
      if (bar === bars - 1 && quarter === 3) {
        const spacing = 1 / random.uniform(9, 14);
        const count = Math.max(5, Math.floor(beat / spacing));
        for (let k = 0; k < count; k++)
          add('closed', closed, start + k * spacing, -8 + (8 * k) / count + random.uniform(-1.5, 1.5));
        continue;
      }
      if (quarter === 0 && crashes) add('crash', crash, start, random.uniform(-2, 6));
      for (const place of grid) {
        // The hand is at the crash.
        if (place === 0 && quarter === 0 && crashes) continue;
        const accentDb = place === 0 ? random.uniform(-2, 2) : random.uniform(-11, -3);
        const opens = quarter === 3 && place >= 0.5 && random.uniform(0, 1) < 0.5;
        add(
          opens ? 'open' : 'closed',
          opens ? open : closed,
          start + place * beat,
          opens ? random.uniform(-3, 3) : accentDb,
        );
      }
    }
  }
  strokes.sort((a, b) => a.atSeconds - b.atSeconds);
  strokes.forEach((one, i) => {
    if (one.stroke !== 'open') return;
    const next = strokes.slice(i + 1).find(({ stroke }) => stroke !== 'crash');
    if (next !== undefined) one.chokeSeconds = next.atSeconds;
  });
  return { strokes, kicks, snares, endSeconds: lead + 4 * bars * beat + 1.5 };
}

function truthOf(
  strokes: readonly PlannedStroke[],
  endSeconds: number,
  roomDb: number,
  sampleRateHz: number,
): readonly CymbalEntry[] {
  const [fromHz, toHz] = [Math.min(4000, 0.3 * sampleRateHz), Math.min(16_000, 0.47 * sampleRateHz)];
  const count = Math.ceil(endSeconds / STEP_SECONDS);
  // Of pink noise between 60 Hz and 20 kHz about this share lies between the two.
  const room = powerFromDecibels(roomDb) * (Math.log(toHz / fromHz) / Math.log(20_000 / 60));
  const under = new Float64Array(count).fill(room);
  return strokes.map((one, i) => {
    const first = Math.min(count - 1, Math.ceil(one.atSeconds / STEP_SECONDS));
    const nextSeconds = strokes[i + 1]?.atSeconds ?? endSeconds;
    const ringBefore = under[first]!;
    const gain = powerFromDecibels(one.gainDb);
    let [crest, most, endsAt] = [0, 0, Math.min(nextSeconds, endSeconds)];
    let ended = false;
    for (let k = first; k < count; k++) {
      const t = k * STEP_SECONDS - one.atSeconds;
      if (t > one.sound.durationSeconds) break;
      const choked = Math.max(0, k * STEP_SECONDS - one.chokeSeconds);
      const power = gain * cymbalPower(one.sound, t, fromHz, toHz) * Math.exp((-2 * choked) / CHOKE_SECONDS);
      crest = Math.max(crest, power);
      const over = power < crest * 1e-3 || power < 0.25 * under[k]!;
      if (over && t > 0.01 && !ended) {
        ended = true;
        endsAt = Math.min(endsAt, k * STEP_SECONDS);
      }
      under[k] = under[k]! + power;
      most = Math.max(most, under[k]!);
    }
    return {
      startSample: Math.round(one.atSeconds * sampleRateHz),
      endSample: Math.round(endsAt * sampleRateHz),
      label: one.stroke,
      levelDb: decibelsFromPower(crest),
      masked: most < 2 * ringBefore,
    };
  });
}
