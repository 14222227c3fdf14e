import type { Doubles } from '../signal/samples.js';

/** Turns each row of `classes` numbers into probabilities, in place: eˣ over the sum of the row's eˣ. */
export function softmaxRows(values: Doubles, rowCount: number, classes: number): void {
  for (let at = 0; at < rowCount * classes; at += classes) {
    let most = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < classes; k++) most = Math.max(most, values[at + k] as number);
    let total = 0;
    for (let k = 0; k < classes; k++) {
      const e = Math.exp((values[at + k] as number) - most);
      values[at + k] = e;
      total += e;
    }
    for (let k = 0; k < classes; k++) values[at + k] = (values[at + k] as number) / total;
  }
}
