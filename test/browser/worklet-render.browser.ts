import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { renderGain } from '../../src/gain/render-gain.js';
import { FADE_SHAPES, type Region, type RegionList } from '../../src/regions/region.js';
import { anyList, listOf, noise, region } from '../gain/lists.js';
import { type BrowserPage, openBrowserPage, openTestModule } from './lib/browser-page.js';
import { type FileServer, serveFolders } from './lib/serve-folders.js';

const PAGES = fileURLToPath(new URL('pages', import.meta.url));

/** Frames of a render quantum: fixed by W3C Web Audio API 1.0 (2021), 1.1 "The BaseAudioContext Interface" (from memory). */
const QUANTUM = 128;

let server: FileServer;
let opened: BrowserPage;

beforeAll(async () => {
  server = await serveFolders({ '/lib': inject('library'), '/pages': PAGES });
  opened = await openBrowserPage();
  await openTestModule(opened, server.origin, 'render-in-worklet.js');
});

afterAll(async () => {
  await opened?.close();
  await server?.close();
});

interface Job {
  readonly list: RegionList;
  readonly channelCount: number;
  readonly banded?: boolean;
  /** Where in the clip playing begins. */
  readonly startSample?: number;
  /** Where the renderer is told that it begins, if that is not so. */
  readonly rendererStartSample?: number;
}

interface Rendered {
  readonly differing: number;
  readonly changed: number;
  readonly latency: number;
  readonly failure: string | null;
  readonly first: readonly number[];
}

function render(job: Job): Promise<Rendered> {
  return opened.page.evaluate(`tests.renderInWorklet(${JSON.stringify(job)})`) as Promise<Rendered>;
}

/** Equal to the bit, and by no accident: the gain did change samples. */
async function expectSameBits(job: Job): Promise<Rendered> {
  const rendered = await render(job);
  expect(rendered).toMatchObject({ failure: null, differing: 0 });
  expect(rendered.changed).toBeGreaterThan(0);
  return rendered;
}

/** Regions that lie every way to the quanta: whole ones, one sample over either edge, touching on an edge and inside, fades across edges. */
function awkwardList(fadeShape: Region['fadeShape'], sampleRateHz: number): RegionList {
  const at = (
    startSample: number,
    endSample: number,
    gainDb: number,
    fadeInSamples: number,
    fadeOutSamples: number,
  ): Region => region({ startSample, endSample, gainDb, fadeInSamples, fadeOutSamples, fadeShape });
  const q = QUANTUM;
  const list = listOf(
    20 * q + 37,
    at(0, 1, -6, 0, 0),
    at(q - 1, q + 1, -12, 1, 1),
    at(2 * q, 3 * q, -6, 0, 0),
    at(3 * q, 4 * q + 1, -20, 60, 60),
    at(5 * q - 40, 7 * q + 40, -6, 70, 90),
    at(7 * q + 40, 8 * q + 5, -12, 50, 30),
    at(8 * q + 5, 9 * q, 3, 0, 0),
    at(10 * q + 1, 15 * q - 1, -120, 300, 300),
    at(16 * q - 1, 16 * q, -3, 1, 0),
    at(18 * q + 3, 20 * q + 37, -6, 100, 0),
  );
  return { ...list, sampleRateHz };
}

describe('an audio worklet gives the bits of the whole-clip render', () => {
  for (const fadeShape of FADE_SHAPES)
    for (const sampleRateHz of [8_000, 44_100, 48_000, 96_000, 192_000])
      for (const channelCount of [1, 2])
        test(`${fadeShape} fades at ${sampleRateHz} Hz in ${channelCount === 1 ? 'mono' : 'stereo'}`, async () => {
          await expectSameBits({ list: awkwardList(fadeShape, sampleRateHz), channelCount });
        });

  test('playing from any sample, be it the start of a quantum of the clip or not', async () => {
    const list = awkwardList('raisedCosine', 48_000);
    for (const startSample of [1, 127, 128, 700, 1500, list.lengthSamples - 1])
      await expectSameBits({ list, channelCount: 2, startSample });
  });

  test('any list, up to seven quanta long', async () => {
    // Drawn with a fixed seed, since each is played in the browser. An empty clip cannot be played.
    const lists = fc.sample(anyList(), { numRuns: 40, seed: 7 }).filter((list) => list.lengthSamples > 0);
    let changed = 0;
    for (const [i, list] of lists.entries()) {
      const rendered = await render({ list, channelCount: 1 + (i % 2) });
      expect(rendered, JSON.stringify(list)).toMatchObject({ failure: null, differing: 0 });
      if (rendered.changed > 0) changed++;
    }
    // Some are empty, some have nothing but bypassed regions; of those that are heard there must be enough to mean something.
    expect(changed).toBeGreaterThan(10);
  });

  test('with gain on bands, as late as the renderer says', async () => {
    for (const band of [
      { lowHz: 4000, highHz: 24_000 },
      { lowHz: 0, highHz: 300 },
    ]) {
      const list = listOf(
        24_000,
        region({ startSample: 2000, endSample: 5003, band, fadeInSamples: 200, fadeOutSamples: 333 }),
        region({
          startSample: 5003,
          endSample: 7001,
          band,
          gainDb: -9,
          fadeInSamples: 150,
          fadeOutSamples: 99,
        }),
        region({ startSample: 9000, endSample: 9100, fadeInSamples: 20, fadeOutSamples: 20 }),
      );
      const { latency } = await expectSameBits({ list, channelCount: 2, banded: true });
      expect(latency).toBeGreaterThan(0);
    }
  });

  test('but not where the renderer stands a sample off, be it late or early', async () => {
    // The check of the check: without it, a comparison of a clip with itself would pass as well.
    const list = awkwardList('linear', 48_000);
    for (const [startSample, rendererStartSample] of [
      [0, 1],
      [1, 0],
    ] as const) {
      const rendered = await render({ list, channelCount: 1, startSample, rendererStartSample });
      expect(rendered.failure).toBeNull();
      expect(rendered.differing).toBeGreaterThan(100);
    }
  });

  test('nothing went wrong in the page meanwhile', () => {
    expect(opened.errors).toEqual([]);
  });
});

test('Chromium renders what Node renders', async () => {
  for (const fadeShape of FADE_SHAPES) {
    const list = awkwardList(fadeShape, 48_000);
    const { first } = await expectSameBits({ list, channelCount: 1 });
    const node = renderGain(noise(list.lengthSamples, 11), list);
    let most = 0;
    let count = 0;
    node.forEach((x, i) => {
      if (!Object.is(x, first[i])) count++;
      most = Math.max(most, Math.abs(x - first[i]!));
    });
    console.log(`${fadeShape} fades: ${count} samples of ${node.length} differ, at most by ${most}`);
    // Full scale is 1, a rounding to 32 bits there 6e-8: an engine's last bit of pow or cos may tip one rounding.
    expect(most).toBeLessThanOrEqual(2 ** -24);
  }
});
