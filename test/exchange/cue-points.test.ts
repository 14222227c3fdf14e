import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import wavefile from 'wavefile';
import { cueChunkBytes, withCuePoints } from '../../examples/lib/cue-chunks.js';
import { encodeWave } from '../../examples/lib/wave-file.js';
import { regionsFromCuePoints } from '../../src/exchange/regions-from-cue-points.js';
import { regionsToCuePoints } from '../../src/exchange/regions-to-cue-points.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { checkRegionList } from '../../src/regions/check-region-list.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { makeWav, text } from '../examples/make-wav.js';
import { anyList, listOf, region } from '../gain/lists.js';
import { anyOutsideValue, damaged, hostileValues } from './outside-data.js';

/** Lists with everything that a label can carry. */
function fullList(): fc.Arbitrary<RegionList> {
  const more = fc.record({
    label: fc.oneof(
      fc.string({ unit: 'binary', maxLength: 12 }),
      fc.constantFrom('sun', 'a: b', '\\u00e9', '\ud800'),
    ),
    locked: fc.boolean(),
    // Three decimals are what a label keeps.
    confidence: fc.integer({ min: 0, max: 1000 }).map((n) => n / 1000),
    band: fc.constantFrom(undefined, { lowHz: 0, highHz: 250.5 }, { lowHz: 6512.3, highHz: 24000 }),
  });
  return fc.tuple(anyList(), fc.array(more, { minLength: 8, maxLength: 8 })).map(([list, extras]) => {
    const regions = list.regions.map((one, i) => {
      const { band, ...rest } = extras[i]!;
      return { ...one, ...rest, ...(band === undefined ? {} : { band }) } as Region;
    });
    return { ...list, regions };
  });
}

/** What cue points keep of a list, by their documentation. */
function kept(list: RegionList): RegionList {
  const regions = list.regions.map((one) => ({
    ...one,
    onsetSample: null,
    offsetSample: null,
    reason: { rule: 'cue point', numbers: {} },
    // −0 dB reads as 0 dB.
    gainDb: one.gainDb + 0,
    fadeShape: one.fadeInSamples + one.fadeOutSamples > 0 ? one.fadeShape : ('raisedCosine' as const),
  }));
  return { ...list, nextId: Math.max(0, ...regions.map(({ id }) => id)) + 1, regions };
}

/** Chunks read byte by byte, by the layout of RIFF 1991 (READ, references.md section E), without the code under test. */
function walk(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const letters = (at: number, count = 4) => String.fromCharCode(...bytes.subarray(at, at + count));
  const chunks: { id: string; at: number; size: number }[] = [];
  const visit = (from: number, to: number) => {
    let at = from;
    while (at + 8 <= to) {
      const [id, size] = [letters(at), view.getUint32(at + 4, true)];
      chunks.push({ id, at: at + 8, size });
      if (id === 'LIST') visit(at + 12, at + 8 + size);
      at += 8 + size + (size % 2);
    }
    // Nothing may be left over, or sizes and pad bytes do not add up.
    expect(at).toBe(to);
  };
  expect(letters(0)).toBe('RIFF');
  expect(view.getUint32(4, true)).toBe(bytes.length - 8);
  visit(12, bytes.length);
  const cue = chunks.find(({ id }) => id === 'cue ');
  const points = Array.from({ length: cue ? view.getUint32(cue.at, true) : 0 }, (_, i) => {
    const at = cue!.at + 4 + 24 * i;
    const [name, position] = [view.getUint32(at, true), view.getUint32(at + 4, true)];
    const rest = [view.getUint32(at + 12, true), view.getUint32(at + 16, true)];
    return { name, position, chunk: letters(at + 8), rest, offset: view.getUint32(at + 20, true) };
  });
  if (cue) expect(cue.size).toBe(4 + 24 * points.length);
  const texts = chunks
    .filter(({ id }) => id === 'labl')
    .map(({ at, size }) => {
      expect(bytes[at + size - 1]).toBe(0);
      return [view.getUint32(at, true), letters(at + 4, size - 5)] as const;
    });
  const lengths = chunks
    .filter(({ id }) => id === 'ltxt')
    .map(({ at, size }) => {
      expect(size).toBe(20);
      return [view.getUint32(at, true), view.getUint32(at + 4, true), letters(at + 8)] as const;
    });
  return { ids: chunks.map(({ id }) => id), points, texts, lengths };
}

