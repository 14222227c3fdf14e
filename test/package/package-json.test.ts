import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { publicFolders, ROOT } from '../lib/project.js';

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license: string;
  readonly type: string;
  readonly sideEffects: boolean;
  readonly engines: Readonly<Record<string, string>>;
  readonly files: readonly string[];
  readonly exports: Readonly<Record<string, unknown>>;
  readonly scripts: Readonly<Record<string, string>>;
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
}

const read = (name: string): string => readFileSync(`${ROOT}${name}`, 'utf8');
const manifest = JSON.parse(read('package.json')) as Manifest;

describe('package.json', () => {
  it('asks its users to install fft.js alone', () => {
    expect(Object.keys(manifest.dependencies)).toEqual(['fft.js']);
    expect(manifest).not.toHaveProperty('peerDependencies');
    expect(manifest).not.toHaveProperty('optionalDependencies');
  });

  it('pins every version', () => {
    const all = { ...manifest.dependencies, ...manifest.devDependencies };
    expect(Object.entries(all).filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  });

  it('exports the main entry and every folder of src, for import and for require, each with its types first', () => {
    const entry = (name: string) => ({
      import: { types: `./dist/${name}.d.ts`, default: `./dist/${name}.js` },
      require: { types: `./dist/${name}.d.cts`, default: `./dist/${name}.cjs` },
    });
    const { './package.json': itself, './regions.schema.json': schema, ...entries } = manifest.exports;
    expect(schema).toBe('./docs/schema/regions.schema.json');
    expect(itself).toBe('./package.json');
    expect(entries).toEqual({
      '.': entry('index'),
      ...Object.fromEntries(publicFolders().map((folder) => [`./${folder}`, entry(folder)])),
    });
    // The first condition that matches wins, so the types must come before the code (TypeScript handbook, modules reference).
    for (const conditions of Object.values(entries) as Record<string, object>[])
      for (const targets of Object.values(conditions)) expect(Object.keys(targets)[0]).toBe('types');
  });

  it('lets bundlers drop what is not used', () => {
    expect(manifest.sideEffects).toBe(false);
    expect(manifest.type).toBe('module');
  });

  it('publishes the build, the schema of the region file, the notices and nothing of the sources', () => {
    expect(manifest.files).toEqual([
      'dist',
      'docs/schema',
      'README.md',
      'CHANGELOG.md',
      'LICENSE',
      'THIRD-PARTY-NOTICES.md',
    ]);
    expect(manifest.engines).toEqual({ node: '>=20' });
  });

  it('names a licence and a version that the licence file and the changelog bear out', () => {
    expect(manifest.license).toBe('MIT');
    expect(read('LICENSE')).toMatch(/^MIT License\n\nCopyright \(c\) 2026 lenition contributors\n/);
    expect(read('CHANGELOG.md')).toContain(`## [${manifest.version}]`);
  });

  it('has the commands that the documents name', () => {
    for (const script of [
      'start',
      'test',
      'lint',
      'format',
      'types',
      'build',
      'check:package',
      'check:pack',
      'check:consumers',
      'check:size',
      'check:unused',
      'docs',
      'bench:accuracy',
    ])
      expect(manifest.scripts).toHaveProperty([script]);
  });

  it('has a limit of size for every entry, and 30 kB for what finds, places, cuts and renders', () => {
    const limits = JSON.parse(read('.size-limit.json')) as { path: string; limit: string; gzip: boolean }[];
    const names = ['job', 'all', ...publicFolders()];
    expect(limits.map(({ path }) => path).sort()).toEqual(
      names.map((name) => `out/bundles/${name}.js`).sort(),
    );
    expect(limits.every(({ gzip }) => gzip)).toBe(true);
    // The reach that was set for the detector with its model.
    expect(limits.find(({ path }) => path.endsWith('/job.js'))?.limit).toBe('30 kB');
  });

  it('is in step with the lock file', () => {
    const lock = JSON.parse(read('package-lock.json')) as { packages: Record<string, Manifest> };
    expect(lock.packages['']?.dependencies).toEqual(manifest.dependencies);
    expect(lock.packages['']?.devDependencies).toEqual(manifest.devDependencies);
  });
});
