import type { RegionKind, RegionReason } from '../regions/region.js';
import type { Doubles } from '../signal/samples.js';
import type { ClassTrack } from './class-track.js';
import { ownEventModel } from './consonant-model.js';
import type { DetectionSettings } from './detection-options.js';
import { BAND_COUNT, FRAME_CLASSES, HOP_SECONDS } from './detection-scale.js';
import { createEventClassifier, EVENT_CLASSES } from './event-classifier.js';
import { type EventEdges, eventEdges } from './event-edges.js';
import { EVENT_MARGIN_FRAMES, type EventPowers, eventMeasures, eventPowers } from './event-measures.js';
import { isFarBelowVoice } from './far-below-voice.js';
import { type FrameTables, spanPower } from './frame-tables.js';
import { isBetweenRests, REST_REACH_FRAMES } from './is-between-rests.js';
import { kindOf } from './kind-of.js';
import { type NoiseSpan, noiseProbability, splitByKind } from './noise-spans.js';
import type { NoiseKind } from './refine-edges.js';
import { releaseOfBurst } from './release-of-burst.js';
import { splitAtVoice } from './split-at-voice.js';
import { standsAlone } from './stands-alone.js';
import { withTopBand } from './with-top-band.js';
import { isWithinNoiseFloor } from './within-noise-floor.js';

/** A consonant or breath that was found. */
export interface FoundEvent extends EventEdges {
  readonly kind: RegionKind & NoiseKind;
  readonly confidence: number;
  readonly reason: RegionReason;
}

/** A stretch is cut here, so that a stream needs bounded memory: 750 frames are 4 s. */
const MOST_SPAN_FRAMES = 750;
/** What is called a sibilant and stands alone in a pause is longer. With 0.07 to 0.09 the same becomes a burst on voices held out. */
const LONGEST_CLICK_SECONDS = 0.07;
/** What is called a fricative and lies between two rests is a breath from this length on: the f that leans on a t alone is shorter. */
const LEAST_CAUGHT_SECONDS = 0.06;
/** Frames beside a stretch that its measures read: the margin, and one for the smoothing of kinds. */
const MARGIN = EVENT_MARGIN_FRAMES + 1;
/** Frames beside a stretch whose bands are read: as far as rests are looked for, from edges that moved outwards by 40 ms. */
const BANDS_MARGIN = REST_REACH_FRAMES + 8;
const CLASSES = FRAME_CLASSES.length;

