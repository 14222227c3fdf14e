import type { Doubles } from '../signal/samples.js';

/** Kinds whose edges are refined. */
export type NoiseKind = 'sibilant' | 'fricative' | 'burst' | 'breath';

/** How the envelope is smoothed before its edges are read, by kind: half-width of a triangle in blocks of 1 ms. */
const SMOOTHING_BLOCKS: Readonly<Record<NoiseKind, number>> = Object.freeze({
  sibilant: 3,
  fricative: 4,
  burst: 2,
  breath: 6,
});

/** Edges in blocks of the envelope, fractions allowed. */
export interface BlockEdges {
  readonly start: number;
  readonly end: number;
}

/** How far the edges may move outwards from where the frames put them, in blocks. */
export interface EdgeReach {
  readonly before: number;
  readonly after: number;
}

/** Share of the core, at each end, that does not speak for the level inside: it may reach into a vowel. */
const CORE_ENDS = 0.2;
/** The level beside a noise is read from this far to this far outside its coarse edge, in blocks. */
const OUTSIDE_FROM = 6;
const OUTSIDE_TO = 26;
/** Where the sound beside has more than this share of the noise's amplitude, there is no edge to read. */
const MOST_OUTSIDE_SHARE = 0.6;
/** A noise that falls below this share of its amplitude before the next sound has ended there: 10 dB. */
const MOST_GAP_SHARE = 0.316;
/** Outside the core, dips longer than this end a noise, in blocks. */
const DIP_BLOCKS = 8;

/**
 * Finds where the noise crosses half its amplitude between inside and outside: amplitude
 * (√inside + √outside)/2, with inside the mean power of the core's blocks within 10 dB of its peak and outside the
 * least smoothed power 6 to 26 ms beyond the coarse edge. Crossings are interpolated in amplitude. Where the sound
 * beside is nearly as strong (a bright vowel), the coarse edge stays; but if the noise falls by 10 dB before that sound, it ends there.
 *
 * @param envelope mean-square power per block of 1 ms
 * @param coarse edges known from the frames, in blocks: the noise lies inside them
 * @param core the part that the frames are sure of, in blocks, inside `coarse`
 */
export function refineEdges(
  envelope: Doubles,
  coarse: BlockEdges,
  core: BlockEdges,
  reach: EdgeReach,
  kind: NoiseKind,
): BlockEdges {
  const count = envelope.length;
  const ends = CORE_ENDS * (core.end - core.start);
  const first = clampBlock(Math.floor(core.start + ends), count);
  const last = Math.max(first, clampBlock(Math.ceil(core.end - ends) - 1, count));
  const power = smoothed(envelope, SMOOTHING_BLOCKS[kind]);
  const amplitude = (block: number): number => Math.sqrt(power[block] as number);
  let peak = first;
  for (let b = first; b <= last; b++) if ((power[b] as number) > (power[peak] as number)) peak = b;
  if (!((power[peak] as number) > 0)) return coarse;
  const inside = Math.sqrt(meanWithin10Db(power, first, last, power[peak] as number));
  const middle = Math.round((first + last) / 2);
  // A block's power stands at its middle: half a block between positions and blocks.
  const start = edge(-1, middle, coarse.start - 0.5, reach.before);
  const end = edge(1, middle, coarse.end - 0.5, reach.after);
  return start < end ? { start: start + 0.5, end: end + 0.5 } : coarse;

  function edge(step: number, from: number, coarseAt: number, outwards: number): number {
    const outside = leastBeyond(amplitude, coarseAt, step, count);
    if (outside > MOST_OUTSIDE_SHARE * inside) return endBeforeGap(step, from, coarseAt) ?? coarseAt;
    const bound = clampBlock(coarseAt + step * outwards, count);
    const sure = step < 0 ? core.start : core.end - 1;
    return crossing(amplitude, { from, sure, bound, step }, (inside + outside) / 2) ?? coarseAt;
  }

  /** A noise whose frames run on into the sound beside it ends where it dies away before that sound, if it does. */
  function endBeforeGap(step: number, from: number, coarseAt: number): number | undefined {
    const edge = clampBlock(coarseAt, count);
    let gap = edge;
    for (let b = edge; step * (b - from) > 0; b -= step) if (amplitude(b) < amplitude(gap)) gap = b;
    if (amplitude(gap) > MOST_GAP_SHARE * inside) return undefined;
    return crossing(amplitude, { from, sure: gap, bound: gap, step }, (inside + amplitude(gap)) / 2);
  }
}

function clampBlock(position: number, count: number): number {
  return Math.max(0, Math.min(count - 1, Math.round(position)));
}

function meanWithin10Db(power: readonly number[], first: number, last: number, peakPower: number): number {
  let sum = 0;
  let count = 0;
  for (let b = first; b <= last; b++)
    if ((power[b] as number) > 0.1 * peakPower) {
      sum += power[b] as number;
      count++;
    }
  return sum / count;
}

function leastBeyond(
  amplitude: (block: number) => number,
  edge: number,
  step: number,
  count: number,
): number {
  let least = Number.POSITIVE_INFINITY;
  for (let d = OUTSIDE_FROM; d <= OUTSIDE_TO; d++) {
    const b = Math.round(edge) + step * d;
    // Beyond the clip there is silence.
    least = Math.min(least, b >= 0 && b < count ? amplitude(b) : 0);
  }
  return least;
}

interface Walk {
  readonly from: number;
  /** Up to here the frames are sure of the noise, so no dip ends it. */
  readonly sure: number;
  readonly bound: number;
  readonly step: number;
}

/** Walks outwards to the last crossing of a level before the noise stays below it; undefined where it never reaches it. */
function crossing(
  amplitude: (block: number) => number,
  { from, sure, bound, step }: Walk,
  level: number,
): number | undefined {
  let lastAbove: number | undefined;
  for (let b = from; step * (bound - b) >= 0; b += step) {
    if (amplitude(b) >= level) lastAbove = b;
    else if (lastAbove !== undefined && step * (b - sure) > 0 && Math.abs(b - lastAbove) > DIP_BLOCKS) break;
  }
  if (lastAbove === undefined) return undefined;
  const outer = lastAbove + step;
  if (step * (bound - outer) < 0) return lastAbove + 0.5 * step;
  const inner = amplitude(lastAbove);
  return lastAbove + (step * (inner - level)) / Math.max(1e-30, inner - amplitude(outer));
}

/** Means under a triangle of 2·half − 1 blocks; at the ends, of the blocks that are there. A list: see `EventPowers`. */
function smoothed(envelope: Doubles, half: number): readonly number[] {
  const out: number[] = [];
  for (let b = 0; b < envelope.length; b++) {
    const end = Math.min(envelope.length, b + half);
    let sum = 0;
    let weight = 0;
    for (let i = Math.max(0, b - half + 1); i < end; i++) {
      const w = half - Math.abs(i - b);
      sum += w * (envelope[i] as number);
      weight += w;
    }
    out.push(sum / weight);
  }
  return out;
}
