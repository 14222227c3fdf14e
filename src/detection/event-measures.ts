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
} from './detection-scale.js';
import { CONTEXT_MEASURE_COUNT, eventContext, groupLevels } from './event-context.js';
import { bandLevels, type FrameTables, spanPower } from './frame-tables.js';
import type { NoiseSpan } from './noise-spans.js';
import { noiseProbability } from './noise-spans.js';
import { releaseOfBurst } from './release-of-burst.js';

/** Frames to each side of an event that its measures look at. */
export const EVENT_MARGIN_FRAMES = 20;

/** Number of measures of an event. */
export const EVENT_MEASURE_COUNT: number = 40 + CONTEXT_MEASURE_COUNT;

const CLASSES = FRAME_CLASSES.length;
/** Frames within this many dB of the loudest one, about it, are the event's core. */
const CORE_DB = 8;
/** Frames of the voice after a release that are compared with it. */
const VOICE_FRAMES = 8;

/** Levels in dB per frame of the bands that count as high, of all of them and of the low ones. */
export interface EventLevels {
  readonly high: Doubles;
  readonly whole: Doubles;
  readonly low: Doubles;
}

/** Levels of a stretch: the same for all events in it. */
export function eventLevels(tables: FrameTables): EventLevels {
  return {
    high: bandLevels(tables, FIRST_HIGH_BAND, BAND_COUNT),
    whole: bandLevels(tables, 0, BAND_COUNT),
    low: bandLevels(tables, 0, LOW_BAND_COUNT),
  };
}

/**
 * What tells an s from a t looks at the whole event, not at a frame: how long it lasts, how flat it stays below its
 * own peak, how abruptly it starts, whether a closure stands before it, and its spectrum over the core. All levels
 * are relative to the event's own peak or to this voice, so gain does not enter; the scales keep each measure near 1.
 */
