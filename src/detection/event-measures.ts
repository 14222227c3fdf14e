import type { Doubles } from '../signal/samples.js';
import {
  BAND_COUNT,
  BAND_EDGES_HZ,
  FIRST_CEILING_INPUT,
  FIRST_HIGH_BAND,
  FRAME_CLASSES,
  HOP_SECONDS,
  INPUT_COUNT,
  LOW_BAND_COUNT,
  ROW_BANDS,
} from './detection-scale.js';
import { CONTEXT_MEASURE_COUNT, pushContext, pushGroupLevels } from './event-context.js';
import { bandPower, DB_PER_NEPER, type FrameTables, LEAST_POWER } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';
import { noiseProbability } from './noise-spans.js';
import { releaseOfBurst } from './release-of-burst.js';

/** Frames to each side of an event that its measures look at. */
export const EVENT_MARGIN_FRAMES = 20;

/** Number of measures of an event. */
export const EVENT_MEASURE_COUNT: number = 40 + CONTEXT_MEASURE_COUNT;

const CLASSES = FRAME_CLASSES.length;
const FIRST_NOISE = FRAME_CLASSES.indexOf('sibilant');
const SURE_KINDS = [FIRST_NOISE, FRAME_CLASSES.indexOf('burst')] as const;
/** Frames with more than this share of the power of the loudest one, about it, are the event's core: within 8 dB. */
const CORE_SHARE = 10 ** -0.8;
/** Frames before and after an event in which a closure is looked for: 53 ms. */
const CLOSURE_FRAMES = 10;
/** Middles of the bands by ratio. */
const BAND_CENTRES_HZ = BAND_EDGES_HZ.slice(1).map((edge, band) =>
  Math.sqrt(edge * (BAND_EDGES_HZ[band] as number)),
);
/** Frames of the voice after a release that are compared with it. */
const VOICE_FRAMES = 8;

/**
 * Power per frame of the bands that count as high, of all of them and of the low ones. Lists, as the measures are: engines take memory
 * for a typed array from outside their own heap, and for ten of them an event that was half of its time.
 */
export interface EventPowers {
  readonly high: readonly number[];
  readonly whole: readonly number[];
  readonly low: readonly number[];
}

/** Powers of a stretch: the same for all events in it. Never 0, so that every level exists. */
export function eventPowers(tables: Pick<FrameTables, 'bands' | 'rowCount'>): EventPowers {
  const high: number[] = [];
  const whole: number[] = [];
  const low: number[] = [];
  for (let t = 0; t < tables.rowCount; t++) {
    high.push(bandPower(tables, t, FIRST_HIGH_BAND, BAND_COUNT));
    whole.push(bandPower(tables, t, 0, BAND_COUNT));
    low.push(bandPower(tables, t, 0, LOW_BAND_COUNT));
  }
  return { high, whole, low };
}

/**
 * What tells an s from a t looks at the whole event, not at a frame: how long it lasts, how flat it stays below its
 * own peak, how abruptly it starts, whether a closure stands before it, and its spectrum over the core. All levels
 * are relative to the event's own peak or to this voice, so gain does not enter; the scales keep each measure near 1.
 */
export function eventMeasures(
  tables: FrameTables,
  span: NoiseSpan,
  powers: EventPowers = eventPowers(tables),
): readonly number[] {
  const { high } = powers;
  const first = span.start;
  const last = span.end - 1;
  let peakFrame = first;
  for (let t = first; t <= last; t++) if ((high[t] as number) > (high[peakFrame] as number)) peakFrame = t;
  const leastPower = CORE_SHARE * (high[peakFrame] as number);
  let coreFirst = peakFrame;
  let coreLast = peakFrame;
  while (coreFirst > first && (high[coreFirst - 1] as number) > leastPower) coreFirst--;
  while (coreLast < last && (high[coreLast + 1] as number) > leastPower) coreLast++;
  const shape = { first, last, peakFrame, coreFirst, coreLast };
  const frames = last - first + 1;

  const out: number[] = [];
  pushKinds(out, tables, shape);
  out.push(
    Math.log2((frames * HOP_SECONDS) / 0.08),
    Math.log2(((coreLast - coreFirst + 1) * HOP_SECONDS) / 0.06),
  );
  pushFlatness(out, high, shape);
  pushSlopes(out, high, shape);
  pushClosures(out, powers, shape);
  pushSpectrum(out, tables, shape);
  out.push((peakFrame - first) / frames);
  pushRelease(out, tables, span, powers, peakFrame);
  out.push(
    gapFrames(tables, first, -1) / EVENT_MARGIN_FRAMES,
    gapFrames(tables, last, 1) / EVENT_MARGIN_FRAMES,
  );
  pushCeilings(out, tables, shape);
  pushContext(out, tables, span);
  return out;
}

/** First and last frame of an event and of its core, and its loudest. */
interface EventShape {
  readonly first: number;
  readonly last: number;
  readonly peakFrame: number;
  readonly coreFirst: number;
  readonly coreLast: number;
}

/** Level of one power over another in dB. */
const over = (power: number, other: number): number => DB_PER_NEPER * Math.log(power / other);

/** How sure the frames are: the mean of each class, that of the noises over the core, and the greatest of s and burst. */
function pushKinds(out: number[], { track }: FrameTables, shape: EventShape): void {
  const { first, last, coreFirst, coreLast } = shape;
  for (let kind = 0; kind < CLASSES; kind++) out.push(3 * meanShare(track, kind, first, last));
  for (let kind = FIRST_NOISE; kind < CLASSES; kind++)
    out.push(3 * meanShare(track, kind, coreFirst, coreLast));
  for (const kind of SURE_KINDS) {
    let most = 0;
    for (let t = first; t <= last; t++) most = Math.max(most, track[t * CLASSES + kind] as number);
    out.push(2 * most);
  }
}