const joined = (pieces: readonly Uint8Array[]) => new Uint8Array(Buffer.concat(pieces));
function written(bytes: Uint8Array, list: RegionList): Uint8Array {
  const result = withCuePoints(bytes, regionsToCuePoints(list));
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return joined(result.value);
}

const clipOf = ({ sampleRateHz, lengthSamples }: RegionList) => ({ sampleRateHz, lengthSamples });

describe('cue points', () => {
  test('give back every list, but for what they cannot carry', () => {
    fc.assert(
      fc.property(fullList(), (list) => {
        expect(regionsFromCuePoints(regionsToCuePoints(list), clipOf(list))).toEqual({
          ok: true,
          value: kept(list),
        });
      }),
      { numRuns: 200 },
    );
  });

  test('read back, sound the same at every sample', () => {
    fc.assert(
      fc.property(fullList(), (list) => {
        const result = regionsFromCuePoints(regionsToCuePoints(list), clipOf(list));
        if (!result.ok) throw new Error('unread');
        for (let i = 0; i < list.lengthSamples; i++) expect(gainAt(result.value, i)).toBe(gainAt(list, i));
      }),
    );
  });

  test('carry the text in the documented form, in printable ASCII', () => {
    const labels = (one: Region) => regionsToCuePoints(listOf(96000, one)).LIST[0]?.subChunks[0];
    const at = { startSample: 0, endSample: 9600 };
    expect(labels(region(at))).toMatchObject({ chunkId: 'labl', value: 'sibilant -6 dB' });
    expect(
      labels(
        region({
          ...at,
          kind: 'breath',
          gainDb: -12,
          fadeInSamples: 480,
          fadeOutSamples: 960,
          fadeShape: 'decibel',
        }),
      ),
    ).toMatchObject({ value: 'breath -12 dB, fades 480/960 decibel' });
    const all = {
      band: { lowHz: 6000, highHz: 24000 },
      bypassed: true,
      locked: true,
      confidence: 0.6249,
      label: 'é \\ "x"\n',
    };
    expect(labels(region({ ...at, ...all }))).toMatchObject({
      value:
        'sibilant -6 dB, band 6000 to 24000 Hz, bypassed, locked, confidence 0.625: \\u00e9 \\\\ "x"\\u000a',
    });
  });

  test('are frozen all the way down', () => {
    const frozen = (value: unknown): boolean =>
      typeof value !== 'object' ||
      value === null ||
      (Object.isFrozen(value) && Object.values(value).every(frozen));
    expect(frozen(regionsToCuePoints(listOf(9, region({ startSample: 1, endSample: 5 }))))).toBe(true);
  });

  test('hold positions up to 2^32 − 1, exactly, and refuse what is over', () => {
    const most = 2 ** 32 - 1;
    const list = listOf(2 ** 40, region({ startSample: most, endSample: most + most }));
    const chunks = regionsToCuePoints(list);
    expect(chunks.cue.points[0]).toMatchObject({ dwPosition: most, dwSampleOffset: most });
    expect(regionsFromCuePoints(chunks, clipOf(list))).toEqual({ ok: true, value: kept(list) });
    const over = (startSample: number, endSample: number) => () =>
      regionsToCuePoints(listOf(2 ** 40, region({ startSample, endSample })));
    expect(over(most + 1, most + 2)).toThrow(/startSample must be at most 4294967295/);
    expect(over(0, most + 1)).toThrow(/endSample must be at most 4294967295/);
    const late = { ...list, nextId: 2 ** 33, regions: [{ ...list.regions[0]!, id: 2 ** 32 }] };
    expect(() => regionsToCuePoints(late)).toThrow(/id must be at most 4294967295/);
  });

  test('at odd places of 29.97 frames keep their sample (1601.6 samples a frame, references.md, computed from its figures)', () => {
    const starts = [1, 2, 3, 107892].map((frame) => Math.round(frame * 1601.6));
    const list = listOf(
      2e8,
      ...starts.map((startSample) => region({ startSample, endSample: startSample + 7 })),
    );
    const result = regionsFromCuePoints(regionsToCuePoints(list), clipOf(list));
    expect(result.ok && result.value.regions.map(({ startSample }) => startSample)).toEqual(starts);
  });
});

