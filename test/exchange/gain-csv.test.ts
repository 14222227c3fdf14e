import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { breakpointGainAt } from '../../src/exchange/breakpoint-gain-at.js';
import { csvRecords } from '../../src/exchange/csv-records.js';
import { gainFromCsv } from '../../src/exchange/gain-from-csv.js';
import { type GainCsvOptions, gainToCsv } from '../../src/exchange/gain-to-csv.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { gainBreakpoints } from '../../src/gain/gain-breakpoints.js';
import { FADE_SHAPES, type RegionList } from '../../src/regions/region.js';
import { anyList, listOf, region } from '../gain/lists.js';
import { anyOutsideValue, hostileValues } from './outside-data.js';

/** A table read in the plainest way, and played as its documentation says; in decibels. */
function rebuilt(text: string): (sample: number) => number {
  const lines = text.trimEnd().split('\r\n').slice(1);
  const rows = lines
    .map((line) => line.split(','))
    .map(([, sample, gainDb, law]) => ({ sample: Number(sample), gainDb: Number(gainDb), law }));
  return (sample) => {
    const k = rows.filter((row) => row.sample <= sample).length - 1;
    const [from, to] = [rows[k]!, rows[k + 1]!];
    const x = (sample - from.sample) / (to.sample - from.sample);
    if (from.law === 'decibel') return from.gainDb + (to.gainDb - from.gainDb) * x;
    const [a, b] = [10 ** (from.gainDb / 20), 10 ** (to.gainDb / 20)];
    return 20 * Math.log10(a + (b - a) * x);
  };
}

const decibels = (list: RegionList, sample: number) => 20 * Math.log10(gainAt(list, sample));
const linesOf = (list: RegionList, options?: GainCsvOptions) =>
  gainToCsv(list, options).trimEnd().split('\r\n');
/** Rounding of doubles alone, seen at the mute: 1e-16 of 1 is 1e-10 of 1e-6, and 1e-9 dB. */
const ROUNDING_DB = 1e-8;

const anyOptions: fc.Arbitrary<GainCsvOptions> = fc.record({
  law: fc.constantFrom('decibel' as const, 'linear' as const),
  errorDb: fc.constantFrom(0, 0.001, 0.1, 1, 6),
});

/** One region with a long fade, where many lines are needed. */
const longFade = fc
  .record({
    fadeInSamples: fc.integer({ min: 0, max: 3000 }),
    fadeOutSamples: fc.integer({ min: 0, max: 3000 }),
    fadeShape: fc.constantFrom(...FADE_SHAPES),
    gainDb: fc.oneof(fc.constantFrom(-120, -6, 24), fc.double({ min: -120, max: 24, noNaN: true })),
  })
  .map((fields) => listOf(6010, region({ startSample: 5, endSample: 6005, ...fields })));

