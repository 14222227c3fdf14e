import { describe, expect, it } from 'vitest';
import { visitChainBreaches } from '../../src/forecast/chain-rules.js';

const compressor = {
  kind: 'compressor',
  thresholdDb: -20,
  ratio: 4,
  attackSeconds: 0.01,
  releaseSeconds: 0.1,
};
const saturation = { kind: 'saturation', curve: 'tanh', driveDb: 6 };
const equaliser = { kind: 'equaliser', filters: [] };

/** Every breach as kind of error, path and rule. */
function breachesOf(chain: unknown, ...more: readonly [number?, string[]?]): readonly string[] {
  const breaches: string[] = [];
  visitChainBreaches(
    chain,
    'chain',
    (path, rule, _received, wrongKind) => {
      breaches.push(`${wrongKind ? 'kind' : 'value'} ${path} ${rule}`);
    },
    ...more,
  );
  return breaches;
}
const stage = (fields: object): unknown => ({ stages: [fields] });
const filter = (fields: object): unknown => stage({ ...equaliser, filters: [fields] });

/** Field by field the least and the greatest value that the doc blocks of `chain.ts` allow. */
const RANGES: readonly (readonly [(fields: object) => unknown, string, string, number, number])[] = [
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'thresholdDb', -100, 20],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'ratio', 1, 1000],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'kneeDb', 0, 60],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'attackSeconds', 0, 10],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'releaseSeconds', 0.001, 10],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'averageSeconds', 0.0001, 10],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'makeUpDb', -60, 60],
  [(f) => stage({ ...compressor, ...f }), 'chain.stages[0]', 'wet', 0, 1],
  [(f) => stage({ ...equaliser, ...f }), 'chain.stages[0]', 'wet', 0, 1],
  [(f) => stage({ ...saturation, ...f }), 'chain.stages[0]', 'driveDb', -60, 60],
  [(f) => stage({ ...saturation, ...f }), 'chain.stages[0]', 'bias', -0.9, 0.9],
  [(f) => stage({ ...saturation, ...f }), 'chain.stages[0]', 'makeUpDb', -60, 60],
  [(f) => stage({ ...saturation, ...f }), 'chain.stages[0]', 'wet', 0, 1],
  ...(['lowPass', 'highPass', 'bandPass'] as const).map(
    (kind) =>
      [
        (f: object) => filter({ kind, frequencyHz: 5000, q: 1, ...f }),
        'chain.stages[0].filters[0]',
        'q',
        0.01,
        1000,
      ] as const,
  ),
  ...(['peaking', 'lowShelf', 'highShelf'] as const).map(
    (kind) =>
      [
        (f: object) => filter({ kind, frequencyHz: 5000, ...(kind === 'peaking' ? { q: 1 } : {}), ...f }),
        'chain.stages[0].filters[0]',
        'gainDb',
        -120,
        120,
      ] as const,
  ),
];