/** Finds stretches of noise in a class track as it grows, decides each as a whole and refines its edges. */
export function createEventFinder(
  settings: DetectionSettings,
  source: ClassTrack,
): { advance(lengthSamples: number, ended: boolean): readonly FoundEvent[] } {
  const { track } = source;
  // The package's own network for events knows what its own network for frames finds, and nothing of another's.
  const unset = settings.classifier === undefined ? ownEventModel() : null;
  const eventModel = settings.eventModel === undefined ? unset : settings.eventModel;
  const classifyEvent = eventModel ? createEventClassifier(eventModel) : undefined;
  const { leaveProbability, enterProbability } = settings;
  const leastPartFrames = Math.max(1, Math.round(settings.leastPartSeconds / HOP_SECONDS));
  const pending: { start: number; end: number }[] = [];
  let frame = 0;
  let runStart = -1;
  let entered = false;
  let lastOffset = 0;

  return { advance };

  function advance(lengthSamples: number, ended: boolean): readonly FoundEvent[] {
    scan();
    if (ended && runStart >= 0) {
      close(runStart, frame);
      runStart = -1;
    }
    const found: FoundEvent[] = [];
    while (pending.length > 0) {
      const span = pending[0] as { start: number; end: number };
      if (!ended && (track.end < span.end + MARGIN || source.bands.end < span.end + BANDS_MARGIN)) break;
      pending.shift();
      decide(span, lengthSamples, found);
    }
    const oldest = pending[0]?.start ?? (runStart >= 0 ? runStart : frame);
    source.dropBefore(oldest - MARGIN, oldest - BANDS_MARGIN);
    return found;
  }

  /** Finds where stretches begin and end in the frames that are new. */
  function scan(): void {
    const { data, end } = track;
    let start = runStart;
    for (let t = frame, at = track.at(frame); t < end; t++, at += CLASSES) {
      const probability = noiseProbability(data, at);
      if (probability < leaveProbability) {
        if (start < 0) continue;
        close(start, t);
        start = -1;
      } else {
        if (start < 0) start = t;
        if (probability >= enterProbability) entered = true;
        if (t + 1 - start < MOST_SPAN_FRAMES) continue;
        close(start, t + 1);
        start = -1;
      }
    }
    runStart = start;
    frame = end;
  }

  function close(start: number, end: number): void {
    if (entered) pending.push({ start, end });
    entered = false;
  }

  function decide(
    span: { readonly start: number; readonly end: number },
    lengthSamples: number,
    found: FoundEvent[],
  ): void {
    const from = Math.max(0, span.start - MARGIN);
    const to = Math.min(track.end, span.end + MARGIN);
    const tables: FrameTables = {
      rowCount: to - from,
      bands: source.bands.data.subarray(source.bands.at(from), source.bands.at(to)),
      inputs: source.inputs.data.subarray(source.inputs.at(from), source.inputs.at(to)),
      track: track.data.subarray(track.at(from), track.at(to)),
    };
    const runs = splitByKind(
      tables.track,
      tables.rowCount,
      span.start - from,
      span.end - from,
      leastPartFrames,
    );
    if (runs.length === 0) return;
    const powers = classifyEvent ? eventPowers(tables) : undefined;
    for (const run of runs)
      for (const part of splitAtVoice(tables, run)) {
        const judged = judge(tables, part, powers);
        if (judged.kind !== 'breath' && (isFarBelowVoice(tables, part) || isWithinNoiseFloor(tables, part)))
          continue;
        // What may as well be an s is as long as one: only a release proper ends where the voice begins.
        const { burst = 0, sibilant = 0 } = judged.reason.numbers;
        const shape = judged.kind === 'burst' && burst <= sibilant ? 'sibilant' : judged.kind;
        const heard = shape === 'burst' ? releaseOfBurst(tables, part) : part;
        const bounds = { leastSample: lastOffset, mostSample: lengthSamples };
        const edges = eventEdges(source, tables, from, heard, shape, bounds);
        if (edges === undefined) continue;
        lastOffset = edges.offsetSample;
        const kind = kindInPlace(tables, part, judged.kind, edges);
        const { confidence, reason } = judged;
        const { onsetSample, offsetSample } = edges;
        found.push({ kind, confidence, onsetSample, offsetSample, reason });
      }
  }

  function judge(
    tables: FrameTables,
    part: NoiseSpan,
    powers: EventPowers | undefined,
  ): Pick<FoundEvent, 'kind' | 'confidence' | 'reason'> {
    const told = classifyEvent
      ? classifyEvent(eventMeasures(tables, part, powers))
      : meanShares(tables.track, part);
    // The package's own networks read nothing above 7.6 kHz; what another's read is not known.
    const shares = eventModel && eventModel === unset ? withTopBand(told, tables, part) : told;
    const { kind, confidence } = kindOf(shares, part.end - part.start);
    const bandwidth = bandwidthFactor(tables, part, settings.sampleRateHz);
    return { kind, confidence: confidence * bandwidth, reason: reasonOf(shares, bandwidth) };
  }

  /**
   * An s leans on a voice or is longer: what is short and alone in a pause is a release or a click. An f leans on a voice: what lies
   * between two rests is a breath.
   */
  function kindInPlace(
    tables: FrameTables,
    part: NoiseSpan,
    kind: NoiseKind,
    { onsetSample, offsetSample }: EventEdges,
  ): NoiseKind {
    const seconds = (offsetSample - onsetSample) / settings.sampleRateHz;
    if (kind === 'sibilant' && seconds <= LONGEST_CLICK_SECONDS && standsAlone(tables, part)) return 'burst';
    const span = { start: onsetSample / source.hopSamples, end: offsetSample / source.hopSamples };
    const isBreath =
      kind === 'fricative' && seconds >= LEAST_CAUGHT_SECONDS && isBetweenRests(source.bands, span);
    return isBreath ? 'breath' : kind;
  }
}

/** What a region says of how it was found: the shares of EVENT_CLASSES. Frozen, so that regions take it as it is. */
function reasonOf(shares: Doubles, bandwidth: number): RegionReason {
  const [none, sibilant, fricative, burst, breath] = shares as unknown as readonly [
    number,
    number,
    number,
    number,
    number,
  ];
  const numbers = Object.freeze({ bandwidth, none, sibilant, fricative, burst, breath });
  return Object.freeze({ rule: 'detected', numbers });
}

/** Without an event model: the mean probability of each kind over the part. */
function meanShares(track: Doubles, part: NoiseSpan): Doubles {
  const shares = new Float64Array(EVENT_CLASSES.length);
  for (let t = part.start; t < part.end; t++) {
    shares[0] = (shares[0] as number) + 1 - noiseProbability(track, t * CLASSES);
    for (let k = 1; k < shares.length; k++)
      shares[k] = (shares[k] as number) + (track[t * CLASSES + k + 1] as number);
  }
  return shares.map((sum) => sum / (part.end - part.start));
}

/** Band of FRAME tables from which on 4 kHz is passed, and from which on 1 kHz is. */
const FIRST_BAND_OVER_4K = 11;
const FIRST_BAND_OVER_1K = 4;

/** Below this sample rate much of an s lies beyond the recording's upper end. */
const LEAST_GOOD_RATE_HZ = 16000;
/** Energy above 4 kHz this far below that of 1–4 kHz counts as none, in dB. */
const NARROW_DB = -30;

/** Confidence is lowered where little above 4 kHz can be heard: a telephone band carries little of s and f. */
function bandwidthFactor(tables: FrameTables, part: NoiseSpan, sampleRateHz: number): number {
  if (sampleRateHz < LEAST_GOOD_RATE_HZ) return 0.9;
  const above = spanPower(tables, part, FIRST_BAND_OVER_4K, BAND_COUNT);
  const middle = spanPower(tables, part, FIRST_BAND_OVER_1K, FIRST_BAND_OVER_4K);
  return above < middle * 10 ** (NARROW_DB / 10) ? 0.95 : 1;
}
