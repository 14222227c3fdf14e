/**
 * Stands in for node:fs, node:path and node:url where the tests run in a page. There are no files in a page, so every
 * test of material that may be absent (the corpus) sees it absent, and the rest of its file runs.
 */

/** Nothing is there. */
export function existsSync(): boolean {
  return false;
}

/** As of an empty folder. */
export function readdirSync(): string[] {
  return [];
}

export function readFileSync(path: unknown): never {
  throw new Error(`a page has no file ${String(path)}`);
}

export function statSync(path: unknown): never {
  throw new Error(`a page has no file ${String(path)}`);
}

export function join(...parts: readonly string[]): string {
  return parts.join('/');
}

export function basename(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

export function fileURLToPath(url: string | URL): string {
  return new URL(url).pathname;
}
