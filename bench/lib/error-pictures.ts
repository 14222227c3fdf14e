import { clipPicture } from './clip-picture.js';
import type { ListedError } from './list-errors.js';
import type { FolderScore } from './score-folder.js';

/** Seconds shown before and after an error. */
const AROUND_SECONDS = 0.4;

/** A spectrogram of each error of a folder as SVG, under a name that says clip, second and what is wrong. */
export function* errorPictures(
  { folder, tallies }: FolderScore,
  errors: readonly ListedError[],
): Generator<{ readonly name: string; readonly svg: string }> {
  for (const { clip, regions } of tallies)
    for (const { startSeconds, endSeconds, what } of errors.filter((error) => error.clip === clip.name)) {
      const from = Math.max(0, startSeconds - AROUND_SECONDS);
      const to = Math.min(clip.durationSeconds, endSeconds + AROUND_SECONDS);
      const name = `${folder}-${clip.name}-${startSeconds.toFixed(3)}-${what}.svg`.replaceAll(/[: ]/g, '_');
      yield { name, svg: clipPicture(clip, regions, from, to) };
    }
}
