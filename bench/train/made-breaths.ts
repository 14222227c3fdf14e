import type { LabelledClip, LabelledPhone } from '../lib/corpus.js';
import { phoneFacts } from '../lib/phone-map.js';
import { createMouth, type Mouth, madeBreath } from './made-breath.js';
import { between, createRandom, type Random } from './random.js';

const FOLDER = 'made_breaths';
const SAMPLE_RATE_HZ = 44_100;
const BREATHS_EACH = 8;

/** A clip for each breath of singers that do not exist, since those of only one are labelled. The same seed gives the same. */
export function madeBreaths(mouthCount: number, seed: number): readonly LabelledClip[] {
  return Array.from({ length: mouthCount }, (_, number) => {
    const random = createRandom(2e5 * seed + number);
    const mouth = createMouth(random);
    return Array.from({ length: BREATHS_EACH }, (_, n) =>
      breathAlone(mouth, { voice: `${FOLDER}:${number + 1}`, name: `${number + 1}-${n + 1}` }, random),
    );
  }).flat();
}

/** The label of a breath. */
export function breathLabel(startSeconds: number, endSeconds: number): LabelledPhone {
  return { label: 'br', phone: 'br', startSeconds, endSeconds, ...phoneFacts('br', 'latin') };
}

/** A breath in a quiet room, 0 to 150 ms of it before and after. */
function breathAlone(
  mouth: Mouth,
  { voice, name }: { readonly voice: string; readonly name: string },
  random: Random,
): LabelledClip {
  const { samples, startSeconds, endSeconds } = madeBreath(mouth, SAMPLE_RATE_HZ, random);
  const before = Math.round(between(0, 0.15, random) * SAMPLE_RATE_HZ);
  const after = Math.round(between(0, 0.15, random) * SAMPLE_RATE_HZ);
  const gain = 10 ** (between(-35, -8, random) / 20);
  const floor = gain * 10 ** (between(-65, -38, random) / 20);
  const room = Float32Array.from(
    { length: before + samples.length + after },
    (_, i) => gain * (samples[i - before] ?? 0) + floor * random.normal(),
  );
  const late = before / SAMPLE_RATE_HZ;
  return {
    name,
    folder: FOLDER,
    voice,
    voices: [voice],
    recordings: [`${FOLDER}/${name}`],
    sampleRateHz: SAMPLE_RATE_HZ,
    channels: [room],
    durationSeconds: room.length / SAMPLE_RATE_HZ,
    labels: [breathLabel(late + startSeconds, late + endSeconds)],
  };
}
