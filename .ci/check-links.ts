/**
 * Follows every link of the built site and of the Markdown files, without a network: what a link inside the project leads to must be there, and
 * so must the place in it. Links to elsewhere are listed and not followed.
 *
 *     tsx .ci/check-links.ts docs/site
 */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A link of a page: where it stands, and what it says. */
export interface Link {
  readonly line: number;
  readonly target: string;
}

/** A page's links and the places that others may point to. */
export interface Page {
  readonly links: readonly Link[];
  readonly anchors: ReadonlySet<string>;
}

/** What is wrong, and what was not followed. */
export interface LinkReport {
  readonly broken: readonly string[];
  readonly external: ReadonlySet<string>;
  readonly followed: number;
}

/** Links and headings of a Markdown file; what stands in code is neither. */
export function readMarkdown(text: string): Page {
  const links: Link[] = [];
  const anchors = new Set<string>();
  let fence: string | undefined;
  for (const [index, line] of text.split('\n').entries()) {
    const mark = line.match(/^\s*(`{3,}|~{3,})/)?.[1];
    if (fence !== undefined) {
      if (mark?.startsWith(fence)) fence = undefined;
      continue;
    }
    if (mark !== undefined) {
      fence = mark;
      continue;
    }
    const heading = line.match(/^#{1,6}\s+(.*?)\s*#*\s*$/)?.[1];
    if (heading !== undefined) anchors.add(unused(headingAnchor(heading), anchors));
    const prose = line.replace(/`[^`]*`/g, '');
    for (const pattern of [/\]\(\s*<?([^)\s>]+)>?(?:\s+"[^"]*")?\s*\)/g, /^\s*\[[^\]]+\]:\s*<?([^\s>]+)/g])
      for (const [, target] of prose.matchAll(pattern))
        links.push({ line: index + 1, target: target as string });
  }
  return { links, anchors };
}

/** The anchor that hosts of Markdown give a heading: small letters, no punctuation, hyphens for spaces. */
export function headingAnchor(heading: string): string {
  return heading
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}\s_-]/gu, '')
    .replace(/\s/g, '-');
}

/** Links and places of a page of HTML as a generator writes it: attributes in double quotes. */
export function readHtml(text: string): Page {
  const links: Link[] = [];
  const anchors = new Set<string>();
  const markup = text.replace(/<script\b[^>]*>[\s\S]*?<\/script>/g, (script) =>
    // The lines must still count; only the tag itself has a link.
    script.replace(/>[\s\S]*<\/script>$/, (body) => `>${body.replace(/[^\n]/g, '')}`),
  );
  for (const [index, line] of markup.split('\n').entries())
    for (const [tag] of line.matchAll(/<[a-zA-Z][^>]*>/g))
      for (const [, name, value] of tag.matchAll(/\s(href|src|id|name)="([^"]*)"/g)) {
        if (name === 'id' || (name === 'name' && tag.startsWith('<a ')))
          anchors.add(unescapeHtml(value as string));
        else if (name !== 'name') links.push({ line: index + 1, target: unescapeHtml(value as string) });
      }
  return { links, anchors };
}

/** Follows the links of pages of one kind: `files` are paths, `read` makes a page of a text, `kinds` are the ends of names that have places. */
export function checkPages(
  files: readonly string[],
  read: (text: string) => Page,
  kinds: readonly string[],
): LinkReport {
  const pages = new Map<string, Page>();
  const pageOf = (file: string): Page => {
    const page = pages.get(file) ?? read(readFileSync(file, 'utf8'));
    pages.set(file, page);
    return page;
  };
  const broken: string[] = [];
  const external = new Set<string>();
  let followed = 0;
  for (const file of files)
    for (const { line, target } of pageOf(file).links) {
      if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(target)) {
        if (!target.startsWith('data:')) external.add(target);
        continue;
      }
      followed++;
      const [path, fragment] = target.split('#', 2) as [string, string | undefined];
      const reached =
        path === '' ? file : resolve(dirname(file), decodeURIComponent(path.split('?')[0] as string));
      const place = fragment === undefined ? '' : decodeURIComponent(fragment);
      const wrong = whatIsWrong(reached, place);
      if (wrong !== undefined) broken.push(`${file}:${line}: ${target}: ${wrong}`);
    }
  return { broken, external, followed };

  function whatIsWrong(path: string, place: string): string | undefined {
    if (!existsSync(path)) return 'is not there';
    // A server gives a folder's index page; hosts of Markdown list a folder's files.
    const isFolder = statSync(path).isDirectory();
    const file = isFolder && kinds.includes('.html') ? join(path, 'index.html') : path;
    if (!existsSync(file)) return 'is a folder without a page';
    if (place === '') return undefined;
    if (statSync(file).isDirectory() || !kinds.some((kind) => file.endsWith(kind)))
      return 'only pages have places to point to';
    return pageOf(file).anchors.has(place) ? undefined : `no place called ${place} there`;
  }
}

/** The Markdown files of the project, without what was installed or built. */
export function markdownFiles(root: string): readonly string[] {
  const skipped = new Set(['node_modules', 'dist', 'out', 'coverage', 'site', '.git']);
  return readdirSync(root, { withFileTypes: true })
    .filter(({ name }) => !skipped.has(name))
    .flatMap((entry) => {
      const path = join(root, entry.name);
      if (entry.isDirectory()) return markdownFiles(path);
      return entry.name.endsWith('.md') ? [path] : [];
    });
}

function unused(anchor: string, taken: ReadonlySet<string>): string {
  if (!taken.has(anchor)) return anchor;
  for (let n = 1; ; n++) if (!taken.has(`${anchor}-${n}`)) return `${anchor}-${n}`;
}

function unescapeHtml(text: string): string {
  const named: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };
  return text.replace(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => named[name] as string);
}

function htmlFiles(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.html'))
    .map((entry) => join(entry.parentPath, entry.name));
}

function main(site: string | undefined): number {
  const root = fileURLToPath(new URL('..', import.meta.url));
  if (site === undefined || !existsSync(join(site, 'index.html'))) {
    console.error(`${site ?? 'no folder given'}: there is no built site; npm run docs makes it`);
    return 1;
  }
  const files = { markdown: markdownFiles(root), site: htmlFiles(resolve(site)) };
  const reports = {
    markdown: checkPages(files.markdown, readMarkdown, ['.md']),
    site: checkPages(files.site, readHtml, ['.html', '.svg']),
  };
  const external = new Set<string>();
  for (const name of ['markdown', 'site'] as const) {
    const report = reports[name];
    for (const line of report.broken) console.log(`broken: ${relative(root, line)}`);
    for (const target of report.external) external.add(target);
    console.log(
      `${name}: ${files[name].length} files, ${report.followed} links followed, ${report.broken.length} broken`,
    );
  }
  const hosts = [...external].map((target) => target.match(/^[a-z]+:\/*([^/?#]*)/i)?.[1] ?? target);
  console.log(`not followed: ${external.size} links to elsewhere (${[...new Set(hosts)].sort().join(', ')})`);
  const followed = reports.markdown.followed > 0 && reports.site.followed > 0;
  return followed && reports.markdown.broken.length + reports.site.broken.length === 0 ? 0 : 1;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = main(process.argv[2]);
