import { posix } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { FOLDERS, filesBelow, importedPaths } from '../lib/project.js';

const files = filesBelow('src', '.ts');

/** Names of what the platform has and the language has not, or that make two runs differ. */
const FORBIDDEN = [
  'console',
  'process',
  'Buffer',
  'require',
  'window',
  'document',
  'globalThis',
  'Date',
  'performance',
];

describe('the sources', () => {
  it('are found', () => {
    expect(files.length).toBeGreaterThan(50);
  });

  it('lie in the folders of the design, the main index apart', () => {
    const strays = files.filter(({ path }) => path !== 'src/index.ts' && !FOLDERS.includes(folderOf(path)));
    expect(strays.map(({ path }) => path)).toEqual([]);
  });

  it('import only from their own folder and folders before it', () => {
    const wrong = files
      .filter(({ path }) => path !== 'src/index.ts')
      .flatMap(({ path, text }) =>
        importedPaths(text)
          .filter((to) => to.startsWith('.'))
          .filter((to) => {
            const target = posix.join(posix.dirname(path), to);
            return !(
              FOLDERS.indexOf(folderOf(target)) <= FOLDERS.indexOf(folderOf(path)) &&
              target.startsWith('src/')
            );
          })
          .map((to) => `${path} imports ${to}`),
      );
    expect(wrong).toEqual([]);
  });

  it('import each other by file, not through an index, and end in .js', () => {
    const wrong = files
      .filter(({ path }) => !path.endsWith('index.ts'))
      .flatMap(({ path, text }) =>
        importedPaths(text)
          .filter((to) => to.startsWith('.') && (!to.endsWith('.js') || to.endsWith('/index.js')))
          .map((to) => `${path} imports ${to}`),
      );
    expect(wrong).toEqual([]);
  });

  it('use fft.js, and further packages in exchange and picture alone', () => {
    const wrong = files.flatMap(({ path, text }) =>
      importedPaths(text)
        .filter((to) => !to.startsWith('.') && to !== 'fft.js')
        .filter(() => !['exchange', 'picture'].includes(folderOf(path)))
        .map((to) => `${path} imports ${to}`),
    );
    expect(wrong).toEqual([]);
  });

  it('reach for no platform, no clock and no chance', () => {
    expect(files.flatMap(({ path, text }) => forbiddenNames(path, text))).toEqual([]);
  });

  it('have no file over 300 lines, and a median under 100', () => {
    const lengths = files.map(({ path, text }) => ({ path, lines: text.trimEnd().split('\n').length }));
    expect(lengths.filter(({ lines }) => lines > 300)).toEqual([]);
    const sorted = lengths.map(({ lines }) => lines).sort((a, b) => a - b);
    expect(sorted[Math.floor(sorted.length / 2)]).toBeLessThan(100);
  });

  it('have indexes that only re-export, by name', () => {
    const wrong = files
      .filter(({ path }) => path.endsWith('/index.ts') && path !== 'src/index.ts')
      .filter(
        ({ text }) =>
          // The comment at the top is the folder's page in the reference.
          /export \*/.test(text) ||
          !/^(\/\*\*[^/]*\*\/\s*)?(export (type )?\{[^}]*\} from '[^']+';\s*)+$/.test(text),
      );
    expect(wrong.map(({ path }) => path)).toEqual([]);
  });

  it('are mostly named after what they export', () => {
    const others = files
      .filter(({ path }) => !path.endsWith('index.ts'))
      .filter(({ path, text }) => !isNamedAfterAnExport(path, text));
    if (others.length > 0)
      console.info(`not named after an export: ${others.map(({ path }) => path.slice(4)).join(', ')}`);
    // Files such as time.ts hold a few functions of one idea, so a share is asked for and not every file.
    expect(others.length / files.length).toBeLessThan(0.3);
  });
});

describe('the search for forbidden names', () => {
  it('sees a use and not a comment, a string, a property or a local name', () => {
    expect(forbiddenNames('a.ts', 'const t = Date.now() + Math.random();')).toEqual([
      'a.ts: Date',
      'a.ts: Math.random',
    ]);
    expect(forbiddenNames('a.ts', "// Date\nconst s = 'process'; s.process;")).toEqual([]);
    expect(forbiddenNames('a.ts', 'function f(window: number) { return window; }')).toEqual([]);
    expect(forbiddenNames('a.ts', 'console.log(1);')).toEqual(['a.ts: console']);
  });
});

function folderOf(path: string): string {
  return path.split('/')[1] as string;
}

function forbiddenNames(path: string, text: string): readonly string[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
  const used: string[] = [];
  const declared = new Set<string>();
  const visit = (node: ts.Node): void => {
    if (ts.isParameter(node) || ts.isVariableDeclaration(node) || ts.isBindingElement(node))
      declared.add(node.name.getText(source));
    if (ts.isPropertyAccessExpression(node) && node.getText(source) === 'Math.random')
      used.push('Math.random');
    if (ts.isIdentifier(node) && FORBIDDEN.includes(node.text) && !isName(node)) used.push(node.text);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return used.filter((name) => !declared.has(name)).map((name) => `${path}: ${name}`);
}

/** Whether an identifier names a property, which is no use of the global of that name. */
function isName(node: ts.Identifier): boolean {
  const { parent } = node;
  return (
    (ts.isPropertyAccessExpression(parent) && parent.name === node) ||
    ((ts.isPropertyAssignment(parent) || ts.isPropertySignature(parent)) && parent.name === node)
  );
}

/** Whether the file's name, joined up, is that of an export, or an export begins or ends with it. */
function isNamedAfterAnExport(path: string, text: string): boolean {
  const key = posix.basename(path, '.ts').replaceAll('-', '');
  const names = [...text.matchAll(/^export (?:async )?(?:function\*?|const|interface|type) (\w+)/gm)].map(
    (match) => (match[1] as string).toLowerCase().replaceAll('_', ''),
  );
  return names.some((name) => name.startsWith(key) || name.endsWith(key));
}
