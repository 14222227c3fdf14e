import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { encodeWave } from '../../examples/lib/wave-file.js';
import { filesBelow, publicFolders, ROOT } from '../lib/project.js';
import { docBlocks, type ExampleBlock, markdownBlocks, runnable } from './example-blocks.js';
import { differenceFrom } from './same-as-written.js';

type Module = Readonly<Record<string, unknown>>;

const load = async (path: string): Promise<Module> =>
  (await import(/* @vite-ignore */ join(ROOT, path))) as Module;
const library = new Map<string, Module>([['lenition', await load('src/index.ts')]]);
for (const folder of publicFolders()) library.set(`lenition/${folder}`, await load(`src/${folder}/index.ts`));

const sources = filesBelow('src', '.ts');
const fromSources = sources.flatMap(docBlocks);
const ROOT_PAGES = ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md'];
const pages = [
  ...readdirSync(ROOT)
    .filter((path) => ROOT_PAGES.includes(path))
    .map((path) => ({ path, text: readFileSync(join(ROOT, path), 'utf8') })),
  ...filesBelow('docs', '.md').filter(({ path }) => !path.startsWith('docs/site/')),
];
const fromPages = pages.flatMap(markdownBlocks);

const requireInstalled = createRequire(import.meta.url);
const AsyncFunction = (async () => {}).constructor as new (
  ...parts: string[]
) => (...values: unknown[]) => Promise<void>;
const QUIET = { log() {}, info() {}, warn() {}, error() {} };

/** Examples that read or write files do so here: a page may take `vocal.wav` for granted. */
const directory = mkdtempSync(join(tmpdir(), 'lenition-examples-'));
const before = process.cwd();
let results = 0;
afterAll(() => {
  process.chdir(before);
  rmSync(directory, { recursive: true });
  console.info(
    `examples: ${fromSources.length} blocks in src, ${fromPages.length} in pages, ${results} results compared`,
  );
});

describe('the examples in the sources', () => {
  it('are found', () => {
    expect(fromSources.length).toBeGreaterThan(100);
  });

  for (const block of fromSources)
    it(`run and print what they say at ${block.path}:${block.line}`, async () => {
      // Examples of parts that are not public are there for those who read the sources: they also see their own file.
      const own = await load(block.path);
      await run(block, (name) => ({ ...own, ...library.get(name) }));
    });
});

describe('the examples in the pages', () => {
  it('are found where there is a README', () => {
    if (pages.length > 0) expect(fromPages.length).toBeGreaterThan(0);
  });

  writeFileSync(join(directory, 'vocal.wav'), vocal());
  for (const block of fromPages)
    it(`run and print what they say at ${block.path}:${block.line}`, async () => {
      process.chdir(directory);
      await run(block, (name) => library.get(name) as Module);
    });
});

describe('the first script of the ten-minute start', () => {
  const page = readFileSync(join(ROOT, 'docs/ten-minute-start.md'), 'utf8');
  const shown = page.match(/^```js\n([\s\S]*?)^```$/m)?.[1];

  it('is the one that is run on the packed package', () => {
    expect(shown).toBe(readFileSync(join(ROOT, '.ci/consumers/first-script.mjs'), 'utf8'));
  });

  it('has at most twelve lines', () => {
    expect(shown?.split('\n').filter((line) => line.trim() !== '').length).toBeLessThanOrEqual(12);
  });
});

describe('every block in the pages', () => {
  it('is of a kind that some test looks at', () => {
    // ts: run here. js: the first script, above. sh: shell-commands.test.ts. text: example-scripts.test.ts. json: settings-tables.test.ts.
    // No language: drawings.
    const kinds = new Set(['ts', 'js', 'sh', 'text', 'json', '']);
    const others = pages.flatMap(({ path, text }) =>
      [...text.matchAll(/^```(\w*)[^\n]*\n[\s\S]*?^```[^\S\n]*$/gm)]
        .filter(([, kind]) => !kinds.has(kind as string))
        .map(([, kind]) => `${path}: ${kind}`),
    );
    expect(others).toEqual([]);
    const firstScripts = pages.filter(({ text }) => /^```js$/m.test(text)).map(({ path }) => path);
    expect(firstScripts).toEqual(['docs/ten-minute-start.md']);
  });

  it('of JSON is JSON', () => {
    const texts = pages.flatMap(({ text }) => [...text.matchAll(/^```json\n([\s\S]*?)^```$/gm)]);
    expect(texts.length).toBeGreaterThan(0);
    for (const [, text] of texts) expect(() => JSON.parse(text as string)).not.toThrow();
  });

  it('in a doc comment stands below an @example', () => {
    const fenced = sources.flatMap(({ path, text }) =>
      [...text.matchAll(/\/\*\*[\s\S]*?\*\//g)]
        .filter(([comment]) => /^\s*\* ?```/m.test(comment.split('@example')[0] as string))
        .map(() => path),
    );
    expect(fenced).toEqual([]);
  });
});

