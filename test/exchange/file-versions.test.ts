import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { atCurrentVersion } from '../../src/exchange/at-current-version.js';
import { CHAIN_FORMAT_VERSION } from '../../src/exchange/chain-format.js';
import { CHAIN_MIGRATIONS, type FileKind, REGION_MIGRATIONS } from '../../src/exchange/migrations.js';
import { collectProblems } from '../../src/exchange/parse-json.js';
import { readRegionData } from '../../src/exchange/read-region-data.js';
import { REGION_FORMAT_VERSION } from '../../src/exchange/region-format.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import { FILED_LIST } from './text-form-checks.js';

type Data = Readonly<Record<string, unknown>>;
const file = (name: string): string => readFileSync(new URL(`files/${name}`, import.meta.url), 'utf8');

describe('files of version 1', () => {
  test('as the library wrote them read for ever, and are still written so', () => {
    const text = file('version-1-as-written.regions');
    expect(regionsFromJson(text)).toStrictEqual({ ok: true, value: FILED_LIST });
    expect(regionsToJson(FILED_LIST)).toBe(text);
  });

  test('written by hand, without a band and with fields of others, read for ever', () => {
    expect(regionsFromJson(file('version-1-by-hand.json'))).toStrictEqual({
      ok: true,
      value: {
        sampleRateHz: 44100,
        lengthSamples: 441000,
        nextId: 12,
        regions: [
          {
            id: 7,
            kind: 'breath',
            onsetSample: null,
            offsetSample: 30000,
            startSample: 2205,
            endSample: 30870,
            gainDb: -12.5,
            confidence: 0.75,
            bypassed: true,
            locked: false,
            fadeInSamples: 441,
            fadeOutSamples: 882,
            fadeShape: 'linear',
            label: 'before the second verse',
            reason: { rule: 'by hand', numbers: {} },
          },
        ],
      },
    });
  });

  test('there is a way from every older version to the current one', () => {
    expect(REGION_MIGRATIONS).toHaveLength(REGION_FORMAT_VERSION - 1);
    expect(CHAIN_MIGRATIONS).toHaveLength(CHAIN_FORMAT_VERSION - 1);
  });
});

describe('migration', () => {
  const regionsOf = (data: Data): readonly Data[] => (data as { regions: readonly Data[] }).regions;
  /** Invented: version 1 had cuts, version 2 has gains but no confidence, version 3 is as the library has it. */
  const invented: FileKind = {
    format: 'lenition.regions',
    version: 3,
    migrations: [
      (data) => ({
        ...data,
        regions: regionsOf(data).map(({ cutDb, ...rest }) => ({ ...rest, gainDb: -(cutDb as number) })),
      }),
      (data) => ({ ...data, regions: regionsOf(data).map((region) => ({ ...region, confidence: 1 })) }),
    ],
  };
  const current = JSON.parse(regionsToJson(FILED_LIST)) as Data;
  const certain = {
    ...FILED_LIST,
    regions: FILED_LIST.regions.map((region) => ({ ...region, confidence: 1 })),
  };
  const second = {
    ...current,
    version: 2,
    regions: regionsOf(current).map(({ confidence, ...region }) => region),
  };
  const first = {
    ...second,
    version: 1,
    regions: second.regions.map(({ gainDb, ...region }) => ({ ...region, cutDb: -(gainDb as number) })),
  };
  const read = (data: unknown, kind: FileKind = invented) =>
    collectProblems((note) => readRegionData(data, '$', note, kind));

  test('leads from each version through all later ones, and leaves the data as it was', () => {
    const before = JSON.stringify(first);
    expect(read(first)).toStrictEqual({ ok: true, value: certain });
    expect(JSON.stringify(first)).toBe(before);
    expect(read(second)).toStrictEqual({ ok: true, value: certain });
    expect(read({ ...current, version: 3 })).toStrictEqual({ ok: true, value: FILED_LIST });
  });

  test('each step sees the data of its own version alone', () => {
    const seen: number[] = [];
    const watched: FileKind = {
      ...invented,
      migrations: invented.migrations.map((migrate, i) => (data) => {
        seen.push(i + 1);
        return migrate(data);
      }),
    };
    read(first, watched);
    read(second, watched);
    read({ ...current, version: 3 }, watched);
    expect(seen).toEqual([1, 2, 2]);
  });

  test('of a newer file is a clear problem, of a version that is none another', () => {
    const rule = (version: unknown) => {
      const result = read({ ...current, version });
      return result.ok
        ? ''
        : `${result.problems.length} ${result.problems[0]!.path} ${result.problems[0]!.rule}`;
    };
    expect(rule(4)).toBe(
      '1 $.version must be at most 3: the file was written by a newer library than this one',
    );
    for (const version of [0, -1, 1.5, '2', null, undefined, Number.NaN, [1]])
      expect(rule(version)).toBe('1 $.version must be a whole number from 1 to 3');
    const newer = regionsFromJson(JSON.stringify({ ...current, version: 2 }));
    expect(newer.ok ? '' : newer.problems[0]!.rule).toMatch(/^must be at most 1: .* newer library/);
  });

  test('of broken data is a problem: what comes out is judged, and what cannot be brought over says so', () => {
    const broken = read({ ...first, regions: [{ cutDb: 'x' }] });
    expect(broken.ok ? [] : broken.problems.map((p) => p.path)).toContain('$.regions[0].gainDb');
    const none = read({ ...first, regions: 5 });
    expect(none).toMatchObject({
      ok: false,
      problems: [{ path: '$', rule: 'must be sound by the rules of version 1' }],
    });
  });

  test('is the same for any kind of file', () => {
    const kind: FileKind = {
      format: 'invented',
      version: 2,
      migrations: [(data) => ({ ...data, b: 5 })],
    };
    const result = collectProblems((note) =>
      atCurrentVersion({ format: 'invented', version: 1, a: 5 }, '$', kind, note),
    );
    expect(result).toMatchObject({ ok: true, value: { a: 5, b: 5 } });
  });
});
