import { colourRamp } from '../../../src/picture/colour-ramp.js';
import { spectrogramLevels } from '../../../src/picture/spectrogram-levels.js';
import type { Samples } from '../../../src/signal/samples.js';

/** Levels that the shades span, in dB: softer than the first is paper. High frequencies are lifted by 6 dB an octave. */
const QUIETEST_DB = -72;
const LOUDEST_DB = -12;
const TILT_DB_PER_OCTAVE = 6;
const SHADES = 256;

/** What of a take, in samples and Hz. */
export interface SpectrogramPart {
  readonly startSample: number;
  readonly endSample: number;
  readonly topFrequencyHz: number;
}

/** The spectrogram as pixels: red, green, blue, opacity. On a dark page loud is light. */
export function spectrogramPixels(
  channels: readonly Samples[],
  sampleRateHz: number,
  part: SpectrogramPart,
  { width, height }: { readonly width: number; readonly height: number },
  isDark: boolean,
): Uint8ClampedArray<ArrayBuffer> {
  const range = { ...part, columns: width, rows: height, tiltDbPerOctave: TILT_DB_PER_OCTAVE };
  const { levelsDb } = spectrogramLevels(channels, sampleRateHz, range);
  const ramp = isDark ? [...colourRamp(SHADES)].reverse() : colourRamp(SHADES);
  const pixels = new Uint8ClampedArray(4 * levelsDb.length);
  for (let i = 0; i < levelsDb.length; i++) {
    const part = ((levelsDb[i] as number) - QUIETEST_DB) / (LOUDEST_DB - QUIETEST_DB);
    const shade = ramp[Math.round((SHADES - 1) * Math.min(1, Math.max(0, part)))] as readonly number[];
    pixels[4 * i] = shade[0] as number;
    pixels[4 * i + 1] = shade[1] as number;
    pixels[4 * i + 2] = shade[2] as number;
    pixels[4 * i + 3] = 255;
  }
  return pixels;
}
