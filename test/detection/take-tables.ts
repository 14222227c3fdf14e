import type { Phrases } from '../../src/detection/find-phrases.js';
import type { PauseLevels } from '../../src/detection/pause-sounds.js';
import type { TakeAnalysis } from '../../src/detection/take-analysis.js';
import { TAKE_BANDS, type TakeLevels } from '../../src/detection/take-levels.js';

export const RATE = 48_000;
/** A hundred frames a second. */
export const HOP = 480;

/** Band by band the power of a frame; flatness the same in all. */
export interface TakeFrame {
  readonly powers?: Readonly<Record<number, number>>;
  readonly flatness?: number;
}

/** Tables of a take from what each frame holds; a flatness of 1, and no power, where nothing is said. */
export function levelsOf(frameCount: number, frameAt: (t: number) => TakeFrame): TakeLevels {
  const powers = new Float64Array(frameCount * TAKE_BANDS);
  const flatness = new Float64Array(frameCount * TAKE_BANDS).fill(1);
  for (let t = 0; t < frameCount; t++) {
    const frame = frameAt(t);
    for (const [band, power] of Object.entries(frame.powers ?? {}))
      powers[t * TAKE_BANDS + Number(band)] = power;
    flatness.fill(frame.flatness ?? 1, t * TAKE_BANDS, (t + 1) * TAKE_BANDS);
  }
  return { hopSamples: HOP, frameCount, usableBands: TAKE_BANDS, powers, flatness };
}

/** Phrases in these frames, about a voice of one power. */
export function phrasesOf(
  frameCount: number,
  spans: readonly (readonly [number, number])[] = [],
  voice = 1,
): Phrases {
  return {
    spans: spans.map(([from, to]) => ({ from, to })),
    voicePowers: new Float64Array(frameCount).fill(voice),
  };
}

/** What stands between them: the tables' own powers, unsmoothed, over a floor that is the same in all bands. */
export function pausesOf({ frameCount, powers }: TakeLevels, { spans }: Phrases, floor: number): PauseLevels {
  const inPhrase = new Uint8Array(frameCount);
  for (const { from, to } of spans) inPhrase.fill(1, from, to);
  return { powers, floor: new Float64Array(TAKE_BANDS).fill(floor), inPhrase };
}

export function analysisOf(levels: TakeLevels, phrases: Phrases, floor: number): TakeAnalysis {
  return {
    clip: [new Float32Array(levels.frameCount * HOP)],
    sampleRateHz: RATE,
    levels,
    phrases,
    pauses: pausesOf(levels, phrases, floor),
    frames: (seconds) => Math.round((seconds * RATE) / HOP),
  };
}