function meanShare(track: Doubles, kind: number, first: number, last: number): number {
  let sum = 0;
  for (let t = first; t <= last; t++) sum += track[t * CLASSES + kind] as number;
  return sum / (last - first + 1);
}

/** How far the core lies below its peak, and how much it moves from frame to frame. */
function pushFlatness(
  out: number[],
  high: readonly number[],
  { peakFrame, coreFirst, coreLast }: EventShape,
): void {
  const peak = high[peakFrame] as number;
  let below = 0;
  let unrest = 0;
  let before = 0;
  for (let t = coreFirst; t <= coreLast; t++) {
    const level = over(high[t] as number, peak);
    below -= level;
    if (t > coreFirst) unrest += Math.abs(level - before);
    before = level;
  }
  const steps = coreLast - coreFirst;
  out.push(below / (steps + 1) / 3, steps > 0 ? unrest / steps / 2 : 0);
}

/** The steepest rise before the peak and fall after it, over two frames. */
function pushSlopes(out: number[], high: readonly number[], { first, last, peakFrame }: EventShape): void {
  let rise = 1;
  for (let t = Math.max(1, first - 3); t <= peakFrame; t++)
    rise = Math.max(rise, (high[t] as number) / (high[Math.max(0, t - 2)] as number));
  let fall = 1;
  for (let t = peakFrame; t <= Math.min(high.length - 3, last + 3); t++)
    fall = Math.max(fall, (high[t] as number) / (high[t + 2] as number));
  out.push(Math.min(30, over(rise, 1)) / 10, Math.min(30, over(fall, 1)) / 10);
}

/** How deep the high and all bands fall within 53 ms before an event and the high ones after it, and the loudest of the low bands there. */
function pushClosures(
  out: number[],
  { high, whole, low }: EventPowers,
  { first, last, peakFrame }: EventShape,
): void {
  const from = Math.max(0, first - CLOSURE_FRAMES);
  const to = Math.min(high.length - 1, last + CLOSURE_FRAMES);
  const peak = high[peakFrame] as number;
  out.push(
    Math.min(50, over(peak, leastOf(high, from, first))) / 15,
    within(over(whole[peakFrame] as number, leastOf(whole, from, first)), -20, 50) / 15,
    Math.min(50, over(peak, leastOf(high, last, to))) / 15,
    within(over(greatestOf(low, from, first), peak), -40, 40) / 15,
    within(over(greatestOf(low, last, to), peak), -40, 40) / 15,
  );
}

function leastOf(powers: readonly number[], first: number, last: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let t = first; t <= last; t++) least = Math.min(least, powers[t] as number);
  return least;
}

/** The greatest of some frames, of those that are there; 0 where none is. */
function greatestOf(powers: readonly number[], first: number, last: number): number {
  let most = 0;
  const end = Math.min(powers.length - 1, last);
  for (let t = Math.max(0, first); t <= end; t++) most = Math.max(most, powers[t] as number);
  return most;
}

/** How far the core lies below the loudest noise near by, in each of the groups of bands. */
function pushCeilings(out: number[], { inputs }: FrameTables, { coreFirst, coreLast }: EventShape): void {
  for (let input = FIRST_CEILING_INPUT; input < INPUT_COUNT; input++) {
    let sum = 0;
    for (let t = coreFirst; t <= coreLast; t++) sum += inputs[t * INPUT_COUNT + input] as number;
    out.push(sum / (coreLast - coreFirst + 1));
  }
}

/**
 * What tells a release from the first pulses of a vowel: how long the noise lasts before the voice begins, how far it
 * stands above the hiss of that voice, and how little voice there is at its peak.
 */
function pushRelease(
  out: number[],
  tables: FrameTables,
  span: NoiseSpan,
  { high, low }: EventPowers,
  peakFrame: number,
): void {
  const { start, end } = releaseOfBurst(tables, span);
  const noise = greatestOf(high, start, end - 1);
  const voiceHiss = greatestOf(high, end, end + VOICE_FRAMES - 1);
  const voice = greatestOf(low, peakFrame, peakFrame + 2 * VOICE_FRAMES - 1);
  out.push(
    Math.log2(((end - start) * HOP_SECONDS) / 0.04),
    within(over(noise, voiceHiss), -30, 30) / 10,
    within(over(low[peakFrame] as number, voice), -40, 0) / 10,
  );
}

/** Spectrum over the core: six groups of bands relative to this voice, and the centroid above 1 kHz in kHz about 4.5. */
function pushSpectrum(out: number[], tables: FrameTables, { coreFirst, coreLast }: EventShape): void {
  pushGroupLevels(out, tables, coreFirst, coreLast + 1);
  const { bands } = tables;
  let weighted = 0;
  let total = 0;
  for (let t = coreFirst; t <= coreLast; t++)
    for (let band = LOW_BAND_COUNT; band < BAND_COUNT; band++) {
      const power = LEAST_POWER + (bands[t * ROW_BANDS + band] as number);
      weighted += power * (BAND_CENTRES_HZ[band] as number);
      total += power;
    }
  out.push((weighted / total - 4500) / 1000);
}

/** Frames from an edge to the next noise on that side, at most EVENT_MARGIN_FRAMES. */
export function gapFrames(tables: FrameTables, edge: number, step: number): number {
  for (let d = 1; d < EVENT_MARGIN_FRAMES; d++) {
    const t = edge + d * step;
    if (t >= 0 && t < tables.rowCount && noiseProbability(tables.track, t * CLASSES) >= 0.5) return d;
  }
  return EVENT_MARGIN_FRAMES;
}

function within(value: number, least: number, most: number): number {
  return Math.max(least, Math.min(most, value));
}