describe('gain as a CSV table', () => {
  test('is the documented text, with CR LF behind every line', () => {
    const list = listOf(
      96000,
      region({ startSample: 24000, endSample: 28800, fadeInSamples: 240, fadeShape: 'decibel' }),
      region({ startSample: 48001, endSample: 48002, gainDb: -120 }),
    );
    expect(gainToCsv(list)).toBe(
      [
        'seconds,sample,gainDb,law',
        '0,0,0,decibel',
        '0.5,24000,0,decibel',
        '0.505,24240,-6,decibel',
        '0.6,28800,-6,decibel',
        '0.6,28800,0,decibel',
        '1.0000208333333334,48001,0,decibel',
        '1.0000208333333334,48001,-120,decibel',
        '1.0000416666666667,48002,-120,decibel',
        '1.0000416666666667,48002,0,decibel',
        '2,96000,0,decibel',
        '',
      ].join('\r\n'),
    );
  });

  test('played back is within the stated error of the gain at every sample', () => {
    const judge = (list: RegionList, options: GainCsvOptions) => {
      const play = rebuilt(gainToCsv(list, options));
      for (let i = 0; i < list.lengthSamples; i++)
        expect(Math.abs(play(i) - decibels(list, i))).toBeLessThanOrEqual(options.errorDb! + ROUNDING_DB);
    };
    fc.assert(fc.property(anyList(), anyOptions, judge), { numRuns: 100 });
    // Far apart samples would hide an error between lines: here every seventh is looked at, in long fades.
    fc.assert(
      fc.property(longFade, anyOptions, (list, options) => {
        const play = rebuilt(gainToCsv(list, options));
        for (let i = 5; i < 6005; i += 7)
          expect(Math.abs(play(i) - decibels(list, i))).toBeLessThanOrEqual(options.errorDb! + ROUNDING_DB);
      }),
      { numRuns: 30 },
    );
  });

  test('carries fades of its own law with no line in between, and exactly', () => {
    for (const law of ['decibel', 'linear'] as const)
      fc.assert(
        fc.property(anyList(), (list) => {
          const same = { ...list, regions: list.regions.map((one) => ({ ...one, fadeShape: law })) };
          expect(linesOf(same, { law, errorDb: 0 })).toHaveLength(1 + gainBreakpoints(same).length);
          const play = rebuilt(gainToCsv(same, { law, errorDb: 0 }));
          for (let i = 0; i < list.lengthSamples; i++)
            expect(Math.abs(play(i) - decibels(same, i))).toBeLessThanOrEqual(ROUNDING_DB);
        }),
        { numRuns: 50 },
      );
  });

  test('puts as few lines into a linear fade as equal ratios allow', () => {
    // Straight in dB over a ratio of L nepers is off by about 20/ln 10 · L²/8 dB; to half amplitude, ln 2 nepers, at 0.1 dB: L ≤ 0.3035,
    // three pieces, two lines more. At 0.01 dB: L ≤ 0.09597, 8 pieces; at 0.001: L ≤ 0.03035, 23. (computed from its figures; the least number for whole samples.)
    const half = 20 * Math.log10(0.5);
    const list = listOf(
      96000,
      region({ startSample: 0, endSample: 96000, gainDb: half, fadeInSamples: 96000 }),
    );
    const pieces = (errorDb: number) =>
      linesOf(list, { errorDb }).length - 1 - gainBreakpoints(list).length + 1;
    expect([0.1, 0.01, 0.001].map(pieces)).toEqual([3, 8, 23]);
  });

  test('puts hardly more lines into a raised cosine than its curvature asks for', () => {
    // A chord of length h is off by h²/8·|f''|, so the least number of pieces is the integral of √(|f''| / (8·error)) (computed from published figures). Bounds are taken
    // over whole pieces here, which costs some.
    const least = (gainDb: number, errorDb: number) => {
      const decibelsAt = (x: number) =>
        20 * Math.log10(1 + (10 ** (gainDb / 20) - 1) * (0.5 - 0.5 * Math.cos(Math.PI * x)));
      const h = 1e-4;
      let sum = 0;
      for (let x = h; x < 1 - h / 2; x += h) {
        const bend = (decibelsAt(x + h) - 2 * decibelsAt(x) + decibelsAt(x - h)) / h ** 2;
        sum += Math.sqrt(Math.abs(bend) / (8 * errorDb)) * h;
      }
      return sum;
    };
    for (const gainDb of [-3, -6, -24])
      for (const errorDb of [0.1, 0.01]) {
        const fade = { fadeInSamples: 9600, fadeShape: 'raisedCosine', gainDb } as const;
        const list = listOf(48000, region({ startSample: 0, endSample: 24000, ...fade }));
        const pieces = linesOf(list, { errorDb }).length - 1 - gainBreakpoints(list).length + 1;
        // The true least, with its ends rounded up, and at most a half more.
        expect(pieces).toBeGreaterThanOrEqual(Math.floor(least(gainDb, errorDb)));
        expect(pieces).toBeLessThanOrEqual(Math.ceil(1.5 * least(gainDb, errorDb)) + 1);
      }
    // What the documentation says.
    const usual = region({ startSample: 0, endSample: 24000, fadeInSamples: 240, fadeShape: 'raisedCosine' });
    expect(linesOf(listOf(48000, usual)).length - 1 - gainBreakpoints(listOf(48000, usual)).length).toBe(5);
  });

  test('gives a line a sample where no error is permitted', () => {
    const list = listOf(
      100,
      region({ startSample: 10, endSample: 60, fadeInSamples: 20, fadeShape: 'raisedCosine' }),
    );
    expect(linesOf(list, { errorDb: 0 })).toHaveLength(1 + gainBreakpoints(list).length + 19);
  });

  test('is quick and short for a fade of hours', () => {
    const n = 36000 * 192000;
    const list = listOf(
      n,
      region({ startSample: 0, endSample: n, gainDb: -120, fadeInSamples: n, fadeShape: 'raisedCosine' }),
    );
    // A linear fade of 13.8 nepers takes 46 pieces of 0.3035 (above), whatever its length; a cosine not many times that.
    expect(linesOf(list).length).toBeLessThan(200);
  });

  test('is refused where it would have more lines than a reader takes', () => {
    const n = 2_000_000;
    const list = listOf(n, region({ startSample: 0, endSample: n, fadeInSamples: n }));
    expect(() => gainToCsv(list, { errorDb: 0 })).toThrow(/at most 2000000 lines/);
  });

  test('is two lines for a clip without active regions and one for an empty clip', () => {
    expect(linesOf(listOf(9))).toEqual([
      'seconds,sample,gainDb,law',
      '0,0,0,decibel',
      '0.0001875,9,0,decibel',
    ]);
    expect(linesOf(listOf(0))).toHaveLength(2);
  });

  test('refuses other options', () => {
    expect(() => gainToCsv(listOf(9), { law: 'raisedCosine' as never })).toThrow(RangeError);
    expect(() => gainToCsv(listOf(9), { errorDb: -1 })).toThrow(RangeError);
    expect(() => gainToCsv({} as never)).toThrow(TypeError);
  });
});

