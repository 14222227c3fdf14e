import { existsSync } from 'node:fs';

/** Where Debian puts it; the tests fetch no browser of their own. */
const DEBIAN_CHROMIUM = '/usr/bin/chromium';

/** Path of the Chromium to test in: the variable CHROMIUM, else Debian's; null where there is none. */
export function chromiumPath(): string | null {
  const { CHROMIUM } = process.env;
  const path = CHROMIUM || DEBIAN_CHROMIUM;
  return existsSync(path) ? path : null;
}

/** How every browser test starts Chromium. */
export interface ChromiumLaunch {
  readonly executablePath: string;
  readonly args: string[];
}

/** Launch options for playwright. Throws where there is no Chromium: run.ts has asked before. */
export function chromiumLaunch(): ChromiumLaunch {
  const executablePath = chromiumPath();
  if (executablePath === null) throw new Error(`there is no Chromium at ${DEBIAN_CHROMIUM} or in CHROMIUM`);
  return {
    executablePath,
    args: [
      // Chromium refuses its sandbox to root, which is what a bare machine in CI runs as.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      // A container's /dev/shm may hold 64 MB only.
      '--disable-dev-shm-usage',
    ],
  };
}