export function eventMeasures(
  tables: FrameTables,
  span: NoiseSpan,
  { high, whole, low }: EventLevels = eventLevels(tables),
): Doubles {
  const { rowCount, track } = tables;
  const first = span.start;
  const last = span.end - 1;
  const level = (of: Doubles, t: number): number => of[Math.max(0, Math.min(rowCount - 1, t))] as number;

  let peakFrame = first;
  for (let t = first; t <= last; t++) if (level(high, t) > level(high, peakFrame)) peakFrame = t;
  const peak = level(high, peakFrame);
  let coreFirst = peakFrame;
  let coreLast = peakFrame;
  while (coreFirst > first && level(high, coreFirst - 1) > peak - CORE_DB) coreFirst--;
  while (coreLast < last && level(high, coreLast + 1) > peak - CORE_DB) coreLast++;
  const frames = last - first + 1;
  const coreFrames = coreLast - coreFirst + 1;

  const out: number[] = [];
  const mean = (kind: number, from: number, to: number): number => {
    let sum = 0;
    for (let t = from; t <= to; t++) sum += track[t * CLASSES + kind] as number;
    return sum / (to - from + 1);
  };
  const greatest = (kind: number): number => {
    let most = 0;
    for (let t = first; t <= last; t++) most = Math.max(most, track[t * CLASSES + kind] as number);
    return most;
  };
  for (let kind = 0; kind < CLASSES; kind++) out.push(3 * mean(kind, first, last));
  for (let kind = 2; kind < CLASSES; kind++) out.push(3 * mean(kind, coreFirst, coreLast));
  out.push(2 * greatest(2), 2 * greatest(4));
  out.push(Math.log2((frames * HOP_SECONDS) / 0.08), Math.log2((coreFrames * HOP_SECONDS) / 0.06));

  let below = 0;
  let unrest = 0;
  for (let t = coreFirst; t <= coreLast; t++) {
    below += peak - level(high, t);
    if (t > coreFirst) unrest += Math.abs(level(high, t) - level(high, t - 1));
  }
  out.push(below / coreFrames / 3, coreFrames > 1 ? unrest / (coreFrames - 1) / 2 : 0);

  let rise = 0;
  for (let t = Math.max(1, first - 3); t <= peakFrame; t++)
    rise = Math.max(rise, level(high, t) - level(high, t - 2));
  let fall = 0;
  for (let t = peakFrame; t <= Math.min(rowCount - 3, last + 3); t++)
    fall = Math.max(fall, level(high, t) - level(high, t + 2));
  out.push(Math.min(30, rise) / 10, Math.min(30, fall) / 10);

  let highBefore = Number.POSITIVE_INFINITY;
  let wholeBefore = Number.POSITIVE_INFINITY;
  let lowBefore = Number.NEGATIVE_INFINITY;
  for (let t = Math.max(0, first - 10); t <= first; t++) {
    highBefore = Math.min(highBefore, level(high, t));
    wholeBefore = Math.min(wholeBefore, level(whole, t));
    lowBefore = Math.max(lowBefore, level(low, t));
  }
  let highAfter = Number.POSITIVE_INFINITY;
  let lowAfter = Number.NEGATIVE_INFINITY;
  for (let t = last; t <= Math.min(rowCount - 1, last + 10); t++) {
    highAfter = Math.min(highAfter, level(high, t));
    lowAfter = Math.max(lowAfter, level(low, t));
  }
  out.push(
    Math.min(50, peak - highBefore) / 15,
    within(level(whole, peakFrame) - wholeBefore, -20, 50) / 15,
    Math.min(50, peak - highAfter) / 15,
    within(lowBefore - peak, -40, 40) / 15,
    within(lowAfter - peak, -40, 40) / 15,
  );
  pushShape(out, tables, coreFirst, coreLast);
  out.push((peakFrame - first) / frames);
  pushRelease(out, tables, span, { high, low, peakFrame });
  out.push(
    gapFrames(tables, first, -1) / EVENT_MARGIN_FRAMES,
    gapFrames(tables, last, 1) / EVENT_MARGIN_FRAMES,
  );
  pushCeilings(out, tables, coreFirst, coreLast);
  out.push(...eventContext(tables, span));
  return new Float64Array(out);
}

/** How far the core lies below the loudest noise near by, in each of the groups of bands. */
function pushCeilings(out: number[], { inputs }: FrameTables, coreFirst: number, coreLast: number): void {
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
  { high, low, peakFrame }: { readonly high: Doubles; readonly low: Doubles; readonly peakFrame: number },
): void {
  const release = releaseOfBurst(tables, span);
  const most = (of: Doubles, from: number, to: number): number => {
    let level = Number.NEGATIVE_INFINITY;
    for (let t = Math.max(0, from); t < Math.min(tables.rowCount, to); t++)
      level = Math.max(level, of[t] as number);
    return level;
  };
  const noise = most(high, release.start, release.end);
  const voiceHiss = most(high, release.end, release.end + VOICE_FRAMES);
  const voice = most(low, peakFrame, peakFrame + 2 * VOICE_FRAMES);
  out.push(
    Math.log2(((release.end - release.start) * HOP_SECONDS) / 0.04),
    within(noise - voiceHiss, -30, 30) / 10,
    within((low[peakFrame] as number) - voice, -40, 0) / 10,
  );
}

/** Spectrum over the core: six groups of bands relative to this voice, and the centroid above 1 kHz in kHz about 4.5. */
function pushShape(out: number[], tables: FrameTables, coreFirst: number, coreLast: number): void {
  out.push(...groupLevels(tables, coreFirst, coreLast + 1));
  let weighted = 0;
  let total = 0;
  for (let band = LOW_BAND_COUNT; band < BAND_COUNT; band++) {
    const centre = Math.sqrt((BAND_EDGES_HZ[band] as number) * (BAND_EDGES_HZ[band + 1] as number));
    const power = spanPower(tables, { start: coreFirst, end: coreLast + 1 }, band, band + 1);
    weighted += power * centre;
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