describe('cue points in a WAV file', () => {
  const list = listOf(
    101,
    region({ startSample: 3, endSample: 20, label: 'sun', fadeInSamples: 4 }),
    region({ startSample: 20, endSample: 21, kind: 'burst', gainDb: -2.5 }),
    region({ startSample: 60, endSample: 101, kind: 'breath', gainDb: 0, label: 'été' }),
  );
  // Odd frame count, 24 bits, one channel: wavefile's own writer loses cue points here.
  const samples = Array.from({ length: 101 }, (_, i) => i - 50);
  const plain = encodeWave([samples], { sampleRateHz: 48000, depth: '24' });

  test('lie in the bytes as RIFF 1991 lays them out', () => {
    const found = walk(written(plain, list));
    expect(found.ids).toEqual([
      'fmt ',
      'data',
      'cue ',
      'LIST',
      ...list.regions.flatMap(() => ['labl', 'ltxt']),
    ]);
    expect(found.points).toEqual(
      list.regions.map(({ id, startSample }) => ({
        name: id,
        position: startSample,
        chunk: 'data',
        rest: [0, 0],
        offset: startSample,
      })),
    );
    expect(found.texts).toEqual([
      [1, 'sibilant -6 dB, fades 4/0 linear: sun'],
      [2, 'burst -2.5 dB'],
      [3, 'breath 0 dB: \\u00e9t\\u00e9'],
    ]);
    expect(found.lengths).toEqual([
      [1, 17, 'rgn '],
      [2, 1, 'rgn '],
      [3, 41, 'rgn '],
    ]);
  });

  test('are read by wavefile, with their lengths, and become the same regions', () => {
    const file = new wavefile.WaveFile(written(plain, list));
    const points = file.listCuePoints() as {
      dwSampleOffset: number;
      dwSampleLength: number;
      label: string;
      dwPurposeID: number;
    }[];
    expect(points.map((p) => [p.dwSampleOffset, p.dwSampleLength, p.label, p.dwPurposeID])).toEqual([
      // 544106354 is the number of "rgn " in wavefile's own documentation.
      [3, 17, 'sibilant -6 dB, fades 4/0 linear: sun', 544106354],
      [20, 1, 'burst -2.5 dB', 544106354],
      [60, 41, 'breath 0 dB: \\u00e9t\\u00e9', 544106354],
    ]);
    expect(regionsFromCuePoints(file, clipOf(list))).toEqual({ ok: true, value: kept(list) });
    expect(Array.from(file.getSamples() as unknown as Float64Array)).toEqual(samples);
  });

  test('are written by wavefile from the same values, where its traps are not in the way', () => {
    const file = new wavefile.WaveFile();
    file.fromScratch(1, 48000, '16', samples);
    const { cue, LIST } = regionsToCuePoints(list);
    Object.assign(file, { cue, LIST: [...((file as unknown as { LIST: unknown[] }).LIST ?? []), ...LIST] });
    const bytes = file.toBuffer();
    const found = walk(bytes);
    expect(found).toMatchObject(
      (({ points, texts, lengths }) => ({ points, texts, lengths }))(walk(written(plain, list))),
    );
    expect(regionsFromCuePoints(new wavefile.WaveFile(bytes), clipOf(list))).toEqual({
      ok: true,
      value: kept(list),
    });
  });

  test('leave every other chunk byte for byte, unknown ones and texts of the INFO list too', () => {
    const info = text('INFOISFT\x05\0\0\0made\0\0');
    const before = [
      ['bext', text('x'.repeat(603))],
      ['zzzz', new Uint8Array([1, 2, 3])],
    ] as const;
    const input = makeWav({
      tag: 3,
      bits: 32,
      channels: [[0.5, -0.25]],
      extensible: true,
      before,
      after: [
        ['LIST', info],
        ['iXML', text('<a/>')],
      ],
    });
    const small = listOf(2, region({ startSample: 0, endSample: 1 }));
    const output = written(input, small);
    expect(output.subarray(8, input.length)).toEqual(input.subarray(8));
    expect(output.length).toBe(input.length + cueChunkBytes(regionsToCuePoints(small)).length);
    expect(walk(output).points).toHaveLength(1);
  });

  test('get a pad byte before them where the input lacks it, and the input stays as it is', () => {
    const bare = plain.slice(0, plain.length - 1);
    new DataView(bare.buffer).setUint32(4, bare.length - 8, true);
    const copy = bare.slice();
    expect(written(bare, list)).toEqual(written(plain, list));
    expect(bare).toEqual(copy);
  });

  test('are not put into a file that has some, or that is cut off or no WAV file', () => {
    const rules = (bytes: Uint8Array) => {
      const result = withCuePoints(bytes, regionsToCuePoints(list));
      return result.ok ? [] : result.problems.map(({ rule }) => rule);
    };
    expect(rules(written(plain, list))).toEqual(['has cue points already']);
    expect(rules(plain.subarray(0, 60))[0]).toMatch(/truncated/);
    expect(rules(text('RIFF'))[0]).toMatch(/not a WAV/);
  });

  test('of a list without regions are an empty chunk, which wavefile reads', () => {
    const bytes = written(plain, listOf(101));
    expect(walk(bytes)).toMatchObject({ ids: ['fmt ', 'data', 'cue '], points: [] });
    const result = regionsFromCuePoints(new wavefile.WaveFile(bytes), clipOf(list));
    expect(result.ok && result.value.regions).toEqual([]);
  });
});

