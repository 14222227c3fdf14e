import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import {
  demonstrationClips,
  HASH_MIN_CONFIDENCE,
  type HashClip,
  songClips,
} from '../../bench/lib/hash-clips.js';
import {
  type RegionRecord,
  recordDifferences,
  regionHashes,
  regionRecords,
  samplesHash,
} from '../../bench/lib/region-digest.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { type BrowserPage, openBrowserPage, openTestModule } from './lib/browser-page.js';
import { type FileServer, serveFolders } from './lib/serve-folders.js';

const PAGES = fileURLToPath(new URL('pages', import.meta.url));
const SONGS = fileURLToPath(new URL('../../../shared/corpus/pjs_singing', import.meta.url));

let server: FileServer;
let opened: BrowserPage;
let samplesFolder: string;

beforeAll(async () => {
  samplesFolder = mkdtempSync(join(tmpdir(), 'lenition-samples-'));
  server = await serveFolders({ '/lib': inject('library'), '/pages': PAGES, '/samples': samplesFolder });
  opened = await openBrowserPage();
  await openTestModule(opened, server.origin, 'find-regions.js');
});

afterAll(async () => {
  await opened?.close();
  await server?.close();
  if (samplesFolder) rmSync(samplesFolder, { recursive: true, force: true });
});

/** Runs an expression over the page's functions; as text, since a function would be rewritten before it reaches the page. */
async function inPage<T>(expression: string): Promise<T> {
  return (await opened.page.evaluate(expression)) as T;
}

/** Writes a clip as raw floats for the page, and gives how the page gets it. */
function serveClip(clip: HashClip, name: string): string {
  const files = clip.channels.map((samples, c) => {
    const file = `${name}-${c}.f32`;
    writeFileSync(
      join(samplesFolder, file),
      new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength),
    );
    return `/samples/${file}`;
  });
  return JSON.stringify({ sampleRateHz: clip.sampleRateHz, files });
}

function inNode({ channels, sampleRateHz }: HashClip): readonly RegionRecord[] {
  return regionRecords(detectConsonants(channels, { sampleRateHz, minConfidence: HASH_MIN_CONFIDENCE }));
}

/** Both hashes, and what differs: numbers are compared, since a confidence may lie on the edge of two roundings. */
function expectSame(name: string, page: readonly RegionRecord[], node: readonly RegionRecord[]): void {
  const most = Math.max(0, ...page.map((r, i) => Math.abs(r.confidence - (node[i]?.confidence ?? 0))));
  console.log(
    `${name}: ${node.length} regions, ${regionHashes(page).all.slice(0, 12)} in Chromium, ` +
      `${regionHashes(node).all.slice(0, 12)} in Node, confidences at most ${most.toExponential(1)} apart`,
  );
  expect(recordDifferences(page, node)).toEqual([]);
  expect(regionHashes(page).edges).toBe(regionHashes(node).edges);
}

describe('the same clip gives the same regions in Chromium as in Node', () => {
  test('the takes of the demonstration, handed over as samples', async () => {
    for (const [i, clip] of demonstrationClips().entries()) {
      const page = `tests.fetchClip(${serveClip(clip, `take-${i}`)})`;
      const found = await inPage<RegionRecord[]>(
        `${page}.then((clip) => tests.recordsOf(clip, ${HASH_MIN_CONFIDENCE}))`,
      );
      // A detection that finds nothing would be the same everywhere.
      expect(found.length).toBeGreaterThan(20);
      expectSame(clip.name, found, inNode(clip));
    }
  });

  test('the takes of the demonstration, each made by its own engine', async () => {
    const clips = demonstrationClips();
    const differences = await inPage<{ most: number; count: number }[]>(`(async () => {
      window.clips = tests.demonstrationClips();
      const others = [${clips.map((clip, i) => serveClip(clip, `made-${i}`)).join(',')}];
      return Promise.all(window.clips.map((clip, i) => tests.compareSamples(clip, others[i])));
    })()`);
    expect(differences).toHaveLength(clips.length);
    for (const [i, clip] of clips.entries()) {
      const { most, count } = differences[i]!;
      console.log(`${clip.name}: ${count} samples of ${clip.channels[0]!.length} differ, at most by ${most}`);
      // ECMAScript leaves the last bits of sin, exp and pow to the engine; a rounding to 32 bits near full scale is 6e-8.
      expect(most).toBeLessThan(1e-6);
      const found = await inPage<RegionRecord[]>(
        `tests.recordsOf(window.clips[${i}], ${HASH_MIN_CONFIDENCE})`,
      );
      expectSame(clip.name, found, inNode(clip));
    }
  });

  const songs = songClips(SONGS);
  test.skipIf(songs.length === 0)('five songs of the corpus', async () => {
    for (const [i, clip] of songs.entries()) {
      const found = await inPage<RegionRecord[]>(
        `tests.fetchClip(${serveClip(clip, `song-${i}`)}).then((clip) => tests.recordsOf(clip, ${HASH_MIN_CONFIDENCE}))`,
      );
      expect(found.length).toBeGreaterThan(5);
      expectSame(clip.name, found, inNode(clip));
    }
  });

  test('nothing went wrong in the page meanwhile', () => {
    expect(opened.errors).toEqual([]);
  });
});

describe('the hash itself', () => {
  const record: RegionRecord = {
    kind: 'sibilant',
    startSample: 100,
    endSample: 200,
    onsetSample: 110,
    offsetSample: 190,
    confidence: 0.5,
  };

  test('changes with every field, and with the confidence from 1e-6 on', () => {
    const others = [
      { kind: 'fricative' },
      { startSample: 101 },
      { endSample: 201 },
      { onsetSample: null },
      { offsetSample: 191 },
      { confidence: 0.500002 },
    ].map((change) => ({ ...record, ...change }));
    for (const other of others) {
      expect(recordDifferences([record], [other])).toHaveLength(1);
      expect(regionHashes([other]).all).not.toBe(regionHashes([record]).all);
    }
    const near = { ...record, confidence: 0.5 + 1e-9 };
    expect(recordDifferences([record], [near])).toEqual([]);
    expect(regionHashes([near])).toEqual(regionHashes([record]));
    expect(recordDifferences([record], [])).toHaveLength(1);
    expect(recordDifferences([record], [{ ...record, confidence: Number.NaN }])).toHaveLength(1);
  });

  test('of samples tells one bit', () => {
    expect(samplesHash([new Float32Array([0])])).not.toBe(samplesHash([new Float32Array([-0])]));
  });
});
