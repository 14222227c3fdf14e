/** Place of an item in rows of text. */
export interface FlowPlace {
  readonly x: number;
  readonly row: number;
}

/**
 * Sets items of given widths side by side, and begins a new row where the next would pass the right edge.
 *
 * @param widths in pixels; one wider than a row gets a row to itself.
 * @param rowWidth room in a row; `gap`: room between items.
 */
export function flowItems(widths: readonly number[], rowWidth: number, gap: number): readonly FlowPlace[] {
  let x = 0;
  let row = 0;
  return widths.map((width) => {
    if (x > 0 && x + width > rowWidth) {
      x = 0;
      row++;
    }
    const place = { x, row };
    x += width + gap;
    return place;
  });
}
