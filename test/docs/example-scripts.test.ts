import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, ROOT } from '../lib/project.js';
import { linkedPages, readPage } from './example-pages.js';

/** The main command writes files and reads arguments: it has tests and pages of its own. */
const OTHERS = ['tame-vocal'];

/** Scripts that end with another code than 0: one of the many files is broken on purpose. */
const EXIT_CODES: Readonly<Record<string, number>> = { 'many-files': 2 };

const scripts = filesBelow('examples', '.ts')
  .map(({ path }) => path)
  .filter((path) => path.split('/').length === 2)
  .map((path) => basename(path, '.ts'))
  .filter((name) => !OTHERS.includes(name))
  .sort();
const pages = filesBelow('docs/examples', '.md').map(({ path, text }) => ({
  name: basename(path, '.md'),
  ...readPage(text),
}));
const pageNames = pages.map(({ name }) => name).sort();

describe('the example scripts', () => {
  it('have one page each, and each page has its script', () => {
    expect(pageNames).toEqual(scripts);
    expect(pages.length).toBeGreaterThan(0);
  });

  it('are all listed, once each, in docs/examples.md', () => {
    const listed = linkedPages(readFileSync(join(ROOT, 'docs/examples.md'), 'utf8'));
    expect([...listed].sort()).toEqual(pageNames);
  });

  for (const { name, commands, outputs } of pages.filter(({ name }) => scripts.includes(name)))
    it(`print what their page shows: ${name}`, async () => {
      // A page may show it with files and options too.
      const distinct = [...new Set(commands)];
      expect(distinct, 'command that the page states').toEqual([`npx tsx examples/${name}.ts`]);
      expect(outputs, 'text blocks of the page').toHaveLength(1);
      const { code, stdout, stderr } = await run(name);
      expect(code, stderr).toBe(EXIT_CODES[name] ?? 0);
      expect(stdout).toBe(outputs[0]);
    });
});

describe('the reading of a page', () => {
  const page = 'See `npx tsx examples/a.ts`:\n\n```text\none\n\ntwo\n```\n\n```ts\n1; // => 1\n```\n';

  it('takes the command and the text blocks, line ends and empty lines kept', () => {
    expect(readPage(page)).toEqual({ commands: ['npx tsx examples/a.ts'], outputs: ['one\n\ntwo\n'] });
  });

  it('sees that output is missing, or shown twice', () => {
    expect(readPage(page.replace('```text', '```')).outputs).toEqual([]);
    expect(readPage(page + page).outputs).toHaveLength(2);
  });

  it('finds the pages that an index lists, and no other link', () => {
    expect(linkedPages('- [A](examples/a.md)\n- [B](settings.md) [C](examples/c-d.md)')).toEqual([
      'a',
      'c-d',
    ]);
  });
});

interface Ran {
  readonly code: number | string;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a script as a reader does, in a process of its own, from the project's folder. */
function run(name: string): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      ['--import', 'tsx', `examples/${name}.ts`],
      // Sooner than the test gives up, so that no process is left behind.
      { cwd: ROOT, timeout: 200_000 },
      (error, stdout, stderr) => {
        resolve({
          code: error === null ? 0 : (error.code ?? (error.killed ? 'killed after 200 s' : String(error))),
          stdout,
          stderr,
        });
      },
    );
  });
}
