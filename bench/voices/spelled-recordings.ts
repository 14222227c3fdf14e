import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { SpelledName } from './spelled-phones.js';

/** A recording of a letter or a syllable. */
export interface SpelledRecording extends SpelledName {
  readonly file: string;
  /** Folder of its corpus: amateurs and the two speakers of Mandarin are scored apart. */
  readonly folder: 'spelled_letters' | 'spelled_mandarin';
  /** Who speaks: of most languages there is one. */
  readonly speaker: string;
}

/** Debian's packages of spoken letters and syllables: many amateurs, and two speakers of Mandarin. */
export const SPELLED_PACKAGES = ['klettres-data', 'gcin-voice'];

/** Left out: Danish has handling noise before its letters, Arabic and Hebrew letters have names that begin with an h or a throat sound. */
const LEFT_OUT = new Set(['ar', 'da', 'he']);
/** Malayalam is written by its romanised file names here; one in three of its many syllables is taken. */
const BY_FILE_NAME = new Set(['ml', 'tn']);
const TAKEN_OF_MALAYALAM = 3;
/** Of the two speakers of Mandarin one in four syllables. */
const TAKEN_OF_MANDARIN = 4;

/** Every recording under a folder where packages were unpacked, or `/`. In order of name. */
export function spelledRecordings(root: string): readonly SpelledRecording[] {
  return [...letters(join(root, 'usr/share/klettres')), ...mandarin(join(root, 'usr/share/gcin-voice/ogg'))];
}

function letters(folder: string): readonly SpelledRecording[] {
  return foldersIn(folder)
    .filter((language) => !LEFT_OUT.has(language) && existsSync(join(folder, language, 'sounds.xml')))
    .flatMap((language) => {
      const lines = readFileSync(join(folder, language, 'sounds.xml'), 'utf8').replace(
        /<!--[\s\S]*?-->/g,
        '',
      );
      const seen = new Set<string>();
      return [...lines.matchAll(/name="([^"]*)"\s*file="([^"]*)"/g)].flatMap(([, name = '', path = '']) => {
        const file = join(folder, path);
        if (seen.has(path) || !existsSync(file)) return [];
        seen.add(path);
        const stem = basename(path).replace(/\.[^.]*$/, '');
        const isSyllable = path.includes('/syllab/');
        if (language === 'ml' && isSyllable && seen.size % TAKEN_OF_MALAYALAM !== 0) return [];
        const byFile = BY_FILE_NAME.has(language);
        return [
          {
            written: byFile ? stem : name,
            language,
            isSyllable: byFile ? stem.length > 1 : isSyllable,
            folder: 'spelled_letters',
            file,
            speaker: language,
          },
        ];
      });
    });
}

function mandarin(folder: string): readonly SpelledRecording[] {
  return foldersIn(folder).flatMap((written, place) => {
    if (place % TAKEN_OF_MANDARIN !== 0) return [];
    return readdirSync(join(folder, written))
      .filter((file) => file.endsWith('.ogg'))
      .sort()
      .map((file) => ({
        written,
        language: 'zh',
        isSyllable: true,
        folder: 'spelled_mandarin',
        file: join(folder, written, file),
        speaker: `zh_${file.replace('.ogg', '')}`,
      }));
  });
}

function foldersIn(folder: string): readonly string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name)
    .sort();
}
