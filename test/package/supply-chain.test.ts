import { describe, expect, it } from 'vitest';
import { type Lock, type Manifest, readProject, supplyProblems } from '../../.ci/check-supply-chain.js';
import { bundledPackages } from '../../.ci/third-party-notices.js';

const { manifest, lock } = readProject();
const shipped = bundledPackages();

describe('what the package is made of', () => {
  it('breaks no rule', () => {
    expect(Object.keys(lock.packages).length).toBeGreaterThan(100);
    expect(supplyProblems(manifest, lock, shipped)).toEqual([]);
  });

  const withEntry = (folder: string, change: object): Lock => ({
    ...lock,
    packages: { ...lock.packages, [folder]: { ...lock.packages[folder], ...change } },
  });
  const pinned = { ...manifest, devDependencies: { ...manifest.devDependencies, vitest: '^4.1.12' } };
  const cases: readonly (readonly [string, Manifest, Lock, RegExp])[] = [
    [
      'a second runtime dependency',
      { ...manifest, dependencies: { 'fft.js': '4.0.4', meyda: '5.6.3' } },
      lock,
      /fft.js, meyda, not/,
    ],
    ['a range in place of a version', pinned, lock, /vitest is not pinned: \^4.1.12/],
    [
      'a lock file out of step',
      { ...manifest, devDependencies: { vitest: '4.1.12' } },
      lock,
      /devDependencies of the lock file/,
    ],
    [
      'an install script of its own',
      { ...manifest, scripts: { prepare: 'x' } },
      lock,
      /install script prepare/,
    ],
    [
      'one of a package that is not known for it',
      manifest,
      withEntry('node_modules/meyda', { hasInstallScript: true }),
      /meyda has an install/,
    ],
    [
      'a package without its hash',
      manifest,
      withEntry('node_modules/meyda', { integrity: undefined }),
      /meyda has no SHA-512/,
    ],
    [
      'a weaker hash',
      manifest,
      withEntry('node_modules/meyda', { integrity: 'sha1-2jmj7l5rSw0yVb/vlWAYkK/YBwk=' }),
      /meyda has no SHA-512/,
    ],
    [
      'a package from elsewhere',
      manifest,
      withEntry('node_modules/meyda', { resolved: 'https://example.com/a.tgz' }),
      /comes from https:\/\/example/,
    ],
    [
      'a package that would be installed too',
      manifest,
      withEntry('node_modules/meyda', { dev: undefined }),
      /meyda would be installed/,
    ],
    [
      'a licence that asks for more',
      manifest,
      withEntry('node_modules/fast-png', { license: 'GPL-3.0' }),
      /fast-png is shipped under GPL/,
    ],
  ];
  it.each(cases)('is refused with %s', (_name, changed, locked, message) => {
    const problems = supplyProblems(changed, locked, shipped);
    expect(
      problems.some((problem) => message.test(problem)),
      problems.join('\n'),
    ).toBe(true);
  });

  it('is refused where the runtime dependency is not bundled', () => {
    expect(
      supplyProblems(
        manifest,
        lock,
        shipped.filter((name) => name !== 'fft.js'),
      ),
    ).toEqual(['fft.js is not bundled']);
  });
});
