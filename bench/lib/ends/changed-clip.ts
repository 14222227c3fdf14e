import type { LabelledClip, LabelledPhone } from '../corpus.js';

/** A clip with other samples; its labels stay, unless others are given or time runs `timeScale` times as long. */
export function changedClip(
  clip: LabelledClip,
  samples: Float32Array,
  change: {
    readonly timeScale?: number;
    readonly sampleRateHz?: number;
    readonly labels?: readonly LabelledPhone[];
  } = {},
): LabelledClip {
  const { timeScale = 1, sampleRateHz = clip.sampleRateHz, labels = clip.labels } = change;
  return {
    ...clip,
    sampleRateHz,
    channels: [samples],
    durationSeconds: samples.length / sampleRateHz,
    labels: labels.map((label) => ({
      ...label,
      startSeconds: timeScale * label.startSeconds,
      endSeconds: timeScale * label.endSeconds,
    })),
  };
}

/** `added`, `db` louder than `rms`, on top of the clip. */
export function withAdded(clip: LabelledClip, added: Float32Array, rms: number, db: number): LabelledClip {
  const gain = rms * 10 ** (db / 20);
  return changedClip(
    clip,
    (clip.channels[0] as Float32Array).map((x, i) => x + gain * (added[i] as number)),
  );
}
