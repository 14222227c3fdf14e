import { mkdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright';
import { expect, inject } from 'vitest';
import { openBrowserPage } from './browser-page.js';
import { serveFolders } from './serve-folders.js';

/** Where screenshots go, to be looked at; no part of the project. */
const PICTURES = fileURLToPath(new URL('../../../out/browser/', import.meta.url));
/** Longest wait for anything in the page, in milliseconds: several times what a busy machine of two cores needs. */
const MOST_WAIT_MS = 120_000;

/** The built example page in a Chromium of its own. */
export interface ExamplePage {
  readonly page: Page;
  readonly origin: string;
  /** Errors that nothing caught and messages of level error, in order. */
  readonly errors: readonly string[];
  /** Address of everything that the page asked for, in order. */
  readonly requests: readonly string[];
  /** Waits until a take is open and its search has ended. */
  ready(): Promise<void>;
  /** What a status, a region, or a count says now. */
  text(
    id: 'status' | 'region-text' | 'summary' | 'problem-text' | 'take-name' | 'match-text',
  ): Promise<string>;
  /** Bytes and name of the file that an action has the page save. */
  download(act: () => Promise<void>): Promise<{ readonly name: string; readonly bytes: Buffer }>;
  /** Presses Tab until the control of this accessible name has the focus; Shift+Tab where `back`. Fails after a whole round. */
  tabTo(name: string, back?: boolean): Promise<void>;
  screenshot(name: string, fullPage?: boolean): Promise<void>;
  close(): Promise<void>;
}

/** Scripts of the tests' own, among them a meter for the audio thread: the page allows none but its own server's. */
const PAGES = fileURLToPath(new URL('../pages/', import.meta.url));
const METER_ADDRESS = '/pages/loudest-meter.js';

/**
 * Runs in the page before its own code: keeps every audio context with an analyser and a meter on what it plays, the time of each
 * change of phase, and the long tasks of the main thread.
 */
const WATCH = `
  window.watched = { contexts: [], taps: [], meters: [], phases: [], longTasks: [] };
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) watched.longTasks.push({ startTime, duration });
  }).observe({ type: 'longtask', buffered: true });
  const Context = window.AudioContext;
  window.AudioContext = class extends Context {
    constructor(options) {
      super(options);
      watched.contexts.push(this);
      this.meterIsThere = this.audioWorklet.addModule('${METER_ADDRESS}');
    }
  };
  const connect = AudioNode.prototype.connect;
  AudioNode.prototype.connect = function (target, ...rest) {
    if (target instanceof AudioDestinationNode && target.context instanceof Context) {
      const tap = new AnalyserNode(target.context, { fftSize: 2048 });
      watched.taps.push(tap);
      connect.call(this, tap);
      target.context.meterIsThere.then(() => {
        const meter = new AudioWorkletNode(target.context, 'loudest', { numberOfOutputs: 0 });
        watched.meters.push(meter);
        connect.call(this, meter);
      });
    }
    return connect.call(this, target, ...rest);
  };
  addEventListener('DOMContentLoaded', () => {
    const main = document.querySelector('main');
    const note = () => {
      watched.phases.push({ phase: main.dataset.phase, at: performance.now() });
      performance.mark('phase ' + main.dataset.phase);
    };
    new MutationObserver(note).observe(main, { attributeFilter: ['data-phase'] });
    note();
  });
`;

/** Opens the page, its audio thread and all. */
export async function openExample(): Promise<ExamplePage> {
  const server = await serveFolders({ '/': inject('examplePage'), '/pages': PAGES });
  const { page, errors, close } = await openBrowserPage();
  const requests: string[] = [];
  page.context().on('request', (request) => {
    if (!request.url().endsWith(METER_ADDRESS)) requests.push(request.url());
  });
  page.setDefaultTimeout(MOST_WAIT_MS);
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.addInitScript({ content: WATCH });
  await page.goto(`${server.origin}/`);
  return {
    page,
    origin: server.origin,
    errors,
    requests,
    async ready() {
      await page.locator('main[data-phase="ready"]').waitFor();
    },
    async text(id) {
      return (await page.locator(`#${id}`).textContent()) ?? '';
    },
    async download(act) {
      const [download] = await Promise.all([page.waitForEvent('download'), act()]);
      return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
    },
    async tabTo(name, back = false) {
      // More stops than the page has.
      for (let stop = 0; stop < 150; stop++) {
        await page.keyboard.press(back ? 'Shift+Tab' : 'Tab');
        if ((await focusedName(page)) === name) return;
      }
      expect.fail(`no control named "${name}" was reached by Tab`);
    },
    async screenshot(name, fullPage = true) {
      mkdirSync(PICTURES, { recursive: true });
      await page.screenshot({ path: `${PICTURES}${name}.png`, fullPage });
    },
    async close() {
      await close();
      await server.close();
    },
  };
}

/** Name of what has the focus, as far as this page gives names: a label of its own, the label around it, or its text without the keys. */
function focusedName(page: Page): Promise<string> {
  return page.evaluate(`(() => {
    const node = document.activeElement;
    if (node === null || node === document.body) return '';
    const given = node.getAttribute('aria-label');
    if (given !== null) return given;
    const named = (node.closest('label') ?? node).cloneNode(true);
    for (const hidden of named.querySelectorAll('[aria-hidden], output, select')) hidden.remove();
    return named.textContent.trim();
  })()`) as Promise<string>;
}
