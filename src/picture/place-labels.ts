/** A label that wants a place: centred on `centre` if it can. */
export interface LabelRequest {
  readonly centre: number;
  readonly width: number;
  /** Higher goes first when there is not room for all. */
  readonly priority: number;
}

/** Where a label went. */
export interface PlacedLabel {
  /** Index of the request. */
  readonly index: number;
  readonly lane: number;
  readonly left: number;
  readonly right: number;
}

/** Result of `placeLabels`. */
export interface LabelPlacement {
  /** Ordered by request index. */
  readonly placed: readonly PlacedLabel[];
  /** Lanes that hold at least one label. */
  readonly laneCount: number;
  /** Requests that found no room. */
  readonly droppedCount: number;
}

/**
 * Places labels in lanes so that no two in a lane come nearer than `gap`, and none leaves [left, right].
 *
 * Greedy by priority, then by position: each takes the first lane where it fits centred, else the first where it fits
 * within `shift` of centre; else it is dropped and counted. Same input, same answer.
 *
 * @param requests any number; positions and widths in pixels.
 * @param limits `left`, `right`, `lanes` (most), `gap` between labels, `shift` (most movement from centred; moving in from the
 * ends of the range is free).
 */
export function placeLabels(
  requests: readonly LabelRequest[],
  limits: {
    readonly left: number;
    readonly right: number;
    readonly lanes: number;
    readonly gap: number;
    readonly shift: number;
  },
): LabelPlacement {
  const { left, right, lanes, gap, shift } = limits;
  const order = requests.map((_, index) => index);
  order.sort((i, j) => {
    const a = requests[i] as LabelRequest;
    const b = requests[j] as LabelRequest;
    return b.priority - a.priority || a.centre - b.centre || i - j;
  });
  const taken: PlacedLabel[][] = Array.from({ length: lanes }, () => []);
  const placed: PlacedLabel[] = [];
  for (const index of order) {
    const { centre, width } = requests[index] as LabelRequest;
    if (width > right - left) continue;
    const wanted = Math.min(right - width, Math.max(left, centre - width / 2));
    const spot = findSpot(taken, wanted, width, left, right, gap, shift);
    if (spot === undefined) continue;
    const label = { index, lane: spot.lane, left: spot.at, right: spot.at + width };
    placed.push(label);
    (taken[spot.lane] as PlacedLabel[]).push(label);
  }
  placed.sort((a, b) => a.index - b.index);
  const laneCount = placed.reduce((most, label) => Math.max(most, label.lane + 1), 0);
  return { placed, laneCount, droppedCount: requests.length - placed.length };
}

function findSpot(
  taken: readonly (readonly PlacedLabel[])[],
  wanted: number,
  width: number,
  left: number,
  right: number,
  gap: number,
  shift: number,
): { lane: number; at: number } | undefined {
  for (const most of [0, shift]) {
    for (let lane = 0; lane < taken.length; lane++) {
      const others = taken[lane] as readonly PlacedLabel[];
      // Only the wanted place and the places that just touch a neighbour can be nearest.
      const places = [wanted, ...others.flatMap((o) => [o.right + gap, o.left - gap - width])]
        .filter((at) => Math.abs(at - wanted) <= most && at >= left && at + width <= right)
        .filter((at) => others.every((o) => at >= o.right + gap || at + width <= o.left - gap))
        .sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted) || a - b);
      const at = places[0];
      if (at !== undefined) return { lane, at };
    }
  }
  return undefined;
}
