import { join } from 'node:path';
import { corpusFolders, type LabelledClip, loadCorpus } from '../lib/corpus.js';

/** Loads the folders of a corpus that are wanted. Throws where one is not there or nothing is. */
export function loadClips(
  corpus: string,
  wanted: readonly string[] | undefined,
  report: (text: string) => void,
): readonly LabelledClip[] {
  const present = corpusFolders(corpus);
  if (present.length === 0)
    throw new Error(`No labelled voices in ${corpus}: --corpus DIR names another folder.`);
  const missing = (wanted ?? []).filter((folder) => !present.includes(folder));
  if (missing.length > 0) throw new Error(`--folder: ${missing.join(', ')} not in ${corpus}`);
  return present
    .filter((folder) => wanted?.includes(folder) ?? true)
    .flatMap((folder) => {
      report(`reading ${folder}`);
      return loadCorpus(join(corpus, folder));
    });
}
