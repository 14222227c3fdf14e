import type { HandField } from './hand-edits.js';
import type { Region } from './region.js';

/** What is known of a region that may take on the edges of an old one: the find it is now, the old one, and what hands had changed of that. */
export interface CarriedEdges {
  readonly region: Region;
  readonly old: Region | null;
  readonly find: Region | null;
  readonly fields: readonly HandField[];
}

/** Where a region begins and ends, in samples, half-open. */
export interface RegionEdges {
  readonly start: number;
  readonly end: number;
}

/**
 * Edges of each region with those that hands had moved, where all of them fit together; the finds do. `reverted` has what was wanted of those that
 * had to go back, by place.
 */
export function settleEdges(
  places: readonly CarriedEdges[],
  length: number,
): { readonly edges: readonly RegionEdges[]; readonly reverted: ReadonlyMap<number, RegionEdges> } {
  const edges = places.map(wantedEdges);
  return { edges, reverted: revertCollisions(edges, places, length) };
}

/** Where a region would begin and end if nothing else were there. */
function wantedEdges({ region, old, find, fields }: CarriedEdges): RegionEdges {
  if (old === null || find === null || old.locked)
    return { start: region.startSample, end: region.endSample };
  return {
    start: movedEdge(fields.includes('startSample'), old, find, 'startSample', 'onsetSample'),
    end: movedEdge(fields.includes('endSample'), old, find, 'endSample', 'offsetSample'),
  };
}

/**
 * Puts moved edges back to those of their find until none reaches over a neighbour or an end of the clip: both of two that were moved into
 * one another, so that it makes no difference which comes first. Gives what was wanted of each that was put back, by its place.
 */
function revertCollisions(
  edges: RegionEdges[],
  places: readonly CarriedEdges[],
  length: number,
): ReadonlyMap<number, RegionEdges> {
  const reverted = new Map<number, RegionEdges>();
  const own = places.map(({ region }) => ({ start: region.startSample, end: region.endSample }));
  const revert = (i: number): void => {
    reverted.set(i, edges[i] as RegionEdges);
    edges[i] = own[i] as RegionEdges;
  };
  edges.forEach(({ start, end }, i) => {
    if (start < 0 || end > length || start >= end) revert(i);
  });
  // What gives room back may take it from one that had moved into it: each turn reverts at least one, and finds do not overlap.
  for (let before = -1; before < reverted.size; ) {
    before = reverted.size;
    for (let i = 1; i < edges.length; i++)
      if ((edges[i - 1] as RegionEdges).end > (edges[i] as RegionEdges).start) {
        // Finds do not overlap, so at least one of the two edges was moved outwards.
        if ((edges[i - 1] as RegionEdges).end > (own[i - 1] as RegionEdges).end) revert(i - 1);
        if ((edges[i] as RegionEdges).start < (own[i] as RegionEdges).start) revert(i);
      }
  }
  return reverted;
}

/** An edge at the same distance from the find's measured edge as it had from the old one. */
function movedEdge(
  wasMoved: boolean,
  old: Region,
  find: Region,
  edge: 'startSample' | 'endSample',
  measured: 'onsetSample' | 'offsetSample',
): number {
  if (!wasMoved) return find[edge];
  const [before, now] = [old[measured], find[measured]];
  return before === null || now === null ? old[edge] : now + (old[edge] - before);
}