describe('the rules of a chain', () => {
  it.each(RANGES)(
    'take a number at each end of its range and none beyond: %#',
    (chainWith, path, name, least, most) => {
      const rule = `value ${path}.${name} must lie within [${least}, ${most}]`;
      for (const value of [least, most]) expect(breachesOf(chainWith({ [name]: value }))).toEqual([]);
      for (const value of [least - 1e-6, most + 1e-6, Number.NaN])
        expect(breachesOf(chainWith({ [name]: value }))).toEqual([rule]);
      expect(breachesOf(chainWith({ [name]: String(least) }))).toEqual([
        `kind ${path}.${name} must be a number`,
      ]);
    },
  );

  it('take a slope above 0 up to 1', () => {
    const slope = (value: number) =>
      breachesOf(filter({ kind: 'lowShelf', frequencyHz: 100, gainDb: 1, slope: value })).length;
    expect([0, 1e-300, 1, 1.000001].map(slope)).toEqual([1, 0, 0, 1]);
  });

  it('take a frequency above 0 and under half the rate, of the highest rate where none is known', () => {
    const at = (frequencyHz: unknown, half?: number) =>
      breachesOf(filter({ kind: 'lowPass', frequencyHz }), half);
    const path = 'chain.stages[0].filters[0].frequencyHz';
    expect(at(0)).toEqual([`value ${path} must lie above 0 and under half the sample rate (96000)`]);
    expect(at(1e-9)).toEqual([]);
    expect(at(95_999.9)).toEqual([]);
    expect(at(96_000)).toHaveLength(1);
    expect(at(23_999.9, 24_000)).toEqual([]);
    expect(at(24_000, 24_000)).toEqual([
      `value ${path} must lie above 0 and under half the sample rate (24000)`,
    ]);
    expect(at(undefined)).toEqual([`kind ${path} must be a number`]);
  });

  it('ask for what has no default, and for nothing else', () => {
    expect(breachesOf(stage({ kind: 'compressor' })).map((breach) => breach.split(' ')[1])).toEqual(
      ['thresholdDb', 'ratio', 'attackSeconds', 'releaseSeconds'].map((name) => `chain.stages[0].${name}`),
    );
    expect(breachesOf(stage({ kind: 'equaliser' }))).toEqual([
      'kind chain.stages[0].filters must be an array',
    ]);
    expect(breachesOf(stage({ kind: 'saturation' })).map((breach) => breach.split(' ')[1])).toEqual([
      'chain.stages[0].curve',
      'chain.stages[0].driveDb',
    ]);
    for (const some of [compressor, equaliser, saturation]) expect(breachesOf(stage(some))).toEqual([]);
    expect(breachesOf(filter({ kind: 'highPass', frequencyHz: 80 }))).toEqual([]);
    for (const kind of ['bandPass', 'peaking', 'lowShelf', 'highShelf'])
      expect(breachesOf(filter({ kind, frequencyHz: 80 })).length, kind).toBe(kind === 'peaking' ? 2 : 1);
  });

  it('know the choices of each field that has some', () => {
    const choices: readonly (readonly [object, string, string])[] = [
      [{ ...compressor, detector: 'ear' }, 'detector', 'peak, rms'],
      [{ ...compressor, smoothing: 'both' }, 'smoothing', 'gain, level'],
      [{ ...saturation, curve: 'tube' }, 'curve', 'tanh, arctangent, cubic, clip'],
      [{ ...saturation, oversampling: 3 }, 'oversampling', '1, 2, 4, 8'],
    ];
    for (const [fields, name, all] of choices) {
      expect(breachesOf(stage(fields))).toEqual([`value chain.stages[0].${name} must be one of ${all}`]);
      expect(breachesOf(stage({ ...fields, [name]: {} }))).toEqual([
        `kind chain.stages[0].${name} must be one of ${all}`,
      ]);
      for (const choice of all.split(', '))
        expect(
          breachesOf(stage({ ...fields, [name]: name === 'oversampling' ? Number(choice) : choice })),
        ).toEqual([]);
    }
    expect(breachesOf(stage({ kind: 'hall' }))).toEqual([
      'value chain.stages[0].kind must be one of compressor, equaliser, saturation',
    ]);
    expect(breachesOf(stage({ kind: 3 }))[0]).toMatch(/^kind chain\.stages\[0\]\.kind/);
    expect(breachesOf(filter({ kind: 'comb' }))).toEqual([
      'value chain.stages[0].filters[0].kind must be one of lowPass, highPass, bandPass, peaking, lowShelf, highShelf',
    ]);
  });

  it('take 32 stages, 32 filters and a name of 200 characters, and no more', () => {
    const low = { kind: 'lowPass', frequencyHz: 100 };
    const filters = (count: number) => stage({ ...equaliser, filters: Array(count).fill(low) });
    const sidechain = (count: number) => stage({ ...compressor, sidechain: Array(count).fill(low) });
    const stages = (count: number) => ({ stages: Array(count).fill(compressor) });
    for (const [most, path] of [
      [filters, 'chain.stages[0].filters'],
      [sidechain, 'chain.stages[0].sidechain'],
      [stages, 'chain.stages'],
    ] as const) {
      expect(breachesOf(most(32))).toEqual([]);
      expect(breachesOf(most(33))).toEqual([`value ${path} must hold at most 32`]);
    }
    for (const named of [
      (name: unknown) => ({ name, stages: [] }),
      (name: unknown) => stage({ ...saturation, name }),
    ]) {
      expect(breachesOf(named('n'.repeat(200)))).toEqual([]);
      expect(breachesOf(named('n'.repeat(201)))[0]).toMatch(
        /^value .*name must be at most 200 characters long$/,
      );
      expect(breachesOf(named(5))[0]).toMatch(/^kind .*name must be a string$/);
    }
  });

  it('take no field that they do not know, but for those that a file has besides', () => {
    const chain = { ...(stage(compressor) as object), format: 'x' };
    expect(breachesOf(chain)).toEqual(['value chain must have only the fields name, stages']);
    expect(breachesOf(chain, 96_000, ['format'])).toEqual([]);
    expect(breachesOf(chain, 96_000, ['version'])).toEqual([
      'value chain must have only the fields version, name, stages',
    ]);
    expect(breachesOf(stage({ ...equaliser, ratio: 2 }))).toEqual([
      'value chain.stages[0] must have only the fields kind, name, filters, wet',
    ]);
  });

  it('say of what is no chain, no stage or no filter at all that it must be an object', () => {
    for (const value of [null, undefined, 'chain', []])
      expect(breachesOf(value)).toEqual(['kind chain must be an object']);
    expect(breachesOf({ stages: [null, compressor, 7] })).toEqual([
      'kind chain.stages[0] must be an object',
      'kind chain.stages[2] must be an object',
    ]);
    expect(breachesOf(filter([]))).toEqual(['kind chain.stages[0].filters[0] must be an object']);
    expect(breachesOf({})).toEqual(['kind chain.stages must be an array']);
  });
});
