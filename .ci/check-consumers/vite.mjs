import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { bundle, CHECKS } from './bundle.mjs';
import { ROOT } from './run.mjs';

/** What an app imports, and whether the classifier's weights may come along. */
const IMPORTS = [
  { text: "export { createGainRenderer } from 'lenition/gain';", weights: false },
  { text: "export { renderGain } from 'lenition';", weights: false },
  { text: "export { decibelsFromAmplitude } from 'lenition';", weights: false },
  { text: "export { regionsFromJson, regionsToJson } from 'lenition';", weights: false },
  // Here they must: otherwise the search below looks for something that is never there.
  { text: "export { detectConsonants } from 'lenition';", weights: true },
  { text: "export { detectConsonants, fixedCut, placeEdges, renderGain } from 'lenition';", weights: true },
];

/** Builds a page with Vite and runs its script; then looks at what stays in a bundle of a few imports. */
export async function checkVite(folder) {
  return [...(await checkPage(folder)), ...(await checkTreeShaking(folder))];
}

async function checkPage(folder) {
  const warnings = [];
  const outDir = join(folder, 'page-built');
  await build({
    root: join(folder, 'page'),
    configFile: false,
    logLevel: 'silent',
    // The preload helper is for pages alone, and this script is run here.
    build: {
      outDir,
      modulePreload: false,
      rolldownOptions: { checks: CHECKS, onwarn: ({ message }) => warnings.push(message) },
    },
  });
  const html = readFileSync(join(outDir, 'index.html'), 'utf8');
  const [, script] = html.match(/<script type="module"[^>]* src="\/(assets\/[^"]+\.js)"/) ?? [];
  if (script === undefined) return ['Vite left no script in the page'];
  await import(pathToFileURL(join(outDir, script)).href);
  const { regions, changed, differing } = globalThis.lenitionPage;
  console.log(
    `the built page: ${regions} regions, ${changed} samples changed, ${readdirSync(join(outDir, 'assets'))}`,
  );
  const problems = warnings.map((message) => `Vite warns: ${message}`);
  if (!(regions > 0 && changed > 0)) problems.push('the page turned nothing down');
  if (differing !== 0) problems.push(`${differing} samples differ between lenition and lenition/gain`);
  return problems;
}

async function checkTreeShaking(folder) {
  const mark = weightsMark();
  const problems = [];
  for (const { text, weights } of IMPORTS) {
    const { code, bytes, gzipBytes, warnings } = await bundle(folder, text);
    const has = code.includes(mark);
    console.log(`${bytes} bytes, ${gzipBytes} gzipped, ${has ? 'with' : 'without'} weights: ${text}`);
    if (has !== weights) problems.push(`${has ? 'the weights come along' : 'no weights are found'}: ${text}`);
    problems.push(...warnings.map((message) => `${text} ${message}`));
  }
  return problems;
}

/** Some characters out of the packed weights, by which a bundle shows that it holds them. */
function weightsMark() {
  const text = readFileSync(new URL('src/detection/consonant-weights.ts', ROOT), 'utf8');
  const [, mark] = text.match(/'([\w-]{60})/) ?? [];
  if (mark === undefined) throw new Error('src/detection/consonant-weights.ts holds no packed text');
  return mark;
}
