import { fileURLToPath } from 'node:url';
import { playwright } from '@vitest/browser-playwright';
import { defineConfig } from 'vitest/config';
import { chromiumLaunch } from './test/browser/lib/chromium.js';

const noFiles = fileURLToPath(new URL('test/browser/lib/no-files.ts', import.meta.url));

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'driven from Node',
          include: ['test/browser/**/*.browser.ts'],
          testTimeout: 240_000,
          hookTimeout: 120_000,
          globalSetup: 'test/browser/lib/build-library.ts',
        },
      },
      {
        resolve: { alias: { 'node:fs': noFiles, 'node:path': noFiles, 'node:url': noFiles } },
        test: {
          name: 'in the page',
          include: [
            'test/{signal,regions,features,detection,levels,gain,takes,forecast,evaluation,exchange,picture}/**/*.test.ts',
          ],
          exclude: [
            'test/picture/draw-*.test.ts',
            'test/picture/text-and-bytes.test.ts',
            'test/**/speed.test.ts',
          ],
          testTimeout: 240_000,
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            provider: playwright({ launchOptions: chromiumLaunch() }),
            instances: [{ browser: 'chromium' }],
          },
        },
      },
    ],
  },
});
