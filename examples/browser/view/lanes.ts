/** A horizontal band of the drawing, in pixels of the page. */
export interface Lane {
  readonly top: number;
  readonly height: number;
}

/** Where the parts of the drawing lie. */
export interface Lanes {
  readonly ruler: Lane;
  readonly regions: Lane;
  readonly gain: Lane;
  readonly waveform: Lane;
  readonly spectrogram: Lane;
}

/** Greatest and least gain of the gain lane, in dB. */
export const GAIN_TOP_DB = 6;
export const GAIN_BOTTOM_DB = -24;

/** Shares out a height: ruler and regions keep theirs, the rest grows. */
export function lanesOf(height: number): Lanes {
  const gap = 6;
  const ruler = { top: 0, height: 20 };
  const regions = { top: 22, height: 30 };
  const rest = Math.max(120, height - regions.top - regions.height - 3 * gap);
  const gain = { top: regions.top + regions.height + gap, height: Math.round(0.24 * rest) };
  const waveform = { top: gain.top + gain.height + gap, height: Math.round(0.32 * rest) };
  const below = waveform.top + waveform.height + gap;
  return {
    ruler,
    regions,
    gain,
    waveform,
    spectrogram: { top: below, height: Math.max(20, height - below) },
  };
}

/** Height at which a gain stands in its lane. */
export function gainToY(gainDb: number, { top, height }: Lane): number {
  const part = (GAIN_TOP_DB - gainDb) / (GAIN_TOP_DB - GAIN_BOTTOM_DB);
  return top + height * Math.min(1, Math.max(0, part));
}

/** The gain that stands at a height. */
export function yToGain(y: number, { top, height }: Lane): number {
  return GAIN_TOP_DB - ((y - top) / height) * (GAIN_TOP_DB - GAIN_BOTTOM_DB);
}
