import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, ROOT } from '../lib/project.js';
import { type TestTitle, testTitles } from './lib/test-titles.js';

const page = readFileSync(join(ROOT, 'docs/promises.md'), 'utf8');
/** `- [FILE](../FILE): “title”` */
const named = [...page.matchAll(/^ *- \[([^\]]+)\]\(\.\.\/([^)]+)\): “([^”]+)”$/gm)].map(
  ([, shown, file, title]) => ({ shown: shown as string, file: file as string, title: title as string }),
);
/** Each file is read once. */
const titlesOf = new Map<string, readonly TestTitle[]>();
function titlesIn(file: string): readonly TestTitle[] {
  const titles = titlesOf.get(file) ?? testTitles(file, readFileSync(join(ROOT, file), 'utf8'));
  titlesOf.set(file, titles);
  return titles;
}
const sections = page.split(/^## /m).slice(1);

describe('docs/promises.md', () => {
  it('names tests that are there and run, by file and title', () => {
    expect(named.length).toBeGreaterThan(20);
    const wrong = named
      .filter(({ file }) => file.startsWith('test/'))
      .flatMap(({ shown, file, title }) => {
        if (shown !== file) return [`${shown} leads to ${file}`];
        if (!existsSync(join(ROOT, file))) return [`there is no ${file}`];
        const found = titlesIn(file).filter(({ pattern }) => pattern.test(title));
        if (found.length === 0) return [`${file} has no “${title}”`];
        return found.some(({ isIdle }) => !isIdle) ? [] : [`${file}: “${title}” is not run`];
      });
    expect(wrong).toEqual([]);
  });

  it('names steps that .ci/run has', () => {
    const steps = [...readFileSync(join(ROOT, '.ci/run'), 'utf8').matchAll(/\bstep ['"]([^'"]+)['"]/g)].map(
      ([, name]) =>
        new RegExp(`^${(name as string).replace(/[.*+?^()[\]|\\]/g, '\\$&').replace(/\$\w+/g, '.+')}$`),
    );
    const inCi = named.filter(({ file }) => file === '.ci/run');
    expect(inCi.length).toBeGreaterThan(2);
    expect(
      inCi.filter(({ title }) => !steps.some((step) => step.test(title))).map(({ title }) => title),
    ).toEqual([]);
    expect(named.filter(({ file }) => !file.startsWith('test/') && file !== '.ci/run')).toEqual([]);
  });

  it('has a test or a step for each promise, and each file of test/promises for one', () => {
    const promises = sections.filter((section) => /^\d+\. /.test(section));
    expect(promises.length).toBeGreaterThanOrEqual(9);
    const bare = promises.filter((promise) => !/^ *- \[(test\/|\.ci\/run)/m.test(promise));
    expect(bare.map((promise) => promise.split('\n')[0])).toEqual([]);
    const unused = filesBelow('test/promises', '.test.ts')
      .map(({ path }) => path)
      .filter((path) => path !== 'test/promises/page.test.ts' && !named.some(({ file }) => file === path));
    expect(unused).toEqual([]);
  });

  it('leaves no line about a test unread', () => {
    const lines = page.split('\n').filter((line) => /^ *- \[(test\/|\.ci\/)/.test(line));
    expect(named).toHaveLength(lines.length);
  });
});

describe('the reading of titles', () => {
  const text = `
    describe('one', () => {
      it('adds up', () => {});
      for (const n of [1, 2]) test(\`takes \${n} (of 2)\`, () => {});
      test.each([3])('%i points', () => {});
      it.skip('sleeps', () => {});
      test.skipIf(false)('may run', () => {});
    });
    describe.skip('two', () => { it('is off', () => {}); });
    it(name, () => {});
  `;
  const has = (title: string, file = text) =>
    testTitles('a.test.ts', file).filter(({ pattern }) => pattern.test(title));
  const known = text.replace('it(name, () => {});', '');

  it('finds them within their groups, and those that are put together', () => {
    for (const title of ['one > adds up', 'one > takes 2 (of 2)', 'one > 8 points', 'one > may run'])
      expect(has(title, known), title).toMatchObject([{ isIdle: false }]);
    for (const title of ['adds up', 'one > adds', 'two > adds up', 'one > takes 2 of 2'])
      expect(has(title, known), title).toEqual([]);
    expect(has('anything').length).toBe(1);
  });

  it('tells those that do not run', () => {
    for (const title of ['one > sleeps', 'two > is off'])
      expect(has(title, known), title).toMatchObject([{ isIdle: true }]);
  });
});
