import { describe, expect, it } from 'vitest';
import { releaseProblems } from '../../.ci/check-release.js';

const packed = { name: 'lenition', version: '1.2.0', filename: 'lenition-1.2.0.tgz', integrity: 'sha512-a' };
const twice = [packed, packed];
const log = (heading: string): string => `# Changelog\n\n${heading}\n\n- x\n\n## [1.1.0] - 2026-01-31\n`;
const dated = log('## [1.2.0] - 2026-11-25');
const open = log('## [1.2.0] - unreleased');

describe('a release', () => {
  it('may be made where version, tag and changelog say the same, and be prepared without a tag', () => {
    expect(releaseProblems('1.2.0', dated, ['v1.2.0', 'latest'], twice)).toEqual([]);
    expect(releaseProblems('1.2.0', open, [], twice)).toEqual([]);
  });

  it.each([
    ['another tag', '1.2.0', dated, ['v1.1.0'], twice, /the tag is v1.1.0/],
    ['a tag of a version without its date', '1.2.0', open, ['v1.2.0'], twice, /needs its date/],
    [
      'a changelog that ends before it',
      '1.3.0',
      dated,
      [],
      [{ ...packed, version: '1.3.0', filename: 'lenition-1.3.0.tgz' }],
      /begins with 1.2.0/,
    ],
    ['an empty changelog', '1.2.0', '', [], twice, /begins with nothing/],
    ['a heading without a date', '1.2.0', log('## [1.2.0] - soon'), [], twice, /neither a date/],
    ['a version twice', '1.2.0', `${dated}\n## [1.1.0] - 2026-01-30\n`, [], twice, /twice/],
    [
      'a tarball of another version',
      '1.2.0',
      dated,
      [],
      [{ ...packed, version: '1.1.0' }],
      /of version 1.1.0/,
    ],
    ['packings that differ', '1.2.0', dated, [], [packed, { ...packed, integrity: 'sha512-b' }], /differ/],
    ['a version that is none', '1.2', dated, [], [], /no version/],
  ] as const)('is refused with %s', (_name, version, changelog, tags, packings, message) => {
    const problems = releaseProblems(version, changelog, tags, packings);
    expect(
      problems.some((problem) => message.test(problem)),
      problems.join('\n'),
    ).toBe(true);
  });
});
