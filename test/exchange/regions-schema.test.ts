import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  MOST_REGIONS_IN_FILE,
  REGION_FIELDS,
  REGION_FORMAT,
  REGION_FORMAT_VERSION,
} from '../../src/exchange/region-format.js';
import { regionsFromJson } from '../../src/exchange/regions-from-json.js';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import type { Problem } from '../../src/exchange/result.js';
import {
  FADE_SHAPES,
  LEAST_BAND_WIDTH_HZ,
  LEAST_GAIN_DB,
  MOST_GAIN_DB,
  REGION_KINDS,
} from '../../src/regions/region.js';
import { regionLists } from '../regions/arbitraries.js';
import { FILED_LIST } from './text-form-checks.js';

const schema = JSON.parse(
  readFileSync(new URL('../../docs/schema/regions.schema.json', import.meta.url), 'utf8'),
);
const ajv = new Ajv2020({ allErrors: true });
/** JSON Schema, draft 2020-12, as Ajv reads it. */
const validate = ajv.compile(schema);
const filed = regionsToJson(FILED_LIST);

/**
 * True: the problem is one that a schema cannot see in a single value: order, overlap, unique ids, ids below nextId, edges against
 * each other and the clip, fades against the region, a band against the rate and its own width.
 */
function isBetweenFields({ path, rule, received }: Problem): boolean {
  const value = Number(received);
  const field = path.replace(/^.*\]\./, '');
  if (/^must (be unique|not lie before|fit into the region's|be greater than onsetSample)/.test(rule))
    return true;
  if (/^must be greater than startSample/.test(rule)) return value >= 1;
  if (!rule.startsWith('must lie within')) return false;
  if (field === 'id') return value >= 1 && value < Number.MAX_SAFE_INTEGER;
  if (field === 'endSample') return value >= 1;
  if (field === 'onsetSample' || field === 'offsetSample') return value >= 0;
  if (field === 'band.lowHz') return value >= 0 && value <= 95980;
  return field === 'band.highHz' && value >= 20 && value <= 96000;
}

describe('the JSON Schema of the region file', () => {
  test('is a schema of draft 2020-12 itself, with an identifier', () => {
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(ajv.validateSchema(schema)).toBe(true);
    // JSON Schema Core 2020-12, section 8.2.1: the root should have an absolute URI; this one needs no address to stay valid.
    expect(schema.$id).toMatch(/^urn:uuid:[0-9a-f-]{36}$/);
  });

  test('has the same names, choices and limits as the library', () => {
    const { region, band } = schema.$defs;
    expect(schema.properties.format.const).toBe(REGION_FORMAT);
    expect(schema.properties.version.const).toBe(REGION_FORMAT_VERSION);
    expect(schema.properties.regions.maxItems).toBe(MOST_REGIONS_IN_FILE);
    expect(Object.keys(region.properties)).toEqual(REGION_FIELDS);
    expect(region.required).toEqual(REGION_FIELDS.filter((field) => field !== 'band'));
    expect(region.properties.kind.enum).toEqual(REGION_KINDS);
    expect(region.properties.fadeShape.enum).toEqual(FADE_SHAPES);
    const gain = region.properties.gainDb;
    expect([gain.minimum, gain.maximum]).toEqual([LEAST_GAIN_DB, MOST_GAIN_DB]);
    // Half the highest rate, 192 kHz.
    expect(band.properties.highHz).toMatchObject({ minimum: LEAST_BAND_WIDTH_HZ, maximum: 96000 });
    expect(band.properties.lowHz).toMatchObject({ minimum: 0, maximum: 96000 - LEAST_BAND_WIDTH_HZ });
  });

  test('takes every file that regionsToJson writes', () => {
    fc.assert(
      fc.property(regionLists, (list) => {
        expect(validate(JSON.parse(regionsToJson(list))) || validate.errors).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  test('takes the files of version 1', () => {
    for (const name of ['version-1-by-hand.json', 'version-1-as-written.regions']) {
      const file = readFileSync(new URL(`files/${name}`, import.meta.url), 'utf8');
      expect(validate(JSON.parse(file))).toBe(true);
    }
  });

  test('refuses what the reader refuses for the value of a field alone, and takes the rest', () => {
    const value = fc.constantFrom<unknown>(
      ...[
        undefined,
        null,
        true,
        'x',
        '',
        '1',
        [],
        {},
        -1,
        -0.5,
        0,
        0.5,
        1,
        2,
        3,
        4,
        7,
        20,
        25,
        -120,
        -121,
        100,
        4000,
        9599,
        10079,
      ],
      ...[
        24000,
        24001,
        96001,
        480000,
        480001,
        2 ** 53 - 2,
        2 ** 53 - 1,
        2 ** 53,
        -(2 ** 53),
        1e300,
        'sibilant',
        'linear',
      ],
      ...[
        { lowHz: 1, highHz: 5 },
        { lowHz: 95981, highHz: 3 },
        { rule: 'x', numbers: { a: 1 } },
        { rule: 'x', numbers: { a: null } },
      ],
    );
    const place = fc.oneof(
      fc
        .constantFrom('format', 'version', 'sampleRateHz', 'lengthSamples', 'nextId', 'regions')
        .map((name) => [name]),
      fc.tuple(
        fc.constant('regions'),
        fc.constantFrom('0', '1'),
        fc.constantFrom<string>(...REGION_FIELDS, 'other'),
      ),
      fc.tuple(fc.constant('regions'), fc.constantFrom('0', '1')),
      fc.tuple(
        fc.constant('regions'),
        fc.constant('1'),
        fc.constant('band'),
        fc.constantFrom('lowHz', 'highHz'),
      ),
      fc.tuple(
        fc.constant('regions'),
        fc.constant('0'),
        fc.constant('reason'),
        fc.constantFrom('rule', 'numbers'),
      ),
    );
    const counts = { taken: 0, between: 0, refused: 0 };
    fc.assert(
      fc.property(fc.array(fc.tuple(place, value), { minLength: 1, maxLength: 2 }), (changes) => {
        const data = JSON.parse(filed);
        for (const [path, changed] of changes) setAt(data, path, changed);
        const text = JSON.stringify(data);
        const result = regionsFromJson(text);
        const valid = validate(JSON.parse(text));
        if (result.ok) counts.taken++;
        else counts[valid ? 'between' : 'refused']++;
        const between = result.ok || result.problems.every(isBetweenFields);
        expect(valid, JSON.stringify(result.ok ? validate.errors : result.problems)).toBe(between);
      }),
      { numRuns: 5000, seed: 91 },
    );
    // All three ways must have been taken often for the test to mean something.
    expect(Math.min(counts.taken, counts.between)).toBeGreaterThan(100);
    expect(counts.refused).toBeGreaterThan(500);
  });

  test('takes what the reader takes beyond it: unknown fields, any order, whole numbers spelt otherwise', () => {
    const spelt = filed
      .replace('"endSample": 9599', '"endSample": 9.599e3')
      .replace('{', '{ "__proto__": 1, "more": [],');
    expect(regionsFromJson(spelt).ok).toBe(true);
    expect(validate(JSON.parse(spelt))).toBe(true);
    expect(validate(JSON.parse(filed.replace('-23.4', '1e999')))).toBe(false);
  });
});

/** Puts a value at a path, where there is one. */
function setAt(data: unknown, path: readonly string[], value: unknown): void {
  let at = data as Record<string, unknown>;
  for (const name of path.slice(0, -1)) {
    const next = at[name];
    if (typeof next !== 'object' || next === null) return;
    at = next as Record<string, unknown>;
  }
  at[path.at(-1)!] = value;
}