describe('gain from a CSV table', () => {
  const rate = { sampleRateHz: 48000 };
  const head = 'seconds,sample,gainDb,law';
  const table = (...lines: string[]) => [head, ...lines, ''].join('\r\n');
  const problems = (text: unknown) => {
    const result = gainFromCsv(text, rate);
    return result.ok ? [] : result.problems.map(({ path, rule, received }) => `${path} ${rule}; ${received}`);
  };

  test('gives back, played, the gain of the clip within the error, at every sample', () => {
    fc.assert(
      fc.property(anyList(), anyOptions, (list, options) => {
        const result = gainFromCsv(gainToCsv(list, options), rate);
        if (!result.ok) throw new Error(JSON.stringify(result.problems));
        for (let i = 0; i < list.lengthSamples; i++) {
          const gainDb = 20 * Math.log10(breakpointGainAt(result.value, i));
          expect(Math.abs(gainDb - decibels(list, i))).toBeLessThanOrEqual(options.errorDb! + ROUNDING_DB);
        }
      }),
    );
  });

  test('gives the very points, bit for bit, where every fade has the law', () => {
    fc.assert(
      fc.property(anyList(), fc.constantFrom('decibel' as const, 'linear' as const), (list, law) => {
        const same = { ...list, regions: list.regions.map((one) => ({ ...one, fadeShape: law })) };
        const points = gainBreakpoints(same).map((point) => ({ ...point, shape: law }));
        expect(gainFromCsv(gainToCsv(same, { law }), rate)).toEqual({ ok: true, value: points });
      }),
    );
  });

  test('keeps samples exact at any position and rate, at those of 29.97 frames too (1601.6 samples, references.md, computed from its figures)', () => {
    const rates = fc.constantFrom(8000, 44100, 48000, 47952.047952, 192000);
    fc.assert(
      fc.property(fc.nat(2 ** 20), fc.nat(2 ** 30), rates, (frame, far, sampleRateHz) => {
        const at = Math.round(frame * 1601.6) + far * 2 ** 20;
        const list = { ...listOf(at + 10, region({ startSample: at, endSample: at + 3 })), sampleRateHz };
        const result = gainFromCsv(gainToCsv(list), { sampleRateHz });
        expect(result.ok && result.value.map(({ sample }) => sample)).toEqual(
          gainBreakpoints(list).map(({ sample }) => sample),
        );
      }),
    );
  });

  test('is not particular about line ends, quotation marks and the end of the text', () => {
    const points = [
      { sample: 0, gainDb: 0, shape: 'decibel' },
      { sample: 48000, gainDb: -6.5, shape: 'linear' },
    ];
    for (const text of [
      `${head}\r\n0,0,0,decibel\r\n1,48000,-6.5,linear\r\n`,
      `${head}\n0,0,0,decibel\n1,48000,-6.5,linear`,
      `\uFEFF"seconds","sample","gainDb","law"\r\n\r\n0,"0",0,decibel\r\n\n1.0,48000,-65e-1,"linear"\r\n\r\n`,
    ])
      expect(gainFromCsv(text, rate)).toEqual({ ok: true, value: points });
  });

  test('tells each problem by its line', () => {
    expect(problems(7)).toEqual(['$ must be a string; number']);
    expect(problems(null)).toEqual(['$ must be a string; null']);
    expect(problems('')).toEqual(['$ must hold at least one point; 0 characters']);
    expect(problems(table())).toEqual(['$ must hold at least one point; 27 characters']);
    expect(problems('time,gain\n0,0\n')).toEqual(['line 1 must be seconds,sample,gainDb,law; time,gain']);
    expect(
      problems(
        table(
          '0,1,0,decibel',
          '0.5,24000,-6,decibel',
          '0.5,24001.5,-6,decibel',
          '1,24000,-121,cosine',
          '0.5,24000',
          '0.5,24000,-6,decibel,',
          '0,12,NaN,linear',
          '0.00025,12,0x10,linear',
          '0.00025,12,"-6"0,linear',
          '0.00025,12,0,linear',
        ),
      ),
    ).toEqual(
      [
        'line 2, seconds must be sample 1 at 48000 Hz; "0"',
        'line 4, sample must be a whole number of at least 0; "24001.5"',
        'line 5, seconds must be sample 24000 at 48000 Hz; "1"',
        'line 5, gainDb must be a number within [-120, 24]; "-121"',
        'line 5, law must be decibel or linear; "cosine"',
        'line 6 must have 4 fields; 0.5,24000',
        'line 7 must have at most 4 fields; 0.5,24000,-6,decibel',
        'line 8, seconds must be sample 12 at 48000 Hz; "0"',
        'line 8, gainDb must be a number within [-120, 24]; "NaN"',
        'line 9, gainDb must be a number within [-120, 24]; "0x10"',
        'line 10 must have nothing between a quoted field and a comma; 0.00025,12,-6,linear',
        'line 3, sample must be 0 in the first point; 24000',
        'line 11, sample must not lie before 24000, the one above; 12',
      ].sort((a, b) => Number.parseInt(a.slice(5), 10) - Number.parseInt(b.slice(5), 10)),
    );
  });

  test('refuses a third line at one sample, and a table of another rate', () => {
    const step = ['0,0,0,decibel', '0,0,-6,decibel'];
    expect(problems(table(...step))).toEqual([]);
    expect(problems(table(...step, '0,0,-3,decibel'))).toEqual([
      'line 4, sample must not stand in a third line; 0',
    ]);
    const list = { ...listOf(96000), sampleRateHz: 44100 };
    expect(problems(gainToCsv(list))).toHaveLength(1);
    expect(() => gainFromCsv('', { sampleRateHz: 0 })).toThrow(RangeError);
  });

  test('never throws, and gives ordered gains or problems', () => {
    const sound = gainToCsv(
      listOf(96000, region({ startSample: 4800, endSample: 9600, fadeInSamples: 480 })),
    );
    let bad = 0;
    const judge = (text: unknown) => {
      const result = gainFromCsv(text, rate);
      if (!result.ok) {
        bad++;
        expect(result.problems.length).toBeGreaterThan(0);
        expect(result.problems.length).toBeLessThanOrEqual(100);
      } else
        result.value.forEach((point, k) => {
          expect(point.gainDb >= -120 && point.gainDb <= 24).toBe(true);
          expect(point.sample).toBeGreaterThanOrEqual(result.value[k - 1]?.sample ?? 0);
        });
    };
    const piece = fc.oneof(
      fc.constantFrom('"', ',', '\n', '\r', '\r\n', '', '-', 'e', '9', '.', '""', '\0', 'decibel', '1e999'),
      fc.string(),
    );
    const edits = fc.array(fc.tuple(fc.nat(sound.length), fc.nat(8), piece), { minLength: 1, maxLength: 4 });
    const torn = edits.map((list) =>
      list.reduce((text, [at, count, put]) => text.slice(0, at) + put + text.slice(at + count), sound),
    );
    fc.assert(fc.property(torn, judge), { numRuns: 5000, seed: 7 });
    fc.assert(fc.property(fc.oneof(fc.string(), anyOutsideValue()), judge), { numRuns: 1000, seed: 8 });
    for (const value of hostileValues()) judge(value);
    expect(bad).toBeGreaterThan(3000);
    for (const text of [','.repeat(1e6), '"'.repeat(1e6), '\n'.repeat(1e6), `${head}\n${',\n'.repeat(1e6)}`])
      judge(text);
  });
});

