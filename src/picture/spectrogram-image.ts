import { encode } from 'fast-png';
import { base64 } from './base64.js';
import { colourRamp } from './colour-ramp.js';
import type { SpectrogramLevels } from './spectrogram-levels.js';

/** How many shades a spectrogram has: steps of about 1.5 dB, finer than the eye tells apart on this ramp. */
export const SHADES = 48;

/**
 * A spectrogram as a PNG in a data URI: one pixel per value, `SHADES` colours from paper to ink, even steps in dB.
 *
 * @param levels from `spectrogramLevels`.
 * @param floorDb shown as paper, with all below; `ceilingDb` shown as ink, with all above.
 * Source: W3C, Portable Network Graphics, third edition; indexed colour, written by fast-png.
 */
export function spectrogramImage(levels: SpectrogramLevels, floorDb: number, ceilingDb: number): string {
  const { columns, rows, levelsDb } = levels;
  const data = new Uint8Array(levelsDb.length);
  const step = (ceilingDb - floorDb) / (SHADES - 1);
  for (let i = 0; i < data.length; i++) {
    const shade = Math.round(((levelsDb[i] as number) - floorDb) / step);
    data[i] = Math.min(SHADES - 1, Math.max(0, shade));
  }
  const palette = colourRamp(SHADES).map((colour) => [...colour]);
  const png = encode(
    { width: columns, height: rows, data, depth: 8, channels: 1, palette },
    { zlib: { level: 6 } },
  );
  return `data:image/png;base64,${base64(png)}`;
}
