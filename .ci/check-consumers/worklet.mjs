import { existsSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';
import { chromium } from 'playwright';

/** The variable CHROMIUM, else where Debian puts it. */
const CHROMIUM = process.env.CHROMIUM || '/usr/bin/chromium';

const TYPES = { '.html': 'text/html', '.js': 'text/javascript' };

/** Loads the installed ES module into an audio worklet of headless Chromium and compares its output with the whole-clip render. */
export async function checkWorklet(folder) {
  if (!existsSync(CHROMIUM)) {
    console.log(`skipped: there is no Chromium at ${CHROMIUM}`);
    return [];
  }
  const server = createServer((request, response) => serve(folder, request, response));
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  // As root Chromium starts without its sandbox only; it loads nothing but this server's pages.
  const args = [...(process.getuid?.() === 0 ? ['--no-sandbox'] : []), '--disable-dev-shm-usage'];
  const browser = await chromium.launch({ executablePath: CHROMIUM, args });
  try {
    const page = await browser.newPage();
    const problems = [];
    page.on('pageerror', ({ message }) => problems.push(message));
    page.on('console', (message) => message.type() === 'error' && problems.push(message.text()));
    await page.goto(`http://127.0.0.1:${server.address().port}/worklet/index.html`);
    await page.waitForFunction(() => globalThis.compareWorklet !== undefined);
    const { samples, changed, differing } = await page.evaluate(() => globalThis.compareWorklet());
    console.log(
      `Chromium ${browser.version()}: ${samples} samples, ${changed} changed, ${differing} unlike renderGain`,
    );
    if (changed === 0) problems.push('nothing was turned down');
    if (differing > 0) problems.push(`${differing} samples differ from renderGain`);
    return problems;
  } catch (error) {
    return [error.message];
  } finally {
    await browser.close();
    server.close();
  }
}

/** The folder's files and nothing above them. */
function serve(folder, request, response) {
  const path = join(folder, normalize(new URL(request.url, 'http://localhost').pathname));
  if (!existsSync(path) || !statSync(path).isFile()) {
    // Browsers ask for this by themselves.
    response.writeHead(path.endsWith('favicon.ico') ? 204 : 404).end();
    return;
  }
  response.writeHead(200, { 'content-type': TYPES[extname(path)] ?? 'application/octet-stream' });
  response.end(readFileSync(path));
}
