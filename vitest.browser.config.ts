import { fileURLToPath } from 'node:url';
import { playwright } from '@vitest/browser-playwright';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { chromiumLaunch } from './test/browser/lib/chromium.js';

/** Folders of src, whose tests run in a page too: what an app imports. The other tests are of scripts and of the package. */
const FOLDERS =
  'signal,regions,features,detection,levels,gain,takes,forecast,evaluation,exchange,picture'.split(',');

/** Files that cannot run in a page. */
const NEED_NODE: readonly { readonly files: readonly string[]; readonly why: string }[] = [
  {
    files: ['test/picture/draw-*.test.ts', 'test/picture/text-and-bytes.test.ts'],
    why: 'they draw with @resvg/resvg-js, a native module of Node',
  },
  {
    files: ['test/exchange/cue-points.test.ts'],
    why: 'it writes with wavefile, whose module for pages has no default export',
  },
  {
    files: ['test/*/against-*.test.ts'],
    why: 'they hold sums against packages for Node; sums are the same in a page, which other tests hold',
  },
  { files: ['test/**/speed.test.ts'], why: 'they measure processor time, which a page cannot see' },
];

/** Single tests that cannot, in files that otherwise can. Each is the start of a title. */
const TESTS_THAT_NEED_NODE: readonly string[] = [
  // It measures processor time.
  '500 regions of 100 ms in four minutes at 48 kHz',
];

const noFiles = fileURLToPath(new URL('test/browser/lib/no-files.ts', import.meta.url));
/** Vite makes assets of addresses beside a module and refuses those of a template; here they are plain addresses of its server. */
const plainAddresses: Plugin = {
  name: 'plain-addresses',
  enforce: 'pre',
  transform: (code, id) =>
    id.includes('/test/') ? code.replaceAll(', import.meta.url)', ", import.meta['url'])") : undefined,
};

export default defineConfig({
  test: {
    testNamePattern: new RegExp(`^(?!.*(${TESTS_THAT_NEED_NODE.join('|')}))`),
    projects: [
      {
        test: {
          name: 'driven from Node',
          sequence: { groupOrder: 1 },
          include: ['test/browser/*.browser.ts'],
          testTimeout: 240_000,
          hookTimeout: 120_000,
          globalSetup: 'test/browser/lib/build-library.ts',
        },
      },
      {
        test: {
          name: 'example page',
          // By itself.
          sequence: { groupOrder: 0 },
          include: ['test/browser/example/*.browser.ts'],
          // One page at a time: each has an audio thread, and times are measured.
          fileParallelism: false,
          testTimeout: 240_000,
          hookTimeout: 120_000,
          globalSetup: 'test/browser/lib/build-example.ts',
        },
      },
      {
        plugins: [plainAddresses],
        resolve: { alias: { 'node:fs': noFiles, 'node:path': noFiles, 'node:url': noFiles } },
        test: {
          name: 'in the page',
          sequence: { groupOrder: 2 },
          include: [`test/{${FOLDERS.join(',')}}/**/*.test.ts`],
          exclude: NEED_NODE.flatMap(({ files }) => files),
          setupFiles: ['test/browser/lib/page-globals.ts', 'test/lib/property-seed.ts'],
          testTimeout: 240_000,
          hookTimeout: 240_000,
          maxWorkers: 2,
          // Pure functions leave nothing behind, so files may share a page and what it has loaded.
          isolate: false,
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            connectTimeout: 240_000,
            provider: playwright({ launchOptions: chromiumLaunch() }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
    ],
  },
});
