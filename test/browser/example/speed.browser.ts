import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { longTake } from '../lib/example-files.js';
import { type ExamplePage, openExample } from '../lib/example-page.js';
import { type SearchTimes, searchTimes, TRACE_CATEGORIES } from '../lib/search-trace.js';

/** Our goals for this class of machine (two cores): seconds for a 5-minute take at 48 kHz, and the longest task. */
const MOST_SECONDS = 3;
const MOST_TASK_MS = 50;
/** A machine that runs other checks shares its caches and its clock too: half as much again may pass. */
const BUSY = 1.5;
/** Other work can only make a run slower, so the best of a few tells the page's own pace. The first warms the code up. */
const MOST_RUNS = 4;

let example: ExamplePage;
let folder: string;
let file: string;

beforeAll(async () => {
  // As a file on disk: bytes handed over in memory would go through the page's own thread.
  folder = mkdtempSync(join(tmpdir(), 'lenition-long-'));
  const { name, buffer } = longTake();
  file = join(folder, name);
  writeFileSync(file, buffer);
  example = await openExample();
});
afterAll(async () => {
  await example?.close();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

/** Waits for an expression to hold. Asked from outside, since the page's policy lets nobody evaluate text inside. */
async function until(expression: string): Promise<void> {
  await expect.poll(() => example.page.evaluate(expression), { timeout: 120_000, interval: 200 }).toBe(true);
}

/** Opens the take and traces until a second after its regions are there, when all is drawn. */
async function run(): Promise<SearchTimes> {
  const browser = example.page.context().browser()!;
  await example.page.evaluate(`watched.phases.length = 0`);
  await browser.startTracing(example.page, { categories: [...TRACE_CATEGORIES] });
  await example.page.locator('#take-file').setInputFiles(file);
  // Otherwise "ready" might be that of the run before.
  await until(`watched.phases.some(({ phase }) => phase === 'finding')`);
  await example.ready();
  await example.page.waitForTimeout(1000);
  return searchTimes(await browser.stopTracing());
}

test('a five-minute take at 48 kHz is searched in 3 s, and no task blocks the page for over 50 ms', async () => {
  const runs: SearchTimes[] = [];
  const best = (field: keyof SearchTimes): number => Math.min(...runs.map((times) => times[field]));
  while (runs.length < MOST_RUNS) {
    const times = await run();
    runs.push(times);
    console.log(
      `run ${runs.length}: regions after ${times.seconds.toFixed(2)} s (search: ${times.processorSeconds.toFixed(2)} s of ` +
        `processor time, ${times.taskSeconds.toFixed(2)} s by the clock); longest task of the page ` +
        `${times.longestTaskMs.toFixed(0)} ms (${times.longestProcessorMs.toFixed(0)} ms of processor time)`,
    );
    if (runs.length > 1 && best('seconds') <= MOST_SECONDS && best('longestTaskMs') <= MOST_TASK_MS) break;
  }
  await example.screenshot('11-five-minutes');
  expect(best('processorSeconds')).toBeLessThanOrEqual(BUSY * MOST_SECONDS);
  expect(best('longestProcessorMs')).toBeLessThanOrEqual(BUSY * MOST_TASK_MS);
  // By the clock only where the search had a core to itself: on a crowded machine the clock tells of the others.
  const free = runs.filter(({ taskSeconds, processorSeconds }) => taskSeconds < 1.1 * processorSeconds);
  if (free.length === 0) console.log('the machine was too busy to judge by the clock');
  else {
    expect(Math.min(...free.map(({ seconds }) => seconds))).toBeLessThanOrEqual(BUSY * MOST_SECONDS);
    expect(Math.min(...free.map(({ longestTaskMs }) => longestTaskMs))).toBeLessThanOrEqual(
      BUSY * MOST_TASK_MS,
    );
  }
  expect(example.errors).toEqual([]);
});

test('a task that blocks is seen', async () => {
  // The check of the check.
  const browser = example.page.context().browser()!;
  await browser.startTracing(example.page, { categories: [...TRACE_CATEGORIES] });
  await example.page.evaluate(`(() => {
    performance.mark('phase finding');
    setTimeout(() => {
      for (const end = performance.now() + 300; performance.now() < end; );
      performance.mark('phase ready');
    });
    document.querySelector('#find-again').click();
  })()`);
  await example.page.waitForTimeout(1000);
  await example.ready();
  expect(searchTimes(await browser.stopTracing()).longestTaskMs).toBeGreaterThan(290);
  await until(`watched.longTasks.some(({ duration }) => duration > 290)`);
});

test('a search can be stopped, and what was found so far stays', async () => {
  await example.page.getByRole('button', { name: 'Find again' }).click();
  await example.page.getByRole('button', { name: 'Stop finding' }).click();
  await example.ready();
  expect(await example.text('summary')).toMatch(/^\d+ regions/);
});
