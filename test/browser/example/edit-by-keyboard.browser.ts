import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { regionsFromJson } from '../../../src/exchange/regions-from-json.js';
import type { RegionList } from '../../../src/regions/region.js';
import { type ExamplePage, openExample } from '../lib/example-page.js';

let example: ExamplePage;
let found: RegionList;

beforeAll(async () => {
  example = await openExample();
});
afterAll(() => example?.close());

async function press(...keys: readonly string[]): Promise<void> {
  for (const key of keys) await example.page.keyboard.press(key);
}

/** The regions as the page writes them; the focus stays where it is. */
async function regions(): Promise<RegionList> {
  const { bytes } = await example.download(() =>
    example.page.evaluate(`document.querySelector('#save-regions').click()`),
  );
  const read = regionsFromJson(bytes.toString('utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

/** Walks the cursor to a time by the keys for seconds, hundredths and thousandths. */
async function walkTo(seconds: number): Promise<void> {
  const milliseconds = Math.round(1000 * seconds);
  await press('Home');
  for (let i = 0; i < Math.floor(milliseconds / 1000); i++) await press('Control+ArrowRight');
  for (let i = 0; i < Math.floor((milliseconds % 1000) / 10); i++) await press('ArrowRight');
  for (let i = 0; i < milliseconds % 10; i++) await press('Shift+ArrowRight');
}

/** A stretch with no region in it or within 20 ms of it: its start in whole milliseconds. */
function freeStretch(list: RegionList, durationSeconds: number): number {
  const edges = [0, ...list.regions.flatMap(({ startSample, endSample }) => [startSample, endSample])];
  for (let i = 0; i < edges.length; i += 2) {
    const from = edges[i]! / list.sampleRateHz + 0.02;
    const to = (edges[i + 1] ?? list.lengthSamples) / list.sampleRateHz - 0.02;
    if (to - from > durationSeconds + 0.001) return Math.ceil(1000 * from) / 1000;
  }
  throw new Error('the regions leave no room');
}

describe('with the keyboard alone', () => {
  test('the built-in take opens, and its consonants are found', async () => {
    await example.screenshot('1-welcome');
    await example.tabTo('Built-in take');
    await press('Enter');
    await example.ready();
    // The invented song has four lines, each with several esses; common sense, not a score, which test/detection keeps.
    expect(await example.text('summary')).toMatch(/^\d\d regions, \d+ turned down/);
    found = await regions();
    expect(found.regions.filter(({ kind }) => kind === 'sibilant').length).toBeGreaterThan(10);
    expect(await example.text('summary')).toContain(`${found.regions.length} regions`);
    await example.screenshot('2-found');
  });

  test('N and P step through the regions in order, U to those that are uncertain', async () => {
    await press('Home', 'n');
    for (const region of found.regions.slice(0, 5)) {
      const seconds = (region.startSample / found.sampleRateHz).toFixed(3);
      expect(await example.text('region-text')).toContain(`${region.kind}, ${seconds} s`);
      await press('n');
    }
    await press('p');
    const fifth = found.regions[4]!;
    expect(await example.text('region-text')).toContain(
      `${fifth.kind}, ${(fifth.startSample / found.sampleRateHz).toFixed(3)} s`,
    );
    await press('Home', 'u');
    // The page's README: uncertain is a confidence below 0.9.
    const uncertain = found.regions.find(({ confidence }) => confidence < 0.9);
    if (uncertain === undefined) expect(await example.text('status')).toContain('No uncertain region');
    else
      expect(await example.text('region-text')).toContain(
        `${(uncertain.startSample / found.sampleRateHz).toFixed(3)} s`,
      );
  });

  test('a marked range becomes a region 6 dB down, the same key again takes 6 more', async () => {
    const at = freeStretch(found, 0.06);
    await walkTo(at);
    await press('f');
    for (let i = 0; i < 5; i++) await press('ArrowRight');
    await press('t');
    expect(await example.text('status')).toMatch(/^Range of 50 ms/);
    await press('d');
    expect(await example.text('region-text')).toMatch(/custom.*, −6 dB/);
    await press('d');
    expect(await example.text('region-text')).toMatch(/custom.*, −12 dB/);
    await example.screenshot('3-marked');
    const list = await regions();
    expect(list.regions).toHaveLength(found.regions.length + 1);
    const made = list.regions.find(({ id }) => !found.regions.some((region) => region.id === id))!;
    expect(made).toMatchObject({ kind: 'custom', gainDb: -12, onsetSample: null });
    // Snapping may move an edge by 1 ms (the library's rule), the cursor was set to whole milliseconds.
    expect(Math.abs(made.startSample / list.sampleRateHz - at)).toBeLessThan(0.0011);
    expect(Math.abs(made.endSample / list.sampleRateHz - at - 0.05)).toBeLessThan(0.0011);
  });

  test('the arrows change its gain by 1 and 0.1 dB; undo and redo go back and on', async () => {
    await press('Escape', 'ArrowUp', 'Shift+ArrowDown');
    expect(await example.text('region-text')).toContain('−11.1 dB');
    await press('z');
    expect(await example.text('region-text')).toContain('−11 dB');
    await press('z', 'z');
    expect(await example.text('region-text')).toContain('−6 dB');
    await press('Shift+Z');
    expect(await example.text('region-text')).toContain('−12 dB');
    await press('Control+z', 'Control+z');
    // Everything is as it was found, to the sample and the id.
    expect(await regions()).toEqual(found);
    await press('Shift+Z');
    expect((await regions()).regions).toHaveLength(found.regions.length + 1);
    await press('z');
  });

  test('a region is turned down, switched off, locked and removed', async () => {
    await press('Home', 'n');
    const { id, gainDb } = found.regions[0]!;
    await press('d');
    const first = async () => (await regions()).regions.find((region) => region.id === id);
    expect(await first()).toMatchObject({ gainDb: gainDb - 6, bypassed: false });
    await press('o');
    expect(await first()).toMatchObject({ gainDb: gainDb - 6, bypassed: true });
    await press('o', 'l', 'd');
    expect(await example.text('status')).toMatch(/locked/);
    await press('Delete');
    expect(await example.text('status')).toMatch(/locked/);
    expect(await first()).toMatchObject({ gainDb: gainDb - 6, bypassed: false, locked: true });
    await press('l', 'Delete');
    expect(await first()).toBeUndefined();
    for (let i = 0; i < 6; i++) await press('z');
    expect(await regions()).toEqual(found);
  });

  test('a decision gives other gains to all, one undo takes it back', async () => {
    await example.tabTo('Decision');
    await press('l');
    await example.tabTo('Decide');
    await press('Enter');
    const levelled = await regions();
    expect(levelled.regions.map(({ id }) => id)).toEqual(found.regions.map(({ id }) => id));
    const gains = new Set(levelled.regions.filter(({ kind }) => kind === 'sibilant').map((r) => r.gainDb));
    // One cut for all was what the page began with; esses of several loudnesses need several cuts.
    expect(gains.size).toBeGreaterThan(3);
    for (const region of levelled.regions) expect(region.gainDb).toBeLessThanOrEqual(0);
    await example.screenshot('4-levelled');
    await press('z');
    expect(await regions()).toEqual(found);
  });

  test('single letters do nothing where keys are off, or in a field', async () => {
    await example.tabTo('Cut in dB');
    await press('d', 'o', 'z');
    await example.tabTo('Keys on');
    await press('Space');
    await press('d', 'g');
    expect(await regions()).toEqual(found);
    await example.tabTo('Keys on');
    await press('Space');
  });

  test('nothing went wrong in the page meanwhile', () => {
    expect(example.errors).toEqual([]);
  });
});