describe('cue points from elsewhere', () => {
  const clip = { sampleRateHz: 48000, lengthSamples: 1000 };
  const point = (dwName: number, dwSampleOffset: number) => ({
    dwName,
    dwPosition: 0,
    fccChunk: 'data',
    dwChunkStart: 0,
    dwBlockStart: 0,
    dwSampleOffset,
  });
  const labl = (dwName: number, value: string) => ({ chunkId: 'labl', dwName, value });
  const ltxt = (dwName: number, dwSampleLength: number, dwPurposeID = 0) => ({
    chunkId: 'ltxt',
    dwName,
    dwSampleLength,
    dwPurposeID,
  });
  const read = (points: readonly unknown[], ...subChunks: unknown[]) =>
    regionsFromCuePoints(
      { cue: { points }, LIST: [{ format: 'INFO' }, { format: 'adtl', subChunks }] },
      clip,
    );
  const spans = (result: ReturnType<typeof read>) =>
    result.ok
      ? result.value.regions.map(({ id, kind, gainDb, startSample, endSample, label }) => [
          id,
          kind,
          gainDb,
          startSample,
          endSample,
          label,
        ])
      : result.problems.map(({ path, rule }) => `${path} ${rule}`);

  test('in any order become ordered regions; points without length, or with another purpose, are passed over', () => {
    const scrp = 0x70726373;
    const result = read(
      [point(7, 500), point(3, 10), point(4, 100), point(9, 200)],
      ltxt(3, 20),
      labl(7, 'breath -12 dB'),
      ltxt(7, 50),
      ltxt(9, 10, scrp),
      ltxt(99, 10),
    );
    expect(spans(result)).toEqual([
      [3, 'custom', 0, 10, 30, ''],
      [7, 'breath', -12, 500, 550, ''],
    ]);
    expect(result.ok && result.value.nextId).toBe(8);
  });

  test('counted from 0 get ids that are one higher', () => {
    expect(spans(read([point(0, 0), point(1, 10)], ltxt(0, 5), ltxt(1, 5)))).toEqual([
      [1, 'custom', 0, 0, 5, ''],
      [2, 'custom', 0, 10, 15, ''],
    ]);
  });

  test('keep a text of another form as the label', () => {
    for (const label of [
      'Verse 1',
      'sibilant',
      'sibilant -6',
      'sibilant -600 dB',
      'hiss -6 dB',
      'sibilant -6 dB, loud',
      'sibilant NaN dB',
      'sibilant -6 dB, fades 1/2 square',
      'sibilant -6 dB, fades 99999999999999999/0 linear',
      'sibilant -6 dB, confidence 2',
      'sibilant -6 dB, band 9000 to 6000 Hz',
      'toString -6 dB',
      '',
    ])
      expect(spans(read([point(1, 0)], labl(1, label), ltxt(1, 9)))).toEqual([[1, 'custom', 0, 0, 9, label]]);
  });

  test('shorten fades that the shortened range has no room for, in proportion', () => {
    const result = read([point(1, 0)], labl(1, 'sibilant -6 dB, fades 40/20 linear'), ltxt(1, 30));
    expect(result.ok && result.value.regions[0]).toMatchObject({ fadeInSamples: 20, fadeOutSamples: 10 });
  });

  test('tell each problem by its path', () => {
    const far = { ...point(5, 0), fccChunk: 'slnt' };
    expect(
      spans(
        read(
          [
            point(1, 990),
            point(1, 3),
            point(2, 100),
            point(3, 105),
            far,
            { ...point(6, 0), dwBlockStart: 8 },
            null,
          ],
          ltxt(1, 11),
          ltxt(2, 10),
          ltxt(3, 10),
          ltxt(5, 1),
          ltxt(6, 1),
        ),
      ),
    ).toEqual([
      '$.cue.points[1].dwName must be unique in its file',
      '$.cue.points[6].dwName must be a whole number within [0, 4294967295]',
      '$.cue.points[4].fccChunk must be "data"',
      '$.cue.points[5].dwBlockStart must be 0',
      '$.cue.points[3].startSample must not lie before 110, the end of the region before it',
      '$.cue.points[0].endSample must lie within [0, 1000]',
    ]);
    expect(spans(read([point(1, 0)], labl(1, 'sibilant -6 dB, band 6000 to 30000 Hz'), ltxt(1, 9)))).toEqual([
      '$.cue.points[0].band.highHz must lie within [6020, 24000]',
    ]);
    for (const value of [undefined, null, 3, 'cue', {}, { cue: {} }, { cue: { points: {} } }])
      expect(spans(regionsFromCuePoints(value, clip) as ReturnType<typeof read>)).toEqual([
        '$.cue.points must be an array',
      ]);
  });

  test('never throw, and give sound lists or problems', () => {
    const sound = regionsToCuePoints(
      listOf(
        1000,
        region({ startSample: 3, endSample: 40, fadeInSamples: 5 }),
        region({ startSample: 50, endSample: 90 }),
      ),
    );
    let problems = 0;
    const judge = (value: unknown) => {
      const result = regionsFromCuePoints(value, clip);
      if (result.ok) checkRegionList(result.value);
      else {
        problems++;
        expect(result.problems.length).toBeGreaterThan(0);
        expect(result.problems.length).toBeLessThanOrEqual(100);
      }
    };
    fc.assert(fc.property(damaged(sound), judge), { numRuns: 4000, seed: 7 });
    fc.assert(fc.property(anyOutsideValue(), judge), { numRuns: 1000, seed: 8 });
    for (const value of hostileValues()) judge(value);
    // Most damage must be felt, or the fuzz would test nothing.
    expect(problems).toBeGreaterThan(1500);
    judge({ cue: { points: new Array(4_000_000_000) } });
    judge({ cue: { points: [] }, LIST: [{ format: 'adtl', subChunks: new Array(4_000_000_000) }] });
    judge({ cue: { points: new Array(1000) } });
  });

  test('refuse a clip that is none', () => {
    expect(() => regionsFromCuePoints({}, { sampleRateHz: 1, lengthSamples: 9 })).toThrow(RangeError);
    expect(() => regionsFromCuePoints({}, { sampleRateHz: 48000, lengthSamples: -1 })).toThrow(RangeError);
  });
});
