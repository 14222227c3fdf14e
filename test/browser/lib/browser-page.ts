import { type Browser, chromium, type Page } from 'playwright';
import { chromiumLaunch } from './chromium.js';

/** A page of a Chromium of its own, and what went wrong in it. */
export interface BrowserPage {
  readonly browser: Browser;
  readonly page: Page;
  /** Errors that nothing caught and messages of level error, in order. */
  readonly errors: readonly string[];
  close(): Promise<void>;
}

/** Starts Chromium with an empty page. `args` come beside those that every test uses. */
export async function openBrowserPage(args: readonly string[] = []): Promise<BrowserPage> {
  const { executablePath, args: common } = chromiumLaunch();
  const browser = await chromium.launch({ executablePath, args: [...common, ...args] });
  const page = await browser.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  return { browser, page, errors, close: () => browser.close() };
}

/** Opens the blank page of a server of test/browser/pages, with one of its modules at hand as `tests`. */
export async function openTestModule({ page }: BrowserPage, origin: string, module: string): Promise<void> {
  await page.goto(`${origin}/pages/blank.html`);
  await page.addScriptTag({
    type: 'module',
    content: `import * as tests from '/pages/${module}'; window.tests = tests;`,
  });
  await page.waitForFunction('window.tests');
}
