import { execFile } from 'node:child_process';
import { linkSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseManyFilesOptions } from '../../examples/lib/many-files-options.js';
import { planOutputs } from '../../examples/lib/output-plan.js';
import { readWavFile } from '../../examples/lib/read-wav.js';
import { tameManyFiles } from '../../examples/lib/tame-many-files.js';
import { encodeWave } from '../../examples/lib/wave-file.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { demoLead } from '../lib/demo-lead.js';
import { ROOT } from '../lib/project.js';

const RATE = 16_000;
const lead = demoLead(RATE).samples.slice(0, 5 * RATE);
const voice = encodeWave([lead], { sampleRateHz: RATE, depth: '32f' });

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs the script as a reader does, from the project's folder. */
function run(args: readonly string[]): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      ['--import', 'tsx', 'examples/many-files.ts', ...args],
      // Sooner than the test gives up, so that no process is left behind.
      { cwd: ROOT, timeout: 200_000 },
      (error, out, err) => {
        resolve({ code: typeof error?.code === 'number' ? error.code : error === null ? 0 : -1, out, err });
      },
    );
  });
}

describe('many files', () => {
  it('are treated beside broken ones: each good one comes out, each bad one is told, the code is 2', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'lenition-test-'));
    const out = join(folder, 'tamed');
    const path = (name: string): string => join(folder, name);
    for (const name of ['a.wav', 'b.wav', 'z.wav']) writeFileSync(path(name), voice);
    writeFileSync(path('cut.wav'), voice.subarray(0, voice.length - 1000));
    writeFileSync(path('text.wav'), 'no sound at all');
    mkdirSync(path('folder.wav'));
    const holed = new Uint8Array(voice);
    new DataView(holed.buffer).setFloat32(voice.length - 4, Number.NaN, true);
    writeFileSync(path('holed.wav'), holed);
    const bad = ['cut.wav', 'text.wav', 'folder.wav', 'holed.wav', 'none.wav'];
    const order = ['a.wav', ...bad, 'b.wav', 'z.wav'];
    const { code, out: printed, err } = await run(['--out', out, '--threads', '2', ...order.map(path)]);

    expect(code).toBe(2);
    const lines = printed.trimEnd().split('\n');
    expect(lines.map((line) => line.split(':')[0])).toEqual([...order, '3 of 8 files tamed, exit code 2']);
    for (const name of bad) expect(lines.find((line) => line.startsWith(name))).toMatch(/: refused: \S/);
    // One line of progress a file, counted up, and nothing else.
    const counts = err
      .trimEnd()
      .split('\n')
      .map((line) => line.match(/^\[(\d)\/8\] \S+: (done|refused)$/)?.[1]);
    expect(counts).toEqual(['1', '2', '3', '4', '5', '6', '7', '8']);
    // Nothing half done is left, and no result of a bad file.
    expect(readdirSync(out).sort()).toEqual(
      ['a', 'b', 'z'].flatMap((name) => [`${name}.regions.json`, `${name}.tamed.wav`]),
    );
    for (const name of ['a.wav', 'b.wav', 'z.wav']) expect(readFileSync(path(name)).equals(voice)).toBe(true);
    // The samples are those that the library gives for the regions that were written beside them.
    const tamed = readWavFile(join(out, 'b.tamed.wav'));
    const regions = regionsFromJson(readFileSync(join(out, 'b.regions.json'), 'utf8'));
    if (!tamed.ok || !regions.ok) throw new Error('a result cannot be read');
    expect(regions.value.regions.some(({ gainDb }) => gainDb === -6)).toBe(true);
    expect(tamed.value.channels[0]).toEqual(renderGain(lead, regions.value));
  });

  it('are never written over, whatever link leads to them, and two of one name are not mixed up', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'lenition-test-'));
    const path = (name: string): string => join(folder, name);
    mkdirSync(path('other'));
    for (const name of ['a.wav', 'b.wav', 'other/b.wav']) writeFileSync(path(name), voice);
    // The result of a.wav would be this name, and it is an input: a hard link to b.wav.
    linkSync(path('b.wav'), path('a.tamed.wav'));
    const { code, out } = await run(['--out', folder, path('a.wav'), path('b.wav'), path('other/b.wav')]);
    expect(code).toBe(2);
    expect(out).toMatch(/^a\.wav: refused: .*written over the input/m);
    expect(out).toMatch(/^b\.wav: \d+ regions/m);
    expect(out).toMatch(/^b\.wav: refused: .*same name/m);
    for (const name of ['a.wav', 'b.wav', 'other/b.wav'])
      expect(readFileSync(path(name)).equals(voice)).toBe(true);
  });

  it('end with 0 where all went well', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'lenition-test-'));
    writeFileSync(join(folder, 'a.wav'), voice);
    const { code, out } = await run(['--out', folder, join(folder, 'a.wav')]);
    expect(out).toMatch(/1 of 1 files tamed, exit code 0\n$/);
    expect(code).toBe(0);
  });

  it('outlive a thread that breaks down', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'lenition-test-'));
    const files = ['a.wav', 'b.wav', 'c.wav'].map((name) => join(folder, name));
    for (const file of files) writeFileSync(file, voice);
    const plans = [...planOutputs(files, folder, undefined)];
    // A plan that makes the work throw, as a fault of ours would.
    plans[1] = { ok: true, value: null as never };
    const results = await tameManyFiles(files, plans, { gainDb: -6, threads: 2, progress: () => {} });
    expect(results.map(({ ok }) => ok)).toEqual([true, false, true]);
  });
});

describe('the options of many files', () => {
  it('have the cores of the machine and 6 dB for defaults', () => {
    expect(parseManyFilesOptions(['a.wav'], 12)).toEqual({
      ok: true,
      value: { files: ['a.wav'], outDirectory: undefined, gainDb: -6, threads: 12 },
    });
  });

  it('take a cut as 9 or as -9', () => {
    for (const args of [['--cut', '9'], ['--cut=-9']])
      expect(parseManyFilesOptions(args, 1)).toMatchObject({ value: { gainDb: -9 } });
  });

  for (const args of [
    ['--cut', 'x'],
    ['--cut', ''],
    ['--cut', '121'],
    ['--threads', '0'],
    ['--threads', '1.5'],
    ['--out', ''],
    ['--loud'],
  ])
    it(`refuse ${args.join(' ')}`, () => {
      expect(parseManyFilesOptions(args, 1).ok).toBe(false);
    });
});
