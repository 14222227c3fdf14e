import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { checkPages, headingAnchor, markdownFiles, readHtml, readMarkdown } from '../../.ci/check-links.js';
import { ROOT } from '../lib/project.js';

const folder = mkdtempSync(join(tmpdir(), 'lenition-links-'));
afterAll(() => rmSync(folder, { recursive: true }));

describe('the links of the Markdown files', () => {
  it('lead to files and headings that are there', () => {
    const { broken, followed } = checkPages(markdownFiles(ROOT), readMarkdown, ['.md']);
    expect(broken).toEqual([]);
    // The README alone has more: an empty answer would mean that nothing was read.
    expect(followed).toBeGreaterThan(20);
  });
});

describe('the reading of pages', () => {
  it('finds links and headings of Markdown, and neither in code', () => {
    const page = readMarkdown(
      '# One `x` (two)\n\n[a](b.md#c) and `[no](no.md)` ![d](e.svg "title")\n\n```sh\n# no heading\n[no](f.md)\n```\n\n[g]: h.md\n\n## One\n\n## One\n',
    );
    expect(page.links.map(({ target }) => target)).toEqual(['b.md#c', 'e.svg', 'h.md']);
    expect(page.links[0]?.line).toBe(3);
    expect([...page.anchors]).toEqual(['one-x-two', 'one', 'one-1']);
  });

  // CommonMark says nothing of anchors; these are what GitHub makes of such headings (seen there, from memory).
  it('names headings as hosts of Markdown do', () => {
    expect(headingAnchor('How it was checked')).toBe('how-it-was-checked');
    expect(headingAnchor('Edges & fades: `placeEdges`')).toBe('edges--fades-placeedges');
  });

  it('finds links and places of HTML, and none in scripts', () => {
    const page = readHtml(
      '<a href="x.html#y">t</a><script src="s.js">"<a href=\\"no.html\\">"</script>\n<h2 id="a&amp;b"><img src="i.png">',
    );
    expect(page.links).toEqual([
      { line: 1, target: 'x.html#y' },
      { line: 1, target: 's.js' },
      { line: 2, target: 'i.png' },
    ]);
    expect([...page.anchors]).toEqual(['a&b']);
  });
});

describe('the following of links', () => {
  const write = (name: string, text: string): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };

  it('reports a file that is not there and a place that is not, and leaves the network alone', () => {
    const one = write(
      'one.md',
      '# Top\n[1](two.md) [2](two.md#here) [3](#top) [4](none.md) [5](two.md#there) [6](https://example.org/x)\n',
    );
    write('two.md', '# Here\n');
    const { broken, external, followed } = checkPages([one], readMarkdown, ['.md']);
    expect(broken).toEqual([
      `${one}:2: none.md: is not there`,
      `${one}:2: two.md#there: no place called there there`,
    ]);
    expect([...external]).toEqual(['https://example.org/x']);
    expect(followed).toBe(5);
  });
});