describe('csvRecords', () => {
  const fields = (text: string) =>
    Array.from(csvRecords(text, 9), (record) => record.broken ?? record.fields);

  test('reads the examples of RFC 4180, section 2 (from memory)', () => {
    expect(fields('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual([
      ['aaa', 'bbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(fields('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toHaveLength(2);
    expect(fields('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ['aaa', 'b\r\nbb', 'ccc'],
      ['zzz', 'yyy', 'xxx'],
    ]);
    expect(fields('"aaa","b""bb","ccc"')).toEqual([['aaa', 'b"bb', 'ccc']]);
  });

  test('counts lines through quoted line ends, and keeps empty fields', () => {
    expect(Array.from(csvRecords('"a\nb"\n,\n', 9))).toEqual([
      { line: 1, fields: ['a\nb'] },
      { line: 3, fields: ['', ''] },
    ]);
  });

  test('gives back any fields that were written by the rules', () => {
    const quoted = (field: string) => `"${field.replaceAll('"', '""')}"`;
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '\r\n', ' ') });
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 5 }), { maxLength: 5 }), (rows) => {
        expect(fields(rows.map((row) => row.map(quoted).join()).join('\r\n'))).toEqual(rows);
      }),
    );
  });

  test('says what is broken', () => {
    expect(fields('a"b,c\n"x"y\n"open')).toEqual([
      'must be quoted as a whole or not at all',
      'must have nothing between a quoted field and a comma',
      'must end each quoted field with a mark',
    ]);
  });
});

describe('breakpointGainAt', () => {
  test('plays breakpoints as gainAt, to the last bit', () => {
    fc.assert(
      fc.property(anyList(), (list) => {
        const points = gainBreakpoints(list);
        for (let i = 0; i < list.lengthSamples; i++)
          expect(breakpointGainAt(points, i)).toBe(gainAt(list, i));
      }),
    );
  });

  test('holds the first gain before and the last one after, and refuses what is no envelope', () => {
    const points = [
      { sample: 10, gainDb: -20, shape: 'linear' },
      { sample: 20, gainDb: 0, shape: 'linear' },
    ] as const;
    expect([-5, 10, 15, 20, 99].map((at) => breakpointGainAt(points, at).toFixed(3))).toEqual([
      '0.100',
      '0.100',
      '0.550',
      '1.000',
      '1.000',
    ]);
    expect(() => breakpointGainAt([], 0)).toThrow(RangeError);
    expect(() => breakpointGainAt(points, Number.NaN)).toThrow(RangeError);
    expect(() => breakpointGainAt('x' as never, 0)).toThrow(TypeError);
  });
});
