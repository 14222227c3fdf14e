import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { regionsFromJson } from '../../../src/exchange/regions-from-json.js';
import type { RegionList } from '../../../src/regions/region.js';
import { AFTER, BEFORE, type PageFile, stereoTake } from '../lib/example-files.js';
import { type ExamplePage, openExample } from '../lib/example-page.js';
import { type OwnWav, readOwnWav, writeOwnWav } from '../lib/own-wav.js';

let example: ExamplePage;
const take = stereoTake();
const original = readOwnWav(take.buffer);

beforeAll(async () => {
  example = await openExample();
});
afterAll(() => example?.close());

function open(file: PageFile): Promise<void> {
  return example.page.locator('#take-file').setInputFiles({ ...file, buffer: file.buffer });
}

async function savedRegions(): Promise<RegionList> {
  const { name, bytes } = await example.download(() =>
    example.page.getByRole('button', { name: 'Regions', exact: true }).click(),
  );
  expect(name).toBe('second singer.regions.json');
  const read = regionsFromJson(bytes.toString('utf8'));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

async function savedWav(): Promise<{ readonly bytes: Buffer; readonly wav: OwnWav }> {
  const { name, bytes } = await example.download(() =>
    example.page.getByRole('button', { name: 'Tamed WAV' }).click(),
  );
  expect(name).toBe('second singer.tamed.wav');
  return { bytes, wav: readOwnWav(bytes) };
}

/** The message about a file, which is then closed. */
async function problem(): Promise<string> {
  const alert = example.page.getByRole('alert');
  await alert.waitFor();
  const words = await example.text('problem-text');
  console.log(words);
  await example.page.getByRole('button', { name: 'Close the message' }).click();
  await alert.waitFor({ state: 'hidden' });
  return words;
}

describe('a WAV of the user', () => {
  test('opens, and the page finds in it what Node finds', async () => {
    await open(take);
    await example.ready();
    expect(await example.text('take-name')).toContain('second singer.wav');
    const list = await savedRegions();
    // As the file holds them: whole codes, so that both detect in the same samples.
    const channels = original.codes.map((codes) => Float32Array.from(codes, (code) => code / 2 ** 15));
    const node = detectConsonants(channels, { sampleRateHz: 44_100 });
    const found = ({ regions }: RegionList) =>
      regions.map(({ kind, onsetSample, offsetSample }) => `${kind} ${onsetSample} ${offsetSample}`);
    expect(found(list)).toEqual(found(node));
    expect(list.regions.length).toBeGreaterThan(20);
    await example.screenshot('5-own-take');
  });

  test('is saved with every byte outside of the regions as it was, other chunks too', async () => {
    const { regions } = await savedRegions();
    const { bytes, wav } = await savedWav();
    expect(bytes).toHaveLength(take.buffer.length);
    expect(wav.chunks.map(({ id }) => id)).toEqual(['fmt ', 'bext', 'data', 'note']);
    expect(wav.chunks[1]!.body.equals(BEFORE.body)).toBe(true);
    expect(wav.chunks[3]!.body.equals(AFTER.body)).toBe(true);
    expect({ rate: wav.sampleRateHz, bits: wav.bits }).toEqual({ rate: 44_100, bits: 16 });

    const heard = regions.filter(({ gainDb, bypassed }) => gainDb !== 0 && !bypassed);
    expect(heard.length).toBeGreaterThan(5);
    let changed = 0;
    let raised = 0;
    let mostApart = 0;
    for (const [c, codes] of wav.codes.entries()) {
      const outside = Int32Array.from(codes);
      for (const { startSample, endSample } of heard)
        outside.set(original.codes[c]!.subarray(startSample, endSample), startSample);
      expect(Buffer.from(outside.buffer).equals(Buffer.from(original.codes[c]!.buffer))).toBe(true);
      for (const { startSample, endSample, fadeInSamples, fadeOutSamples, gainDb } of heard)
        for (let i = startSample; i < endSample; i++) {
          const before = original.codes[c]![i]!;
          if (codes[i] !== before) changed++;
          if (Math.abs(codes[i]!) > Math.abs(before)) raised++;
          if (i >= startSample + fadeInSamples && i < endSample - fadeOutSamples)
            mostApart = Math.max(mostApart, Math.abs(codes[i]! - before * 10 ** (gainDb / 20)));
        }
    }
    // A cut turns down, in a fade too; between the fades a rounding to whole codes moves by half a code at most.
    expect(raised).toBe(0);
    expect(mostApart).toBeLessThanOrEqual(0.5 + 1e-6);
    expect(changed).toBeGreaterThan(1000);
  });

  test('is the same file again where nothing is turned down', async () => {
    // A cut of 0 dB for all kinds.
    await example.page.getByRole('spinbutton', { name: 'Cut in dB' }).fill('0');
    await example.page.getByRole('button', { name: 'Decide' }).click();
    expect(await example.text('summary')).toContain('0 turned down');
    const { bytes } = await savedWav();
    expect(bytes.equals(take.buffer)).toBe(true);
    await example.page.getByRole('button', { name: 'Undo' }).click();
  });

  test('gives gain points as a table that names its samples', async () => {
    const { name, bytes } = await example.download(() =>
      example.page.getByRole('button', { name: 'Gain points' }).click(),
    );
    expect(name).toBe('second singer.gain.csv');
    const lines = bytes.toString('utf8').trimEnd().split(/\r?\n/);
    const { regions } = await savedRegions();
    const first = regions.find(({ gainDb }) => gainDb !== 0)!;
    // Four points a region that touches no other, and a line of names.
    expect(lines.length).toBeGreaterThan(4 * 5);
    expect(lines.some((line) => line.split(',').includes(String(first.startSample)))).toBe(true);
  });

  test('takes a region file again, edits and all', async () => {
    const saved = await example.download(() =>
      example.page.getByRole('button', { name: 'Regions', exact: true }).click(),
    );
    const before = await savedRegions();
    await example.page.locator('#take-view').focus();
    for (const key of ['Home', 'n', 'd', 'n', 'Delete']) await example.page.keyboard.press(key);
    expect(await savedRegions()).not.toEqual(before);
    await example.page
      .locator('#regions-file')
      .setInputFiles({ name: 'kept.json', mimeType: 'application/json', buffer: saved.bytes });
    await expect.poll(() => example.text('status'), { timeout: 60_000 }).toContain('kept.json');
    expect((await savedRegions()).regions).toEqual(before.regions);
  });
});

describe('a file that cannot be used is refused in words, and what was open stays', () => {
  const broken: readonly [string, Buffer, RegExp][] = [
    ['empty.wav', Buffer.alloc(0), /RIFF|WAV|empty|short/i],
    ['words.wav', Buffer.from('This is no sound at all, only a line of text.'), /RIFF|WAV/i],
    ['cut.wav', take.buffer.subarray(0, 30), /chunk|ends|short|format|RIFF|fmt/i],
  ];
  for (const [name, buffer, words] of broken)
    test(`${name} as a take`, async () => {
      const before = await savedRegions();
      await open({ name, mimeType: 'audio/wav', buffer });
      const said = await problem();
      expect(said).toContain(name);
      expect(said).toMatch(words);
      await example.ready();
      expect(await example.text('take-name')).toContain('second singer.wav');
      expect(await savedRegions()).toEqual(before);
    });

  test('a take whose samples are no numbers', async () => {
    // 1000 frames of two channels in 16 bits are 500 in 32 bits: format 3, float, one of them NaN.
    const buffer = writeOwnWav([new Float32Array(1000), new Float32Array(1000)], {
      sampleRateHz: 44_100,
      bits: 16,
    });
    const at = buffer.indexOf('fmt ') + 8;
    buffer.writeUInt16LE(3, at);
    buffer.writeUInt32LE(44_100 * 8, at + 8);
    buffer.writeUInt16LE(8, at + 12);
    buffer.writeUInt16LE(32, at + 14);
    buffer.writeFloatLE(Number.NaN, buffer.indexOf('data') + 8 + 8 * 321);
    const before = await savedRegions();
    await open({ name: 'floats.wav', mimeType: 'audio/wav', buffer });
    const said = await problem();
    expect(said).toContain('floats.wav');
    // With the place, so that the user can find it.
    expect(said).toMatch(/NaN|finite/);
    expect(said).toContain('321');
    expect(await example.text('take-name')).toContain('second singer.wav');
    expect(await savedRegions()).toEqual(before);
  });

  test('a region file that is none, or of another take', async () => {
    const before = await savedRegions();
    const other = {
      ...before,
      format: 'lenition.regions',
      version: 1,
      lengthSamples: before.lengthSamples + 1,
    };
    for (const [text, words] of [
      ['{ "regions": ', /JSON/],
      ['[1, 2]', /regions\.json|object|format/],
      [JSON.stringify(other), /another take/],
    ] as const) {
      await example.page
        .locator('#regions-file')
        .setInputFiles({ name: 'bad.regions.json', mimeType: 'application/json', buffer: Buffer.from(text) });
      const said = await problem();
      expect(said).toContain('bad.regions.json');
      expect(said).toMatch(words);
    }
    expect(await savedRegions()).toEqual(before);
  });

  test('a backing track that is no sound', async () => {
    await example.page
      .locator('#backing-file')
      .setInputFiles({ name: 'song.mp3', mimeType: 'audio/mpeg', buffer: Buffer.from('no sound') });
    expect(await problem()).toContain('song.mp3');
  });

  test('and nothing went wrong in the page meanwhile', () => {
    expect(example.errors).toEqual([]);
  });
});
