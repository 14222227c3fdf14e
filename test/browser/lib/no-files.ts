/**
 * Stands in for node:fs, node:path and node:url where the tests run in a page. There are no files in a page, so every
 * test of material that may be absent (the corpus) sees it absent, and the rest of its file runs. The project's own files
 * come from the server that the tests came from.
 */

/** Nothing is there. */
export function existsSync(): boolean {
  return false;
}

/** As of an empty folder. */
export function readdirSync(): string[] {
  return [];
}

/** A text file of the project, by its address beside a test. */
export function readFileSync(path: unknown, encoding?: unknown): string {
  if (!(path instanceof URL) || encoding !== 'utf8') throw new Error(`a page has no file ${String(path)}`);
  const request = new XMLHttpRequest();
  // Waits for the answer, as readFileSync does. Tests stand under their path on disk; other files under this prefix of Vite's.
  request.open('GET', `/@fs${path.pathname}`, false);
  request.send();
  if (request.status !== 200) throw new Error(`${path}: status ${request.status}`);
  return request.responseText;
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

declare class XMLHttpRequest {
  open(method: string, url: string, async: boolean): void;
  send(): void;
  readonly status: number;
  readonly responseText: string;
}
