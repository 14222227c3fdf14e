import { BAND_EDGES_HZ, ROW_BANDS } from '../../src/detection/detection-scale.js';

/** Geometric mean of each band's edges, in Hz. */
export const BAND_CENTRES_HZ: readonly number[] = Array.from({ length: ROW_BANDS }, (_, band) =>
  Math.sqrt((BAND_EDGES_HZ[band] as number) * (BAND_EDGES_HZ[band + 1] as number)),
);

/** Width of each band, in Hz. */
export const BAND_WIDTHS_HZ: readonly number[] = Array.from(
  { length: ROW_BANDS },
  (_, band) => (BAND_EDGES_HZ[band + 1] as number) - (BAND_EDGES_HZ[band] as number),
);
