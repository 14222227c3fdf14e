import type { Doubles } from '../signal/samples.js';
import type { ClassTrack } from './class-track.js';
import { FRAME_CLASSES } from './detection-scale.js';
import { gapFrames } from './event-measures.js';
import type { FrameTables } from './frame-tables.js';
import { type NoiseSpan, noiseProbability } from './noise-spans.js';
import { openingRelease } from './opening-release.js';
import { type BlockEdges, type NoiseKind, refineEdges } from './refine-edges.js';

/** Edges move outwards by at most this into silence and into voice, in blocks of 1 ms: a vowel must not be shaved. */
const SILENT_REACH_BLOCKS = 40;
const VOICED_REACH_BLOCKS = 6;
/** A release this much before its s, in blocks of 1 ms, is one; less is the rise of the s itself. */
const LEAST_OPENING_BLOCKS = 15;
/** Frames whose noise probability is at least this share of the greatest one are the core of a part. */
const CORE_SHARE = 0.8;
const CLASSES = FRAME_CLASSES.length;

/** Where an event begins and ends, in samples. */
export interface EventEdges {
  readonly onsetSample: number;
  readonly offsetSample: number;
}

/** Where edges may lie. */
export interface SampleBounds {
  readonly leastSample: number;
  readonly mostSample: number;
}

/**
 * Finds the edges of a part of a stretch in the fine envelope, within these bounds; undefined where nothing of it lies there.
 *
 * @param from the frame of the track that row 0 of the tables is
 */
export function eventEdges(
  { envelope, hopSamples, blockSamples }: Pick<ClassTrack, 'envelope' | 'hopSamples' | 'blockSamples'>,
  tables: FrameTables,
  from: number,
  part: NoiseSpan,
  kind: NoiseKind,
  { leastSample, mostSample }: SampleBounds,
): EventEdges | undefined {
  const blocksPerFrame = hopSamples / blockSamples;
  const reachOf = (edge: number, step: number): number => {
    const gap = gapFrames(tables, edge, step) - 1;
    const most = isVoicedBeside(tables, edge, step) ? VOICED_REACH_BLOCKS : SILENT_REACH_BLOCKS;
    return Math.min(most, Math.floor(0.5 * gap * blocksPerFrame));
  };
  const reach = { before: reachOf(part.start, -1), after: reachOf(part.end - 1, 1) };
  // Frames stand for half a hop to each side of their centre.
  const blockOf = (frame: number): number => (from + frame - 0.5) * blocksPerFrame;
  const first = Math.max(envelope.first, Math.floor(blockOf(part.start)) - SILENT_REACH_BLOCKS - 8);
  const end = Math.min(envelope.end, Math.ceil(blockOf(part.end)) + SILENT_REACH_BLOCKS + 8);
  if (end - first < 2) return undefined;
  const blocks = envelope.data.subarray(envelope.at(first), envelope.at(end));
  const refined = (span: NoiseSpan, as: NoiseKind): BlockEdges => {
    const core = coreOf(tables.track, span);
    const within = (edges: BlockEdges): BlockEdges => ({
      start: blockOf(edges.start) - first,
      end: blockOf(edges.end) - first,
    });
    return refineEdges(blocks, within(span), within(core), reach, as);
  };
  const edges = refined(part, kind);
  const release = kind === 'sibilant' ? openingRelease(tables.track, part) : undefined;
  const opening = release ? refined(release, 'burst').start : edges.start;
  const start = edges.start - opening >= LEAST_OPENING_BLOCKS ? opening : edges.start;
  const onsetSample = Math.max(leastSample, Math.round((first + start) * blockSamples));
  const offsetSample = Math.min(mostSample, Math.round((first + edges.end) * blockSamples));
  return offsetSample > onsetSample ? { onsetSample, offsetSample } : undefined;
}

/** The first to the last frame that are surely noise. */
function coreOf(track: Doubles, part: NoiseSpan): { start: number; end: number } {
  let most = 0;
  for (let t = part.start; t < part.end; t++) most = Math.max(most, noiseProbability(track, t * CLASSES));
  let { start, end } = part;
  while (noiseProbability(track, start * CLASSES) < CORE_SHARE * most) start++;
  while (noiseProbability(track, (end - 1) * CLASSES) < CORE_SHARE * most) end--;
  return { start, end };
}

/** Whether the two frames beside an edge are more likely voice than silence. */
function isVoicedBeside(tables: FrameTables, edge: number, step: number): boolean {
  let voiced = 0;
  let silent = 0;
  for (let d = 1; d <= 2; d++) {
    const t = edge + d * step;
    if (t < 0 || t >= tables.rowCount) continue;
    voiced += tables.track[t * CLASSES] as number;
    silent += tables.track[t * CLASSES + 1] as number;
  }
  return voiced > silent;
}
