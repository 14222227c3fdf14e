import { alignEvents } from './align-events.js';
import { compareIds } from './event-group.js';
import { compareSpans, medianSpan, type Span, spanDistance } from './span.js';
import type { TakeId } from './take.js';

/** An event of a take on the common time line. */
export interface PlacedEvent extends Span {
  readonly takeId: TakeId;
}

/** Rounds of re-assignment; two or three settle it, and two assignments of equal cost must not swap for ever. */
const MOST_ROUNDS = 20;

/** How many clusters on each side may have to make room where one is taken out. */
const NEAR_CLUSTERS = 2;

/**
 * Parts events into groups of at most one event per take; see groupEvents for the rule. Neither the order of `events` nor that of the takes
 * matters.
 */
export function matchEvents<E extends PlacedEvent>(events: readonly E[], most: number): E[][] {
  const sorted = [...events].sort((a, b) => compareSpans(a, b) || compareIds(a.takeId, b.takeId));
  const groups: E[][] = [];
  // Distances are at least those of the middles, so a gap of more than `most` between middles is never bridged.
  for (let first = 0; first < sorted.length; ) {
    let past = first + 1;
    while (past < sorted.length && middleGap(sorted[past - 1] as E, sorted[past] as E) <= most) past++;
    groups.push(...matchNear(sorted.slice(first, past), most));
    first = past;
  }
  return groups;
}

function middleGap(earlier: Span, later: Span): number {
  return (later.startSample + later.endSample - (earlier.startSample + earlier.endSample)) / 2;
}

/** Events that belong together, in order of their takes' ids, and their median. */
interface Cluster<E> {
  readonly events: readonly E[];
  readonly span: Span;
  readonly takeIds: ReadonlySet<TakeId>;
}

function matchNear<E extends PlacedEvent>(sorted: readonly E[], most: number): readonly E[][] {
  const start = joinNearest(
    sorted.map((event) => clusterOf([event])),
    most,
  );
  return doWithFewer(settle(start, most), most).map(({ events }) => [...events]);
}

/** Takes out each cluster in turn, the smallest first, where those beside it can take in all of its events. */
function doWithFewer<E extends PlacedEvent>(
  start: readonly Cluster<E>[],
  most: number,
): readonly Cluster<E>[] {
  let clusters = start;
  const bySize = [...start].sort((a, b) => a.events.length - b.events.length || compareClusters(a, b));
  for (const spare of bySize) {
    const at = clusters.indexOf(spare);
    // Gone or changed already: an earlier step took it in.
    if (at < 0) continue;
    const near = clusters.slice(Math.max(0, at - NEAR_CLUSTERS), at + NEAR_CLUSTERS + 1);
    const others = near.filter((cluster) => cluster !== spare);
    if (others.length === 0) continue;
    const tried = settle(reassign(others, byTake(near), most), most);
    if (tried.length < near.length)
      clusters = [...clusters.filter((cluster) => !near.includes(cluster)), ...tried].sort(compareClusters);
  }
  return clusters;
}

function settle<E extends PlacedEvent>(start: readonly Cluster<E>[], most: number): readonly Cluster<E>[] {
  const takes = byTake(start);
  let clusters = start;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const next = joinNearest(reassign(clusters, takes, most), most);
    if (sameClusters(clusters, next)) break;
    clusters = next;
  }
  return clusters;
}

/** The events of each take, in order of time. */
function byTake<E extends PlacedEvent>(clusters: readonly Cluster<E>[]): ReadonlyMap<TakeId, readonly E[]> {
  const takes = new Map<TakeId, E[]>();
  for (const event of clusters.flatMap(({ events }) => events).sort(compareSpans)) {
    const own = takes.get(event.takeId);
    if (own === undefined) takes.set(event.takeId, [event]);
    else own.push(event);
  }
  return takes;
}

/** Every take's events aligned anew to the medians; what fits none stands alone. */
function reassign<E extends PlacedEvent>(
  clusters: readonly Cluster<E>[],
  takes: ReadonlyMap<TakeId, readonly E[]>,
  most: number,
): readonly Cluster<E>[] {
  const centres = clusters.map(({ span }) => span);
  const next: E[][] = centres.map(() => []);
  for (const events of takes.values())
    alignEvents(events, centres, most).forEach((centre, e) => {
      const event = events[e] as E;
      if (centre < 0) next.push([event]);
      else (next[centre] as E[]).push(event);
    });
  return next
    .filter((events) => events.length > 0)
    .map(clusterOf)
    .sort(compareClusters);
}

