import type { Problem, Result } from '../../src/exchange/result.js';

export type { Problem, Result };

/** A result that holds one problem. */
export function refuse(path: string, rule: string, received: string = ''): Result<never> {
  return { ok: false, problems: [{ path, rule, received }] };
}

/** A problem as one line: "sample rate must lie within 8000 to 192000 Hz; received 4000". The root of data, `$`, is the file for a person. */
export function problemLine({ path, rule, received }: Problem): string {
  const place = path === '$' ? 'the file' : path.replace(/^\$\./, '');
  return `${place} ${rule}${received === '' ? '' : `; received ${received}`}`;
}
