/**
 * Bundles what apps import from the built package into out/bundles, minified, for size-limit to weigh (.size-limit.json), and prints what the
 * main entry is made of. `npm run check:size` runs both.
 */
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundle } from './check-consumers/bundle.mjs';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const OUT = join(ROOT, 'out', 'bundles');

const { exports: all } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
const entries = Object.entries(all).filter(([subpath]) => !subpath.endsWith('.json'));
const wanted = {
  // What the first script and the README import.
  job: `export { detectConsonants, fixedCut, placeEdges, renderGain } from '../../dist/index.js';`,
  ...Object.fromEntries(
    entries.map(
      ([
        subpath,
        {
          import: { default: file },
        },
      ]) => [subpath === '.' ? 'all' : subpath.slice(2), `export * from '../../${file}';`],
    ),
  ),
};

rmSync(OUT, { recursive: true, force: true });
mkdirSync(OUT, { recursive: true });
for (const [name, text] of Object.entries(wanted)) {
  const { code } = await bundle(OUT, text);
  writeFileSync(join(OUT, `${name}.js`), code);
}
console.log(await composition());
rmSync(join(OUT, 'bundle-entry.js'));

/** Shares of the folders of src in the main entry, before minification. */
async function composition() {
  const { chunk, gzipBytes } = await bundle(OUT, `export * from '../../src/index.ts';`);
  const sizes = new Map();
  let total = 0;
  for (const [path, { renderedLength }] of Object.entries(chunk.modules)) {
    const part =
      path
        .match(/node_modules\/([^/]+)|src\/([^/]+)\//)
        ?.slice(1)
        .find(Boolean) ?? 'index';
    const key = path.endsWith('-weights.ts') ? 'weights' : part;
    sizes.set(key, (sizes.get(key) ?? 0) + renderedLength);
    total += renderedLength;
  }
  const shares = [...sizes]
    .sort((a, b) => b[1] - a[1])
    .map(([part, size]) => `${part} ${((100 * size) / total).toFixed(0)} %`);
  return `all of the main entry: ${gzipBytes} bytes gzipped; before minification ${shares.join(', ')}`;
}
