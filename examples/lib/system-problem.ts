import type { Problem } from './result.js';

const WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'does not exist',
  EACCES: 'may not be accessed',
  EPERM: 'may not be accessed',
  EROFS: 'lies on a read-only disk',
  EISDIR: 'is a directory',
  ENOTDIR: 'leads through something that is not a directory',
  EEXIST: 'exists already',
  ENOSPC: 'does not fit: the disk is full',
  ELOOP: 'is a link that leads in a circle',
  ENAMETOOLONG: 'has too long a name',
  ERR_FS_FILE_TOO_LARGE: 'is too large: less than 2 GB can be read',
};

/** Puts an error of the file system into a few words, on one line. */
export function systemProblem(path: string, error: unknown): Problem {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const message = error instanceof Error ? error.message : String(error);
  const rule = WORDS[code] ?? `cannot be used: ${message.replace(/\s+/g, ' ')}`;
  return { path, rule, received: '' };
}
