import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chainFromJson } from '../../src/exchange/chain-from-json.js';
import { chainToJson } from '../../src/exchange/chain-to-json.js';
import type { Chain } from '../../src/forecast/chain.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';

const compressor = {
  kind: 'compressor',
  thresholdDb: -20,
  ratio: 4,
  attackSeconds: 0.01,
  releaseSeconds: 0.1,
} as const;

function fileOf(stages: unknown, more: object = {}): string {
  return JSON.stringify({ format: 'lenition.chain', version: 1, stages, ...more });
}

function problemsOf(text: unknown): readonly string[] {
  const result = chainFromJson(text);
  return result.ok ? [] : result.problems.map(({ path, rule, received }) => `${path} ${rule}; ${received}`);
}

describe('a chain file', () => {
  test('gives every preset back', () => {
    for (const preset of CHAIN_PRESETS)
      expect(chainFromJson(chainToJson(preset))).toEqual({ ok: true, value: preset });
  });

  test('has the documented form', () => {
    expect(chainToJson({ name: 'warm', stages: [{ kind: 'saturation', curve: 'tanh', driveDb: 6 }] })).toBe(
      `{
  "format": "lenition.chain",
  "version": 1,
  "name": "warm",
  "stages": [
    {
      "kind": "saturation",
      "curve": "tanh",
      "driveDb": 6
    }
  ]
}
`,
    );
  });

  test('gives back any chain, with a byte-order mark too', () => {
    const number = (min: number, max: number) => fc.double({ min, max, noNaN: true }).map((x) => x + 0);
    const filter = fc.oneof(
      fc.record({ kind: fc.constant('highPass' as const), frequencyHz: number(1, 90000) }),
      fc.record({
        kind: fc.constant('peaking' as const),
        frequencyHz: number(1, 90000),
        q: number(0.01, 1000),
        gainDb: number(-120, 120),
      }),
    );
    const stage = fc.oneof(
      fc.record(
        {
          kind: fc.constant('compressor' as const),
          thresholdDb: number(-100, 20),
          ratio: number(1, 1000),
          attackSeconds: number(0, 10),
          releaseSeconds: number(0.001, 10),
          name: fc.string({ maxLength: 20 }),
          wet: number(0, 1),
          sidechain: fc.array(filter, { maxLength: 3 }),
          detector: fc.constantFrom('peak' as const, 'rms' as const),
        },
        { requiredKeys: ['kind', 'thresholdDb', 'ratio', 'attackSeconds', 'releaseSeconds'] },
      ),
      fc.record({ kind: fc.constant('equaliser' as const), filters: fc.array(filter, { maxLength: 3 }) }),
    );
    fc.assert(
      fc.property(fc.array(stage, { maxLength: 4 }), (stages) => {
        const result = chainFromJson(`\uFEFF${chainToJson({ stages } as Chain)}`);
        // toStrictEqual would tell records without a prototype apart, which JSON cannot.
        expect(result.ok && JSON.stringify(result.value)).toBe(JSON.stringify({ stages }));
      }),
      { seed: 1 },
    );
  });

  test('gives a chain that is frozen all the way down', () => {
    const result = chainFromJson(
      fileOf([{ ...compressor, sidechain: [{ kind: 'highPass', frequencyHz: 5000 }] }]),
    );
    const value = result.ok ? result.value : { stages: [] };
    const stage = value.stages[0]!;
    expect(Object.isFrozen(value)).toBe(true);
    expect(Object.isFrozen(value.stages)).toBe(true);
    expect(Object.isFrozen(stage)).toBe(true);
    const sidechain = stage.kind === 'compressor' ? stage.sidechain! : [];
    expect(Object.isFrozen(sidechain)).toBe(true);
    expect(Object.isFrozen(sidechain[0])).toBe(true);
  });
});

