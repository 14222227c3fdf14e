import fc from 'fast-check';
import * as l from '../../../src/levels/index.js';
import { REGION_KINDS } from '../../../src/regions/region.js';
import { pick } from '../arbitraries/edits.js';
import { guards, measured, takesOfSound } from '../arbitraries/measured.js';
import { options, within } from '../arbitraries/numbers.js';
import { idOf } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const kindsOf = fc.oneof(fc.constantFrom(...REGION_KINDS), fc.subarray([...REGION_KINDS]));

export const LEVELS: Properties = {
  measureLevels: property(
    l.measureLevels,
    fc
      .tuple(
        takesOfSound,
        options({ kinds: fc.subarray([...REGION_KINDS]), neighbourSeconds: within(0.01, 1) }),
        pick,
      )
      .map(([c, o, p]) => {
        const ids = c.list.regions.length > 0 && p % 3 === 0 ? { ids: [idOf(c.list, p)] } : {};
        return [c.channels, c.list, { ...o, ...ids }] as const;
      }),
    { audio: [0, 'all'], infinite: 'negative', weight: 0.3, frozen: true },
  ),
  overCutFlags: property(
    l.overCutFlags,
    fc.tuple(measured, guards).map(([m, o]) => [m.list, m.levels, o] as const),
    {
      weight: 0.3,
    },
  ),
  overCutFloors: property(
    l.overCutFloors,
    fc.tuple(measured, guards).map(([m, o]) => [m.list, m.levels, o] as const),
    {
      weight: 0.3,
    },
  ),
  phrasesOf: property(
    l.phrasesOf,
    fc
      .tuple(takesOfSound, options({ pauseSeconds: within(0.5, 10), marginSeconds: within(0, 1) }))
      .map(([c, o]) => [c.channels, c.list, o] as const),
    {
      audio: [0, 'all'],
      weight: 0.3,
      check: (phrases, _, list) =>
        must(
          phrases.every((p) => p.endSample <= list.lengthSamples),
          'inside',
        ),
    },
  ),
  regionsLouderThan: property(
    l.regionsLouderThan,
    fc.tuple(measured, within(-60, 60)).map(([m, db]) => [m.list, m.levels, db] as const),
    { weight: 0.3 },
  ),
  sibilanceSpread: property(
    l.sibilanceSpread,
    fc
      .tuple(measured, fc.option(kindsOf, { nil: undefined }))
      .map(([m, kinds]) =>
        kinds === undefined ? ([m.levels, m.list] as const) : ([m.levels, m.list, kinds] as const),
      ),
    { weight: 0.3 },
  ),
  suggestBand: property(
    l.suggestBand,
    fc
      .tuple(takesOfSound, pick, options({ share: within(0.5, 0.99) }))
      .map(([c, p, o]) => [c.channels, c.list, idOf(c.list, p), o] as const),
    { audio: [0, 'touched'], weight: 0.3, mayRefuse: /must be the id of a region/ },
  ),
};
