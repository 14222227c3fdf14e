import type { FrameSpan, Phrases } from './find-phrases.js';
import { TAKE_BANDS, type TakeLevels } from './take-levels.js';

/** A low burst, and how far it stands above the voice's own low sound, in dB, in the octaves 20–90 and 90–180 Hz. */
export interface ThumpSpan extends FrameSpan {
  readonly rumbleAboveDb: number;
  readonly lowAboveDb: number;
}

/** What the caller may set. */
export interface ThumpRule {
  readonly sampleRateHz: number;
  readonly aboveDb: number;
  readonly underVoiceDb: number;
  readonly mostSeconds: number;
}

/** Share of the voice's frames that have less low sound than its own level there. */
const OWN_SHARE = 0.9;
/** A thump ends where it has fallen by this from its peak, in dB, and must do so on both sides. */
const FALL_DB = 10;

/** Finds frames around peaks of the band below 90 Hz that stand far above what the voice itself has there. */
export function thumpSpans(
  { powers, frameCount, hopSamples }: TakeLevels,
  phrases: Phrases,
  rule: ThumpRule,
): readonly ThumpSpan[] {
  const at = (t: number, band: number): number => powers[t * TAKE_BANDS + band] as number;
  const own = [0, 1].map((band) => {
    const values: number[] = [];
    for (const { from, to } of phrases.spans) for (let t = from; t < to; t++) values.push(at(t, band));
    values.sort((a, b) => a - b);
    return values[Math.floor(OWN_SHARE * values.length)] ?? Number.POSITIVE_INFINITY;
  }) as [number, number];
  const above = own[0] * 10 ** (rule.aboveDb / 10);
  const underVoice = 10 ** (-rule.underVoiceDb / 10);
  const fall = 10 ** (-FALL_DB / 10);
  const reach = Math.round((rule.mostSeconds * rule.sampleRateHz) / hopSamples);
  const found: ThumpSpan[] = [];
  for (let t = 0; t < frameCount; t++) {
    const power = at(t, 0);
    if (power <= above || power <= underVoice * (phrases.voicePowers[t] as number)) continue;
    let from = t;
    let to = t;
    let peak = t;
    // Outwards from the peak, which may still lie ahead.
    while (to + 1 < frameCount && to - t <= reach && at(to + 1, 0) > fall * at(peak, 0)) {
      to++;
      if (at(to, 0) > at(peak, 0)) peak = to;
    }
    while (from > 0 && peak - from <= reach && at(from - 1, 0) > fall * at(peak, 0)) from--;
    if (to + 1 - from <= reach)
      found.push({
        from,
        to: to + 1,
        rumbleAboveDb: 10 * Math.log10(at(peak, 0) / (own[0] + Number.MIN_VALUE)),
        lowAboveDb: 10 * Math.log10((at(peak, 1) + Number.MIN_VALUE) / (own[1] + Number.MIN_VALUE)),
      });
    t = to;
  }
  return found;
}