describe('a broken chain file', () => {
  test('names every problem by its path', () => {
    expect(
      problemsOf(
        fileOf([
          { ...compressor, ratio: 0.5, attackSeconds: '1 ms' },
          { kind: 'equaliser', filters: [{ kind: 'lowPass', frequencyHz: 0 }] },
          { kind: 'reverb' },
          7,
        ]),
      ),
    ).toEqual([
      '$.stages[0].ratio must lie within [1, 1000]; 0.5',
      '$.stages[0].attackSeconds must be a number; "1 ms"',
      '$.stages[1].filters[0].frequencyHz must lie above 0 and under half the sample rate (96000); 0',
      '$.stages[2].kind must be one of compressor, equaliser, saturation; "reverb"',
      '$.stages[3] must be an object; 7',
    ]);
  });

  test('is told by a misspelt field, a null, and a number that JSON cannot carry', () => {
    expect(problemsOf(fileOf([{ ...compressor, makeupDb: 3 }]))[0]).toMatch(
      /^\$\.stages\[0\] must have only the fields kind, name, thresholdDb,.*; "makeupDb"$/,
    );
    expect(problemsOf(fileOf([{ ...compressor, kneeDb: null }]))).toEqual([
      '$.stages[0].kneeDb must be a number; null',
    ]);
    expect(problemsOf(fileOf([{ ...compressor }]).replace('-20', '-1e999'))).toEqual([
      '$.stages[0].thresholdDb must lie within [-100, 20]; -Infinity',
    ]);
    expect(problemsOf(fileOf([], { author: 'me' }))[0]).toMatch(/^\$ must have only the fields/);
  });

  test('is told by its head', () => {
    expect(problemsOf('{"format":"lenition.regions","version":1}')).toEqual([
      '$.format must be "lenition.chain"; "lenition.regions"',
    ]);
    expect(problemsOf(fileOf([], { version: 0 }))).toEqual(['$.version must be 1; 0']);
    expect(problemsOf(fileOf([], { version: 2 }))).toEqual([
      '$.version must be at most 1: the file was written by a newer library than this one; 2',
    ]);
    expect(problemsOf('{"format":"lenition.chain","version":1}')).toEqual([
      '$.stages must be an array; undefined',
    ]);
    expect(problemsOf('[]')).toEqual(['$ must be an object; an array of 0']);
    expect(problemsOf(5)).toEqual(['$ must be a string; number']);
    expect(problemsOf('{')[0]).toMatch(/^\$ must be JSON text/);
  });

  test('that is huge or deep is not parsed, and problems end at 100', () => {
    expect(problemsOf(' '.repeat(2 ** 20 + 1))[0]).toMatch(/at most 1048576 characters/);
    expect(problemsOf('['.repeat(100000))[0]).toMatch(/must nest at most 32 objects/);
    expect(problemsOf(`[${'{},'.repeat(20000)}{}]`)[0]).toMatch(/must hold at most 10000 objects/);
    const bad = { kind: 'compressor' };
    expect(problemsOf(fileOf(Array(32).fill(bad)))).toHaveLength(100);
  });

  test('never throws and never reaches the prototype', () => {
    const valid = fileOf([compressor]);
    fc.assert(
      fc.property(fc.nat(valid.length), fc.string({ maxLength: 3 }), (at, text) => {
        chainFromJson(valid.slice(0, at) + text + valid.slice(at + 1));
      }),
      { seed: 1, numRuns: 500 },
    );
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        chainFromJson(fileOf(value));
        chainFromJson(fileOf([value]));
      }),
      { seed: 1, numRuns: 300 },
    );
    const hostile = valid.replace('"ratio"', '"__proto__":{"wet":0},"ratio"');
    expect(problemsOf(hostile)[0]).toMatch(/"__proto__"$/);
    expect(({} as { wet?: number }).wet).toBeUndefined();
  });
});

test('writing refuses a chain that could not be read', () => {
  expect(() => chainToJson({ stages: [{ ...compressor, ratio: Number.POSITIVE_INFINITY }] })).toThrow(
    new RangeError('chainToJson: chain.stages[0].ratio must lie within [1, 1000]; received Infinity'),
  );
  expect(() => chainToJson({} as Chain)).toThrow(TypeError);
});