/** A cluster and the nearest later one that it could be joined with. */
interface Node<E> {
  readonly cluster: Cluster<E>;
  partner: Node<E> | null;
  distance: number;
}

/**
 * Joins the two nearest clusters that have no take in common, again and again, up to a distance of `most` between their medians. Each
 * cluster remembers its nearest, so that a join only costs a look at its neighbours.
 */
function joinNearest<E extends PlacedEvent>(
  start: readonly Cluster<E>[],
  most: number,
): readonly Cluster<E>[] {
  const nodes = [...start].sort(compareClusters).map(nodeOf);
  for (let n = 0; n < nodes.length; n++) seekPartner(nodes, n, most);
  for (;;) {
    let nearest: Node<E> | null = null;
    for (const node of nodes)
      if (node.partner !== null && (nearest === null || node.distance < nearest.distance)) nearest = node;
    if (nearest === null) return nodes.map(({ cluster }) => cluster);
    const partner = nearest.partner as Node<E>;
    nodes.splice(nodes.indexOf(partner), 1);
    nodes.splice(nodes.indexOf(nearest), 1);
    const joined = nodeOf(clusterOf([...nearest.cluster.events, ...partner.cluster.events]));
    const place = nodes.findIndex(({ cluster }) => compareClusters(joined.cluster, cluster) < 0);
    nodes.splice(place < 0 ? nodes.length : place, 0, joined);
    for (let n = 0; n < nodes.length; n++) {
      const node = nodes[n] as Node<E>;
      const isOrphan = node.partner === nearest || node.partner === partner;
      if (node === joined || isOrphan || mayJoin(node, joined, most)) seekPartner(nodes, n, most);
    }
  }
}

function nodeOf<E>(cluster: Cluster<E>): Node<E> {
  return { cluster, partner: null, distance: Number.POSITIVE_INFINITY };
}

/** True where a new cluster may be nearer to one than its partner. */
function mayJoin(node: Node<PlacedEvent>, joined: Node<PlacedEvent>, most: number): boolean {
  const distance = spanDistance(node.cluster.span, joined.cluster.span);
  return distance <= most && distance <= node.distance && !shareTake(node.cluster, joined.cluster);
}

/** The nearest of the later clusters; the earliest of equals. */
function seekPartner<E extends PlacedEvent>(nodes: readonly Node<E>[], at: number, most: number): void {
  const node = nodes[at] as Node<E>;
  node.partner = null;
  node.distance = Number.POSITIVE_INFINITY;
  for (let n = at + 1; n < nodes.length; n++) {
    const other = nodes[n] as Node<E>;
    if (middleGap(node.cluster.span, other.cluster.span) > most) break;
    const distance = spanDistance(node.cluster.span, other.cluster.span);
    if (distance > most || distance >= node.distance || shareTake(node.cluster, other.cluster)) continue;
    node.partner = other;
    node.distance = distance;
  }
}

function clusterOf<E extends PlacedEvent>(events: readonly E[]): Cluster<E> {
  const byId = [...events].sort((a, b) => compareIds(a.takeId, b.takeId));
  return { events: byId, span: medianSpan(byId), takeIds: new Set(byId.map(({ takeId }) => takeId)) };
}

function compareClusters(a: Cluster<PlacedEvent>, b: Cluster<PlacedEvent>): number {
  return (
    compareSpans(a.span, b.span) ||
    compareIds((a.events[0] as PlacedEvent).takeId, (b.events[0] as PlacedEvent).takeId)
  );
}

function shareTake(a: Cluster<PlacedEvent>, b: Cluster<PlacedEvent>): boolean {
  for (const id of a.takeIds) if (b.takeIds.has(id)) return true;
  return false;
}

function sameClusters<E>(a: readonly Cluster<E>[], b: readonly Cluster<E>[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ events }, g) => {
      const others = (b[g] as Cluster<E>).events;
      return events.length === others.length && events.every((event, e) => event === others[e]);
    })
  );
}
