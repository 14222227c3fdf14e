/**
 * Runs the browser tests in headless Chromium: `npm run test:browser`. With `--all` every file of the library's suite that can
 * run in a page does, without it those that vitest.browser.config.ts chooses for their speed. Anything else is handed to vitest.
 * Where there is no Chromium it says so and ends well: .ci/chromium.sh finds or installs one.
 */
import { spawnSync } from 'node:child_process';
import { chromiumPath } from './lib/chromium.js';

const path = chromiumPath();
if (path === null) {
  console.log('skipped: there is no Chromium (set CHROMIUM to its path, or run .ci/chromium.sh as root)');
} else {
  const options = process.argv.slice(2);
  const { status } = spawnSync(
    'npx',
    [
      '--no-install',
      'vitest',
      'run',
      '--config',
      'vitest.browser.config.ts',
      ...options.filter((o) => o !== '--all'),
    ],
    {
      stdio: 'inherit',
      env: { ...process.env, CHROMIUM: path, BROWSER_TESTS: options.includes('--all') ? 'all' : 'quick' },
    },
  );
  process.exitCode = status ?? 1;
}
