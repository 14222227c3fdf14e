import { describe, expect, it } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { RegionList } from '../../src/regions/region.js';
import { visitListBreaches } from '../../src/regions/region-rules.js';

const sound: RegionList = insertRegions(createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 }), [
  {
    startSample: 100,
    endSample: 200,
    onsetSample: 110,
    offsetSample: 190,
    fadeInSamples: 60,
    fadeOutSamples: 40,
    band: { lowHz: 4000, highHz: 9000 },
    reason: { rule: 'r', numbers: { a: 1 } },
  },
  { startSample: 200, endSample: 1000 },
]);

/** Every breach as `path: rule; received; kind of error`, and what the visit itself said. */
function visit(list: unknown): { readonly breaches: readonly string[]; readonly allOk: boolean } {
  const breaches: string[] = [];
  const allOk = visitListBreaches(list, 'list', (path, rule, received, wrongKind) => {
    breaches.push(`${wrongKind ? 'kind' : 'value'} ${path} ${rule} ${String(received)}`);
  });
  return { breaches, allOk };
}

const withFirst = (fields: object): unknown => ({
  ...sound,
  regions: [{ ...sound.regions[0], ...fields }, sound.regions[1]],
});
const SAFE = 'must be a whole number that a double holds exactly';

/** One thing wrong, and the one report of it: the rules are those of the doc block of `checkRegionList`. */
const ONE_BREACH: readonly (readonly [unknown, string])[] = [
  [null, 'kind list must be an object null'],
  [[], 'kind list must be an object '],
  [7, 'kind list must be an object 7'],
  [{ ...sound, sampleRateHz: 7999.9 }, 'value list.sampleRateHz must lie within [8000, 192000] 7999.9'],
  [{ ...sound, sampleRateHz: '48000' }, 'kind list.sampleRateHz must be a number 48000'],
  [{ ...sound, lengthSamples: -1 }, 'value list.lengthSamples must lie within [0, 9007199254740991] -1'],
  [{ ...sound, nextId: 0 }, 'value list.nextId must lie within [1, 9007199254740991] 0'],
  [{ ...sound, regions: {} }, 'kind list.regions must be an array [object Object]'],
  [{ ...sound, regions: [5] }, 'kind list.regions[0] must be an object 5'],
  [withFirst({ id: 2 }), 'value list.regions[1].id must be unique in its list 2'],
  [withFirst({ id: 3 }), 'value list.regions[0].id must lie within [1, 2] 3'],
  [withFirst({ id: 0 }), 'value list.regions[0].id must lie within [1, 2] 0'],
  [withFirst({ id: '1' }), `kind list.regions[0].id ${SAFE} 1`],
  [withFirst({ id: 1.5 }), `value list.regions[0].id ${SAFE} 1.5`],
  [
    withFirst({ kind: 'hum' }),
    'value list.regions[0].kind must be one of sibilant, fricative, burst, breath, click, noise, cymbal, custom hum',
  ],
  [
    withFirst({ kind: 4 }),
    'kind list.regions[0].kind must be one of sibilant, fricative, burst, breath, click, noise, cymbal, custom 4',
  ],
  [
    withFirst({ startSample: -1 }),
    'value list.regions[0].startSample must lie within [0, 9007199254740991] -1',
  ],
  [
    withFirst({ endSample: 201 }),
    'value list.regions[1].startSample must not lie before 201, the end of the region before it 200',
  ],
  [
    withFirst({ endSample: 100 }),
    'value list.regions[0].endSample must be greater than startSample (100) 100',
  ],
  [withFirst({ endSample: 1001 }), 'value list.regions[0].endSample must lie within [0, 1000] 1001'],
  [
    withFirst({ fadeInSamples: -1 }),
    'value list.regions[0].fadeInSamples must lie within [0, 9007199254740991] -1',
  ],
  [withFirst({ fadeOutSamples: 0.5 }), `value list.regions[0].fadeOutSamples ${SAFE} 0.5`],
  [
    withFirst({ fadeOutSamples: 41 }),
    "value list.regions[0].fadeOutSamples must fit into the region's 100 samples together with fadeInSamples (60) 41",
  ],
  [withFirst({ onsetSample: -1 }), 'value list.regions[0].onsetSample must lie within [0, 1000] -1'],
  [withFirst({ offsetSample: 1001 }), 'value list.regions[0].offsetSample must lie within [0, 1000] 1001'],
  [
    withFirst({ onsetSample: 190 }),
    'value list.regions[0].offsetSample must be greater than onsetSample (190) 190',
  ],
  [withFirst({ onsetSample: undefined }), `kind list.regions[0].onsetSample ${SAFE} undefined`],
  [withFirst({ gainDb: 24.1 }), 'value list.regions[0].gainDb must lie within [-120, 24] 24.1'],
  [withFirst({ gainDb: Number.NaN }), 'value list.regions[0].gainDb must lie within [-120, 24] NaN'],
  [withFirst({ band: null }), 'kind list.regions[0].band must be an object null'],
  [
    withFirst({ band: { lowHz: -1, highHz: 9000 } }),
    'value list.regions[0].band.lowHz must lie within [0, 23980] -1',
  ],
  [
    withFirst({ band: { lowHz: 4000, highHz: 4019 } }),
    'value list.regions[0].band.highHz must lie within [4020, 24000] 4019',
  ],
  [withFirst({ confidence: 1.01 }), 'value list.regions[0].confidence must lie within [0, 1] 1.01'],
  [withFirst({ bypassed: 1 }), 'kind list.regions[0].bypassed must be a boolean 1'],
  [withFirst({ locked: 'no' }), 'kind list.regions[0].locked must be a boolean no'],
  [
    withFirst({ fadeShape: 'cubic' }),
    'value list.regions[0].fadeShape must be one of linear, raisedCosine, decibel cubic',
  ],
  [withFirst({ label: 3 }), 'kind list.regions[0].label must be a string 3'],
  [withFirst({ reason: 'by hand' }), 'kind list.regions[0].reason must be an object by hand'],
  [withFirst({ reason: { rule: 1, numbers: {} } }), 'kind list.regions[0].reason.rule must be a string 1'],
  [
    withFirst({ reason: { rule: 'r', numbers: 4 } }),
    'kind list.regions[0].reason.numbers must be an object 4',
  ],
  [
    withFirst({ reason: { rule: 'r', numbers: { 'a"b': '1' } } }),
    'kind list.regions[0].reason.numbers["a\\"b"] must be a number 1',
  ],
  [
    withFirst({ reason: { rule: 'r', numbers: { a: Number.NaN } } }),
    'value list.regions[0].reason.numbers["a"] must be finite NaN',
  ],
];

