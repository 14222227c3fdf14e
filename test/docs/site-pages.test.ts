import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { decisionFigures, foundStack } from '../../bench/lib/decision-figures.js';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { filesBelow, ROOT } from '../lib/project.js';

const options = JSON.parse(readFileSync(join(ROOT, 'typedoc.json'), 'utf8')) as {
  readonly projectDocuments: readonly string[];
  readonly treatWarningsAsErrors: boolean;
  readonly validation: Readonly<Record<string, boolean>>;
};
const pages = filesBelow('docs', '.md').filter(({ path }) => !path.startsWith('docs/site/'));

describe('the site', () => {
  it('holds every page of docs', () => {
    const listed = options.projectDocuments;
    const missing = pages.filter(
      ({ path }) =>
        !listed.includes(path) &&
        !(path.startsWith('docs/examples/') && listed.includes('docs/examples/*.md')),
    );
    expect(missing.map(({ path }) => path)).toEqual([]);
    expect(listed.filter((path) => !path.includes('*') && !existsSync(join(ROOT, path)))).toEqual([]);
  });

  it('is refused where an export lacks its text or a link leads nowhere', () => {
    expect(options.treatWarningsAsErrors).toBe(true);
    expect(options.validation).toMatchObject({ notDocumented: true, notExported: true, invalidLink: true });
  });

  it('has a map that names every guide', () => {
    const map = readFileSync(join(ROOT, 'docs/index.md'), 'utf8');
    const guides = pages.filter(({ path }) => path.split('/').length === 2 && path !== 'docs/index.md');
    const unnamed = guides.filter(
      // The page of numbers is part of the one that explains them.
      ({ path }) => path !== 'docs/settings-tried.md' && !map.includes(`(${path.slice('docs/'.length)})`),
    );
    expect(unnamed.map(({ path }) => path)).toEqual([]);
  });
});

describe('the pictures of the guides', () => {
  const files = readdirSync(join(ROOT, 'docs/pictures')).sort();

  it('are all shown by a page', () => {
    const texts = [...pages.map(({ text }) => text), readFileSync(join(ROOT, 'README.md'), 'utf8')].join(
      '\n',
    );
    expect(files.filter((file) => !texts.includes(`pictures/${file})`))).toEqual([]);
  });

  // What a page shows must be what the code does now; `npm run docs:pictures` makes them anew.
  it('of the decisions are what the code makes', () => {
    const { sampleRateHz, takes } = makeDemonstration();
    const figures = decisionFigures(foundStack(takes, sampleRateHz));
    expect(figures.map(({ name }) => `${name}.svg`).sort()).toEqual(
      files.filter((file) => file.startsWith('decision-')),
    );
    const stale = figures.filter(
      ({ name, svg }) => readFileSync(join(ROOT, `docs/pictures/${name}.svg`), 'utf8') !== svg,
    );
    expect(stale.map(({ name }) => name)).toEqual([]);
  });
});
