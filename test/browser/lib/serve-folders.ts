import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, sep } from 'node:path';

/** Kinds of file that the tests' pages load; a browser refuses a module with another type. */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.json': 'application/json',
};

/** A server of plain files on this machine. */
export interface FileServer {
  readonly origin: string;
  close(): Promise<void>;
}

/** Serves folders by the path that they stand under: `{ '/lib': FOLDER }`; `/` for a whole site. The port is any free one. */
export async function serveFolders(folders: Readonly<Record<string, string>>): Promise<FileServer> {
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const file = fileOf(folders, path);
    if (file === null) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' });
    response.end(readFileSync(file));
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  return {
    origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(() => closed());
      }),
  };
}

function fileOf(folders: Readonly<Record<string, string>>, path: string): string | null {
  for (const [prefix, folder] of Object.entries(folders)) {
    const under = prefix === '/' ? path : path.startsWith(`${prefix}/`) ? path.slice(prefix.length) : null;
    if (under === null) continue;
    const file = normalize(join(folder, under.endsWith('/') ? `${under}index.html` : under));
    if (!file.startsWith(normalize(folder).replace(/[/\\]?$/, sep))) continue;
    if (existsSync(file) && statSync(file).isFile()) return file;
  }
  return null;
}
