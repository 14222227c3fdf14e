import { describe } from '../signal/check.js';
import type { FileKind } from './migrations.js';
import type { NoteProblem } from './parse-json.js';

/**
 * The parsed data of a file, brought to the current version step by step; undefined where a problem was noted: no object,
 * another format, a version that is none, or one that is newer than this library.
 */
export function atCurrentVersion(
  data: unknown,
  path: string,
  kind: FileKind,
  note: NoteProblem,
): Readonly<Record<string, unknown>> | undefined {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    note(path, 'must be an object', describe(data));
    return undefined;
  }
  const { format, version } = data as Partial<Record<'format' | 'version', unknown>>;
  // Another format or version has other rules: applying ours would only report noise.
  if (format !== kind.format) {
    note(`${path}.format`, `must be "${kind.format}"`, describe(format));
    return undefined;
  }
  if (!Number.isSafeInteger(version) || (version as number) < 1 || (version as number) > kind.version) {
    note(`${path}.version`, versionRule(version, kind.version), describe(version));
    return undefined;
  }
  let current = data as Readonly<Record<string, unknown>>;
  for (const migrate of kind.migrations.slice((version as number) - 1)) {
    try {
      current = migrate(current);
    } catch (error) {
      // Broken data is an ordinary case of a reader, wherever it shows.
      note(
        path,
        `must be sound by the rules of version ${version}`,
        error instanceof Error ? error.message : 'broken data',
      );
      return undefined;
    }
  }
  return current;
}

/** What a version must be; of a newer file it says that the library is the older of the two. */
export function versionRule(version: unknown, current: number): string {
  if (typeof version === 'number' && version > current)
    return `must be at most ${current}: the file was written by a newer library than this one`;
  return current === 1 ? 'must be 1' : `must be a whole number from 1 to ${current}`;
}
