/** Writes THIRD-PARTY-NOTICES.md: the licence of every package that dist may hold a copy of. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

interface Manifest {
  readonly version: string;
  readonly license: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}

/** What src imports, and what that needs in turn, in order of name. */
export function bundledPackages(): readonly string[] {
  const waiting = readdirSync(join(ROOT, 'src'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .flatMap((text) => ts.preProcessFile(text).importedFiles.map(({ fileName }) => fileName))
    .filter((path) => !path.startsWith('.'))
    .map(packageOf);
  const found = new Set<string>();
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (found.has(name)) continue;
    found.add(name);
    waiting.push(...Object.keys(manifestOf(name).dependencies ?? {}));
  }
  return [...found].sort();
}

/** The whole document. */
export function notices(): string {
  const parts = bundledPackages().map((name) => {
    const { version, license } = manifestOf(name);
    return `## ${name} ${version} (${license})\n\n${licenceText(name)}\n`;
  });
  return [
    '# Third-party notices',
    '',
    'The files in `dist` hold code of the packages below, copied there by the build. The main entry holds fft.js alone.',
    'Made from `node_modules` by `npm run notices`.',
    '',
    ...parts,
  ].join('\n');
}

function packageOf(path: string): string {
  return path
    .split('/')
    .slice(0, path.startsWith('@') ? 2 : 1)
    .join('/');
}

function manifestOf(name: string): Manifest {
  return JSON.parse(readFileSync(join(ROOT, 'node_modules', name, 'package.json'), 'utf8')) as Manifest;
}

/** The licence file, or the licence section that ends the README where a package has no such file. */
function licenceText(name: string): string {
  const folder = join(ROOT, 'node_modules', name);
  const names = readdirSync(folder);
  const own = names.find((file) => /^licen[cs]e(\.(md|txt))?$/i.test(file));
  const readme = names.find((file) => /^readme\.md$/i.test(file));
  const text =
    own !== undefined
      ? readFileSync(join(folder, own), 'utf8')
      : readme !== undefined
        ? readFileSync(join(folder, readme), 'utf8').match(
            /^#+ *licen[cs]e\s*\n([\s\S]*?)(?=^#|(?![\s\S]))/im,
          )?.[1]
        : undefined;
  if (text === undefined || !/copyright/i.test(text)) throw new Error(`${name} states no licence text`);
  return text
    .trim()
    .replace(/^\[.*\]:.*$/gm, '')
    .trim();
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  writeFileSync(join(ROOT, 'THIRD-PARTY-NOTICES.md'), notices());
