/**
 * A dry run of a release, without a network: the version of package.json has its entry in the changelog, a tag of a version on this
 * commit is that version, and two packings give the same tarball with that name. What it may hold, check-pack.mjs says.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** What `npm pack --json` says of a tarball. */
export interface Packed {
  readonly name: string;
  readonly version: string;
  readonly filename: string;
  readonly integrity: string;
}

/** What stands against a release, in words. `tags`: those that point to the commit. */
export function releaseProblems(
  version: string,
  changelog: string,
  tags: readonly string[],
  packings: readonly Packed[],
): readonly string[] {
  const problems: string[] = [];
  if (!/^\d+\.\d+\.\d+$/.test(version)) problems.push(`${version} is no version`);
  const versionTags = tags.filter((tag) => /^v\d/.test(tag));
  for (const tag of versionTags)
    if (tag !== `v${version}`) problems.push(`the tag is ${tag}, package.json has ${version}`);

  const headings = [...changelog.matchAll(/^## \[([^\]]+)\](?: - (.+))?$/gm)];
  const [latest] = headings;
  if (latest?.[1] !== version)
    problems.push(`the changelog begins with ${latest?.[1] ?? 'nothing'}, package.json has ${version}`);
  else if (versionTags.length > 0 && !/^\d{4}-\d{2}-\d{2}$/.test(latest[2] ?? ''))
    problems.push(`a tagged version needs its date in the changelog, not “${latest[2] ?? ''}”`);
  else if (!/^(\d{4}-\d{2}-\d{2}|unreleased)$/.test(latest[2] ?? ''))
    problems.push(`the changelog gives neither a date nor “unreleased” for ${version}`);
  const names = headings.map(([, name]) => name);
  if (new Set(names).size !== names.length) problems.push('the changelog has a version twice');

  const [first] = packings;
  for (const packed of packings) {
    if (packed.version !== version || packed.filename !== `${packed.name}-${version}.tgz`)
      problems.push(`the tarball is ${packed.filename}, of version ${packed.version}`);
    if (packed.integrity !== first?.integrity) problems.push('two packings differ');
  }
  return problems;
}

function output(command: string, ...args: readonly string[]): string {
  return execFileSync(command, args, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
}

function pack(): Packed {
  // An array from npm 7 on, an object by name from npm 12.
  const printed: unknown = JSON.parse(
    output('npm', 'pack', '--dry-run', '--ignore-scripts', '--offline', '--json'),
  );
  return Object.values(printed as Readonly<Record<string, Packed>>)[0] as Packed;
}

/** The tags of this commit; none where the project is no checkout. */
function tagsHere(): readonly string[] {
  try {
    return output('git', 'tag', '--points-at', 'HEAD').split('\n').filter(Boolean);
  } catch {
    console.log('no tags: this is no checkout of git');
    return [];
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
  const tags = tagsHere();
  const packings = [pack(), pack()];
  const problems = releaseProblems(version, readFileSync(join(ROOT, 'CHANGELOG.md'), 'utf8'), tags, packings);
  for (const problem of problems) console.log(`NOT ok ${problem}`);
  console.log(
    `version ${version}, tags: ${tags.join(', ') || 'none'}, ${packings[0]?.filename} ${packings[0]?.integrity}`,
  );
  process.exitCode = problems.length === 0 ? 0 : 1;
}
