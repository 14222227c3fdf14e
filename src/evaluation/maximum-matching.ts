import { checkArray, checkInteger } from '../signal/check.js';

/** More than any list of events holds; a table of as many numbers takes some 80 MB. */
const MOST_NODES = 10_000_000;

/**
 * Largest possible one-to-one matching of a bipartite graph, by augmenting paths: for each left node in turn, a
 * breadth-first search for a path that alternates between free and matched edges and ends at a free right node.
 * A matching without such a path is a largest one (C. Berge, Two theorems in graph theory, PNAS 43 (1957), from memory).
 *
 * `neighbours[left]` lists the right nodes that left node may pair with, 0 to `rightCount` − 1. Earlier left nodes and
 * earlier neighbours are tried first, so the result is the same every time. Time at most nodes × edges; for events
 * in time, whose neighbours are few and near, about linear. Throws a RangeError for a node outside the range.
 *
 * @returns partner of each left node, −1 for none
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { maximumMatching } from 'lenition/evaluation';
 * maximumMatching([[0, 1], [0]], 2); // => [1, 0]
 */
export function maximumMatching(
  neighbours: readonly (readonly number[])[],
  rightCount: number,
): readonly number[] {
  checkArray('maximumMatching', 'neighbours', neighbours);
  checkInteger('maximumMatching', 'rightCount', rightCount, 0, MOST_NODES);
  // By index: forEach would pass over holes.
  for (let left = 0; left < neighbours.length; left++) {
    const list = neighbours[left] as readonly number[];
    checkArray('maximumMatching', `neighbours[${left}]`, list);
    for (let i = 0; i < list.length; i++)
      checkInteger('maximumMatching', `neighbours[${left}][${i}]`, list[i], 0, rightCount - 1);
  }
  const rightOf: number[] = neighbours.map(() => -1);
  const leftOf: number[] = Array.from({ length: rightCount }, () => -1);
  // Which search saw a right node last, and from which left node: spares clearing the marks between searches.
  const seenBy: number[] = Array.from({ length: rightCount }, () => -1);
  const cameFrom: number[] = Array.from({ length: rightCount }, () => -1);

  for (let root = 0; root < neighbours.length; root++) {
    const free = findFree(root);
    if (free >= 0) flipPath(free);
  }
  return rightOf;

  function findFree(root: number): number {
    const queue = [root];
    for (let q = 0; q < queue.length; q++) {
      const left = queue[q] as number;
      for (const right of neighbours[left] as readonly number[]) {
        if (seenBy[right] === root) continue;
        seenBy[right] = root;
        cameFrom[right] = left;
        const owner = leftOf[right] as number;
        if (owner < 0) return right;
        queue.push(owner);
      }
    }
    return -1;
  }

  function flipPath(end: number): void {
    let right = end;
    while (right >= 0) {
      const left = cameFrom[right] as number;
      const next = rightOf[left] as number;
      rightOf[left] = right;
      leftOf[right] = left;
      right = next;
    }
  }
}