describe('every public function', () => {
  for (const folder of publicFolders())
    it(`of lenition/${folder} has an example that imports it from there`, () => {
      const functions = Object.entries(library.get(`lenition/${folder}`) as Module).filter(
        ([, value]) => typeof value === 'function',
      );
      const missing = functions.filter(
        ([name]) =>
          !fromSources.some(({ code }) =>
            new RegExp(`import \\{[^}]*\\b${name}\\b[^}]*\\} from 'lenition(/${folder})?'`).test(code),
          ),
      );
      expect(missing.map(([name]) => name)).toEqual([]);
    });
});

describe('the comparison of a value with what is written', () => {
  it('takes what is the same', () => {
    expect(differenceFrom('[1, -0.5, "a", { b: null }]', [1, -0.5, 'a', { b: null }])).toBeUndefined();
    expect(
      differenceFrom('[0, Infinity, undefined, true]', [0, Number.POSITIVE_INFINITY, undefined, true]),
    ).toBeUndefined();
    expect(differenceFrom('[1, 2]', Float32Array.of(1, 2))).toBeUndefined();
    expect(differenceFrom('0.501', 0.5011872)).toBeUndefined();
  });

  it('refuses what is not', () => {
    for (const [written, value] of [
      ['0.501', 0.5017],
      ['0.1', 0.14],
      ['1', 1.2],
      ['1', '1'],
      ['[1]', [1, 2]],
      ['{ a: 1 }', { a: 1, b: 2 }],
      ['{ a: 1, b: 2 }', { a: 1 }],
      ['NaN', 0],
      ['about 3', 3],
      ['three', 3],
    ] as const)
      expect(differenceFrom(written, value), written).toBeTypeOf('string');
  });

  it('does not overlook a result that follows no statement', () => {
    expect(() => runnable({ path: 'x', line: 1, code: 'if (true) {\n  1; // => 2\n}' })).toThrow(
      '1 results are written, 0',
    );
  });
});

async function run(block: ExampleBlock, own: (name: string) => Module): Promise<void> {
  const { javascript, promises } = runnable(block);
  const seen = new Set<number>();
  const check = (value: unknown, index: number): void => {
    const { expected, line } = promises[index] as (typeof promises)[number];
    seen.add(index);
    const difference = differenceFrom(expected, value);
    if (difference !== undefined) expect.fail(`${block.path}:${line}: ${difference}`);
    results++;
  };
  const require = (name: string): unknown => {
    if (!name.startsWith('lenition')) return requireInstalled(name);
    if (!library.has(name)) expect.fail(`${block.path}:${block.line}: there is no '${name}'`);
    return own(name);
  };
  for (const [, names, from] of block.code.matchAll(/import \{([^}]*)\} from '(lenition[^']*)'/g))
    for (const name of (names as string).split(',').map((part) => part.trim()))
      if (name !== '' && !name.startsWith('type ') && !(name in (require(from as string) as Module)))
        expect.fail(`${block.path}:${block.line}: '${from}' has no ${name}`);
  await new AsyncFunction('require', 'exports', 'check', 'console', javascript)(require, {}, check, QUIET);
  expect(seen.size, `${block.path}:${block.line}: results that were reached`).toBe(promises.length);
}

/** One second of a hum with a burst of hiss in it. */
function vocal(): Uint8Array {
  let seed = 1;
  const codes = Int32Array.from({ length: 48000 }, (_, n) => {
    seed = (Math.imul(seed, 1664525) + 1013904223) | 0;
    return n > 20000 && n < 26000
      ? seed >> 12
      : Math.round(2 ** 20 * Math.sin((2 * Math.PI * 220 * n) / 48000));
  });
  return encodeWave([codes], { sampleRateHz: 48000, depth: '24' });
}