describe('the rules of a list', () => {
  it('find nothing in a sound one, with regions that touch, fill the clip and have fades that meet', () => {
    expect(visit(sound)).toEqual({ breaches: [], allOk: true });
    expect(visit({ ...sound, regions: [] })).toEqual({ breaches: [], allOk: true });
  });

  it.each(ONE_BREACH)(
    'report one thing wrong once, by its place, and say that the list is not sound: %#',
    (list, breach) => {
      expect(visit(list)).toEqual({ breaches: [breach], allOk: false });
    },
  );

  it('report all that is wrong, in the order of the fields, and go on with the next region', () => {
    const broken = {
      ...sound,
      nextId: -1,
      regions: [
        { ...sound.regions[0], gainDb: 99, band: { lowHz: 'low', highHz: -1 }, label: null },
        7,
        { ...sound.regions[1], startSample: 150, locked: 0 },
      ],
    };
    const { breaches, allOk } = visit(broken);
    expect(allOk).toBe(false);
    expect(breaches.map((breach) => breach.split(' ')[1])).toEqual([
      'list.nextId',
      'list.regions[0].gainDb',
      'list.regions[0].band.lowHz',
      'list.regions[0].band.highHz',
      'list.regions[0].label',
      'list.regions[1]',
      'list.regions[2].locked',
    ]);
  });

  it('compare a region with the farthest end before it, not with the last one', () => {
    const [first, second] = sound.regions;
    const inside = { ...second, id: 2, startSample: 120, endSample: 130 };
    const after = { ...second, id: 3, startSample: 150, endSample: 300 };
    expect(visit({ ...sound, nextId: 4, regions: [first, inside, after] }).breaches).toEqual([
      'value list.regions[1].startSample must not lie before 200, the end of the region before it 120',
      'value list.regions[2].startSample must not lie before 200, the end of the region before it 150',
    ]);
  });

  it('cut the name of a number, which a file may make as long as it likes', () => {
    const numbers = { ['n'.repeat(5000)]: 'x' };
    expect(visit(withFirst({ reason: { rule: 'r', numbers } })).breaches[0]).toBe(
      `kind list.regions[0].reason.numbers["${'n'.repeat(40)}"] must be a number x`,
    );
  });
});
