import { hasNoVoice } from './has-no-voice.js';
import type { TrainingClip } from './training-clip.js';

/** Voices of which there is nothing but breaths. */
export function breathingVoices(
  clips: readonly Pick<TrainingClip, 'voice' | 'voices' | 'labels'>[],
): ReadonlySet<string> {
  const speaking = new Set<string>();
  for (const clip of clips) if (!hasNoVoice(clip)) speaking.add(clip.voice);
  return new Set(clips.flatMap(({ voices }) => voices).filter((voice) => !speaking.has(voice)));
}
