import { escapeXml } from './escape-xml.js';
import { INK, PAPER } from './kind-style.js';
import { coordinate } from './numbers.js';

/** Smallest text of the picture, in pixels at its own width of 1200. */
export const TEXT_PIXELS = 12;

/** Lift of every spectrogram: about what a voice loses per octave, so that an s is as dark as a vowel (common practice). */
export const TILT_DB_PER_OCTAVE = 6;

/** How a line of text looks; everything may be left out. */
export interface TextLook {
  readonly size?: number;
  readonly colour?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  /** True: a rim in the colour of the paper, for text over a drawing. */
  readonly rim?: boolean;
}

/** A line of text, escaped; `y` is the base line. */
export function svgText(x: number, y: number, text: string, look: TextLook = {}): string {
  const { size = TEXT_PIXELS, colour = INK, anchor = 'start', bold = false, rim = false } = look;
  return (
    `<text x="${coordinate(x)}" y="${coordinate(y)}" font-size="${coordinate(size)}" fill="${colour}"` +
    (anchor === 'start' ? '' : ` text-anchor="${anchor}"`) +
    (bold ? ' font-weight="700"' : '') +
    (rim ? ` stroke="${PAPER}" stroke-width="3" stroke-linejoin="round" paint-order="stroke"` : '') +
    `>${escapeXml(text)}</text>`
  );
}

/** A rectangle; `attributes` is ready-made markup. */
export function svgRect(x: number, y: number, width: number, height: number, attributes: string): string {
  return (
    `<rect x="${coordinate(x)}" y="${coordinate(y)}" width="${coordinate(width)}"` +
    ` height="${coordinate(height)}" ${attributes}/>`
  );
}

/** A path from ready-made path data; nothing where that is empty. */
export function svgPath(data: string, attributes: string): string {
  return data === '' ? '' : `<path d="${data}" ${attributes}/>`;
}

/** A thin straight line. */
export function svgLine(x1: number, y1: number, x2: number, y2: number, attributes: string): string {
  return svgPath(`M${coordinate(x1)} ${coordinate(y1)}L${coordinate(x2)} ${coordinate(y2)}`, attributes);
}
