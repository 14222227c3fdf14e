import { existsSync, readFileSync } from 'node:fs';
import type { Plugin } from 'vite';

const PACKAGE = new URL('../../dist/', import.meta.url);
const WORKLET = new URL('playback/gain-worklet.js', import.meta.url);
/** What the worklet imports; each draws its own chunks in. */
const ENTRIES = ['gain.js', 'forecast.js'];

/**
 * Puts the worklet into the page as it is written, and beside it the modules of the built library that it imports, as they
 * are published: in the page's server and in the built page alike.
 */
export function publishedLibrary(): Plugin {
  return {
    name: 'published-library',
    configureServer(server) {
      server.middlewares.use((request, response, next) => {
        const path = (request.url ?? '').split('?')[0] as string;
        if (!path.startsWith('/worklet/')) {
          next();
          return;
        }
        try {
          const text = textOf(path.slice('/worklet/'.length));
          response.setHeader('Content-Type', 'text/javascript');
          response.end(text);
        } catch (error) {
          response.statusCode = 404;
          response.end(String(error));
        }
      });
    },
    generateBundle() {
      const names = ['gain-worklet.js', ...libraryFiles().map((file) => `lenition/${file}`)];
      for (const name of names)
        this.emitFile({ type: 'asset', fileName: `worklet/${name}`, source: textOf(name) });
    },
    transformIndexHtml(html, { server }) {
      // The page's server speaks with the page, to load it anew after an edit; the built page speaks with nobody.
      return server === undefined
        ? html
        : html
            .replace("connect-src 'none'", "connect-src 'self'")
            .replace("style-src 'self'", "style-src 'self' 'unsafe-inline'");
    },
  };
}

/** The text of a file under worklet/; throws for any that does not belong there. */
function textOf(name: string): string {
  if (name === 'gain-worklet.js') return readFileSync(WORKLET, 'utf8');
  const file = name.replace(/^lenition\//, '');
  if (file === name || !libraryFiles().includes(file)) throw new Error(`there is no worklet/${name}`);
  // The maps are not copied.
  return readFileSync(new URL(file, PACKAGE), 'utf8').replace(/\n\/\/# sourceMappingURL=.*\s*$/, '\n');
}

/** The entries and every chunk that they import. */
function libraryFiles(): readonly string[] {
  const found = new Set(ENTRIES);
  for (const file of found) {
    const url = new URL(file, PACKAGE);
    if (!existsSync(url)) throw new Error('the library is not built: run "npm run build" first');
    for (const [, chunk] of readFileSync(url, 'utf8').matchAll(/(?:from|import)\s*["']\.\/([\w.-]+)["']/g))
      found.add(chunk as string);
  }
  return [...found];
}
