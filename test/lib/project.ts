import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

/** The folder of package.json, with a separator at its end. */
export const ROOT: string = fileURLToPath(new URL('../../', import.meta.url));

/** The folders of src in the order in which they may import: each only from those before it. */
export const FOLDERS: readonly string[] = [
  'signal',
  'regions',
  'features',
  'detection',
  'simd',
  'levels',
  'gain',
  'takes',
  'forecast',
  'evaluation',
  'exchange',
  'picture',
];

/** The folders that have an index, which makes them subpaths of the package. */
export function publicFolders(): readonly string[] {
  return FOLDERS.filter((folder) => existsSync(join(ROOT, 'src', folder, 'index.ts')));
}

/** A source file: its path from the project's folder, with slashes, and its text. */
export interface SourceFile {
  readonly path: string;
  readonly text: string;
}

/** Every file below a folder whose name ends so, in order of path. */
export function filesBelow(folder: string, ending: string): readonly SourceFile[] {
  const directory = join(ROOT, folder);
  if (!existsSync(directory)) return [];
  return readdirSync(directory, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(ending))
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .map((path) => ({
      path: relative(ROOT, path).split(sep).join('/'),
      text: readFileSync(path, 'utf8'),
    }));
}

/** What a TypeScript text imports or re-exports from, in order; comments are not looked at. */
export function importedPaths(text: string): readonly string[] {
  return ts.preProcessFile(text).importedFiles.map(({ fileName }) => fileName);
}
