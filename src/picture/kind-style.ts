import type { RegionKind } from '../regions/region.js';

/** How one kind of region looks. Letter, pattern and row tell the kinds apart without colour. */
export interface KindStyle {
  /** The letter that stands for the kind. */
  readonly tag: string;
  /** The word in legends. */
  readonly word: string;
  /** At least 4.5:1 against the paper, so that text may use it. */
  readonly colour: string;
  /** Marks inside an 8 by 8 tile, stroked in the colour; empty: see `solid`. */
  readonly marks: string;
  /** True: filled with the plain colour. */
  readonly solid: boolean;
}

/** Background of the picture. */
export const PAPER = '#fcfaf5';

/** Text and lines. */
export const INK = '#211c28';

/** Secondary text; at least 4.5:1 against the paper. */
export const SOFT_INK = '#5c5664';

/** Look of every kind: our own choice of letters, patterns and colours. */
export const KIND_STYLES: Readonly<Record<RegionKind, KindStyle>> = Object.freeze({
  sibilant: { tag: 'S', word: 'sibilant', colour: '#a8123e', marks: '', solid: true },
  fricative: { tag: 'F', word: 'fricative', colour: '#1c5aa6', marks: 'M-2 6L6 -2M2 10L10 2', solid: false },
  burst: { tag: 'T', word: 'burst', colour: '#7b4a00', marks: 'M1 0V8M5 0V8', solid: false },
  breath: { tag: 'H', word: 'breath', colour: '#0b6656', marks: 'M0 2H8M0 6H8', solid: false },
  click: { tag: 'K', word: 'click', colour: '#5f2c8c', marks: 'M0 0L8 8M8 0L0 8', solid: false },
  noise: { tag: 'N', word: 'noise', colour: '#4f5660', marks: 'M2 1V3M6 5V7', solid: false },
  cymbal: { tag: 'C', word: 'cymbal', colour: '#6d6100', marks: 'M0 1L4 7L8 1', solid: false },
  custom: { tag: 'U', word: 'custom', colour: '#211c28', marks: 'M0 4H3', solid: false },
});

/** Fill reference for a kind; its pattern must be among the definitions of the picture. */
export function kindFill(kind: RegionKind): string {
  const style = KIND_STYLES[kind];
  return style.solid ? style.colour : `url(#lenition-${style.tag})`;
}

/** The pattern of a kind as an SVG element; empty for a solid one. */
export function kindPattern(kind: RegionKind): string {
  const style = KIND_STYLES[kind];
  if (style.solid) return '';
  return (
    `<pattern id="lenition-${style.tag}" width="8" height="8" patternUnits="userSpaceOnUse">` +
    `<rect width="8" height="8" fill="#fff"/>` +
    `<path d="${style.marks}" fill="none" stroke="${style.colour}" stroke-width="2"/></pattern>`
  );
}
