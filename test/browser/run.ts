/**
 * Runs the browser tests in headless Chromium: `npm run test:browser`. What is added is handed to vitest, as `--project 'in the page'`.
 * Where there is no Chromium it says so and ends well: .ci/chromium.sh finds or installs one.
 */
import { spawnSync } from 'node:child_process';
import { chromiumPath } from './lib/chromium.js';

const path = chromiumPath();
if (path === null) {
  console.log('skipped: there is no Chromium (set CHROMIUM to its path, or run .ci/chromium.sh as root)');
} else {
  const command = [
    '--no-install',
    'vitest',
    'run',
    '--config',
    'vitest.browser.config.ts',
    ...process.argv.slice(2),
  ];
  const { status } = spawnSync('npx', command, { stdio: 'inherit', env: { ...process.env, CHROMIUM: path } });
  process.exitCode = status ?? 1;
}
