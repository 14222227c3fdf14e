/**
 * Holds what the package is made of to its rules and prints what was found: one runtime dependency, exact versions, a lock file in
 * step and signed entry by entry, no install script but the known ones, permissive licences of all that is shipped. No network.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundledPackages } from './third-party-notices.js';

/** The fields of package.json that are looked at. */
export interface Manifest {
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
  readonly scripts?: Readonly<Record<string, string>>;
}

/** An entry of package-lock.json. */
export interface LockEntry extends Manifest {
  readonly version?: string;
  readonly integrity?: string;
  readonly resolved?: string;
  readonly link?: boolean;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly hasInstallScript?: boolean;
  readonly license?: string;
}

/** package-lock.json, by folder; '' is the package itself. */
export interface Lock {
  readonly lockfileVersion: number;
  readonly packages: Readonly<Record<string, LockEntry>>;
}

/** Scripts that npm runs by itself where the package is installed. */
const INSTALL_SCRIPTS = [
  'preinstall',
  'install',
  'postinstall',
  'prepublish',
  'preprepare',
  'prepare',
  'postprepare',
];

/** Development packages that may run something when they are installed: esbuild puts its binary for this machine in place. */
const KNOWN_INSTALL_SCRIPTS = ['esbuild'];

/** Licences that ask no more of those who pass the code on than to keep a notice. */
const PERMISSIVE = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD', 'Apache-2.0'];

/** The only place that packages come from. */
const REGISTRY = 'https://registry.npmjs.org/';

/** What breaks a rule, in words. `shipped`: the names of all packages whose code is in the build. */
export function supplyProblems(
  manifest: Manifest,
  lock: Lock,
  shipped: readonly string[],
): readonly string[] {
  const problems: string[] = [];
  const { dependencies = {}, devDependencies = {}, scripts = {} } = manifest;
  if (Object.keys(dependencies).join() !== 'fft.js')
    problems.push(
      `the runtime dependencies are ${Object.keys(dependencies).join(', ') || 'none'}, not fft.js alone`,
    );
  for (const [name, version] of Object.entries({ ...dependencies, ...devDependencies }))
    if (!/^\d+\.\d+\.\d+$/.test(version)) problems.push(`${name} is not pinned: ${version}`);
  for (const name of INSTALL_SCRIPTS)
    if (name in scripts) problems.push(`package.json has the install script ${name}`);

  if (lock.lockfileVersion !== 3) problems.push(`the lock file has form ${lock.lockfileVersion}`);
  const root = lock.packages[''] ?? {};
  for (const field of ['dependencies', 'devDependencies'] as const)
    if (JSON.stringify(sorted(root[field])) !== JSON.stringify(sorted(manifest[field])))
      problems.push(`${field} of the lock file are not those of package.json`);
  for (const [folder, entry] of entriesOf(lock)) {
    if (entry.link === true || !folder.startsWith('node_modules/'))
      problems.push(`${folder} is no package of the registry`);
    if (!/^sha512-[\w+/]{86}==$/.test(entry.integrity ?? '')) problems.push(`${folder} has no SHA-512`);
    if (entry.resolved !== undefined && !entry.resolved.startsWith(REGISTRY))
      problems.push(`${folder} comes from ${entry.resolved}`);
    if (entry.hasInstallScript === true && !KNOWN_INSTALL_SCRIPTS.includes(nameOf(folder)))
      problems.push(`${folder} has an install script that is not on the list`);
    if (entry.dev !== true && entry.devOptional !== true && nameOf(folder) !== 'fft.js')
      problems.push(`${folder} would be installed with the package`);
  }
  if (!shipped.includes('fft.js')) problems.push('fft.js is not bundled');
  for (const name of shipped) {
    const licence = lock.packages[`node_modules/${name}`]?.license ?? 'none';
    if (!PERMISSIVE.includes(licence)) problems.push(`${name} is shipped under ${licence}`);
  }
  return problems;
}

const entriesOf = (lock: Lock): readonly (readonly [folder: string, entry: LockEntry])[] =>
  Object.entries(lock.packages).filter(([folder]) => folder !== '');
const nameOf = (folder: string): string => folder.split('node_modules/').at(-1) as string;
const sorted = (versions: Readonly<Record<string, string>> = {}): readonly (readonly [string, string])[] =>
  Object.entries(versions).sort(([a], [b]) => (a < b ? -1 : 1));

/** How many packages have each value, the commonest first. */
function tally(values: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts]
    .sort(([, a], [, b]) => b - a)
    .map(([value, count]) => `${count} ${value}`)
    .join(', ');
}

/** package.json and package-lock.json of the project. */
export function readProject(): { readonly manifest: Manifest; readonly lock: Lock } {
  const read = (name: string): unknown =>
    JSON.parse(readFileSync(join(fileURLToPath(new URL('..', import.meta.url)), name), 'utf8'));
  return { manifest: read('package.json') as Manifest, lock: read('package-lock.json') as Lock };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { manifest, lock } = readProject();
  const entries = entriesOf(lock);
  const shipped = bundledPackages();
  const licenceOf = (name: string): string => lock.packages[`node_modules/${name}`]?.license ?? 'none';
  console.log(`shipped, all bundled: ${shipped.map((name) => `${name} (${licenceOf(name)})`).join(', ')}`);
  console.log(`installed with the package: ${Object.keys(manifest.dependencies ?? {}).join(', ')}`);
  const scripted = entries.filter(([, { hasInstallScript }]) => hasInstallScript === true);
  console.log(
    `with an install script, for development alone: ${scripted.map(([folder, { version }]) => `${nameOf(folder)} ${version}`).join(', ')}`,
  );
  console.log(
    `${entries.length} packages in the lock file: ${tally(entries.map(([, { license }]) => license ?? 'none'))}`,
  );
  const problems = supplyProblems(manifest, lock, shipped);
  for (const problem of problems) console.log(`NOT ok ${problem}`);
  process.exitCode = problems.length === 0 ? 0 : 1;
}
