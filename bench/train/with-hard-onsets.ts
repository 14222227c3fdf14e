import type { LabelledClip, LabelledPhone } from '../lib/corpus.js';
import { changedClip } from '../lib/ends/changed-clip.js';
import { type GlottalStop, glottalStop } from './glottal-stop.js';
import { between, type Random } from './random.js';

/** Share of the long enough vowels that are parted. */
const PARTED_SHARE = 0.4;
/** Labels of aligned speech are off by up to 50 ms: nearer to its ends a label may hold its neighbour. */
const LEAST_VOWEL_SECONDS = 0.12;
const LEAST_BEFORE_SECONDS = 0.06;

/** Where a stop parts the vowel of a label. */
interface Parted extends GlottalStop {
  readonly place: number;
}

/**
 * The same clip with glottal stops in some vowels, nasals and glides: the voice ceases in the middle of one and after a stillness
 * sets in hard, as at the start of each word of "eight eight". It is voice alone, but its first pulses look like a release.
 * What comes after a stop comes later, labels too.
 */
export function withHardOnsets(clip: LabelledClip, random: Random): LabelledClip {
  const { sampleRateHz, labels } = clip;
  const original = clip.channels[0] as Float32Array;
  const stops = labels.flatMap(({ phoneClass, startSeconds, endSeconds }, place): readonly Parted[] => {
    const length = endSeconds - startSeconds;
    if (phoneClass !== 'sonorant' || length < LEAST_VOWEL_SECONDS || random.uniform() >= PARTED_SHARE)
      return [];
    const about = startSeconds + Math.max(LEAST_BEFORE_SECONDS, length * between(0.3, 0.6, random));
    return [{ place, ...glottalStop(original, sampleRateHz, about, random) }];
  });
  return changedClip(clip, parted(original, stops), { labels: movedLabels(labels, stops, sampleRateHz) });
}

/** What stands before each stop dies away and what stands after it rises, with the sound of the stop between. */
function parted(original: Float32Array, stops: readonly Parted[]): Float32Array {
  const added = stops.reduce((sum, { sound }) => sum + sound.length, 0);
  const samples = new Float32Array(original.length + added);
  let shift = 0;
  for (let k = 0; k <= stops.length; k++) {
    const before = stops[k - 1];
    const after = stops[k];
    const from = before?.at ?? 0;
    const to = after?.at ?? original.length;
    for (let i = from; i < to; i++)
      samples[i + shift] =
        (original[i] as number) * (before?.rise(i - from) ?? 1) * (after?.fall(to - i) ?? 1);
    if (after) samples.set(after.sound, to + shift);
    shift += after?.sound.length ?? 0;
  }
  return samples;
}

/** A parted vowel is one label still: whatever is found in it is none of what is looked for. */
function movedLabels(
  labels: readonly LabelledPhone[],
  stops: readonly Parted[],
  sampleRateHz: number,
): readonly LabelledPhone[] {
  let later = 0;
  return labels.map((label, place) => {
    const startSeconds = label.startSeconds + later;
    const stop = stops.find((each) => each.place === place);
    later += (stop?.sound.length ?? 0) / sampleRateHz;
    return { ...label, startSeconds, endSeconds: label.endSeconds + later };
  });
}
