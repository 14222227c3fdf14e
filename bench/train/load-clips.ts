import { join } from 'node:path';
import { corpusFolders, type LabelledClip, loadCorpus } from '../lib/corpus.js';

/** Loads the folders of one or more corpora that are wanted. Throws where one is not there or nothing is. */
export function loadClips(
  corpora: readonly string[],
  wanted: readonly string[] | undefined,
  report: (text: string) => void,
): readonly LabelledClip[] {
  const present = corpora.flatMap((corpus) => {
    const folders = corpusFolders(corpus);
    if (folders.length === 0)
      throw new Error(`No labelled voices in ${corpus}: --corpus DIR names another folder.`);
    return folders.map((folder) => ({ corpus, folder }));
  });
  const missing = (wanted ?? []).filter((name) => !present.some(({ folder }) => folder === name));
  if (missing.length > 0) throw new Error(`--folder: ${missing.join(', ')} not in ${corpora.join(', ')}`);
  return present
    .filter(({ folder }) => wanted?.includes(folder) ?? true)
    .flatMap(({ corpus, folder }) => {
      report(`reading ${folder}`);
      return loadCorpus(join(corpus, folder));
    });
}
