import fc from 'fast-check';
import * as x from '../../../src/exchange/index.js';
import { gainBreakpoints } from '../../../src/gain/index.js';
import type { RegionList } from '../../../src/regions/region.js';
import { chains } from '../arbitraries/chains.js';
import { histories } from '../arbitraries/edits.js';
import { options, rates, whole, within } from '../arbitraries/numbers.js';
import { lists } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { fingerprint } from '../lib/fingerprint.js';
import { type Properties, property } from '../lib/property.js';

const list1 = lists().map((list) => [list] as const);
const short = lists({ bands: false, mostGainDb: 0 }, true);
const clip = fc.record({ sampleRateHz: rates, lengthSamples: whole(0, 1e6) });
/** Anything at all stands in for data from outside here; the forms of ../forms make what is nearly sound. */
const outside = fc.oneof(fc.anything(), fc.string({ unit: 'binary', maxLength: 300 }), fc.json());
const text = {
  frozen: true,
  noWrongArguments: 'whatever is read, is read or told as a problem; ../forms tries it',
};
/** What a form cannot say: it is told, with the region. */
const CANNOT_SAY = /must (be|lie|fit|have|need|hold|give|end)/;

/** What was written reads as the same list. */
function readsBack<T>(read: (text: string) => x.Result<T>, sameAs: T, written: string): void {
  const result = read(written);
  must(result.ok, 'what was written must be read', result);
  must(
    fingerprint(result.value) === fingerprint(sameAs),
    'what is read must equal what was written',
    written,
  );
}

export const EXCHANGE: Properties = {
  regionsToJson: property(x.regionsToJson, list1, {
    check: (json, list) => readsBack(x.regionsFromJson, ordered(list), json),
  }),
  regionsToTable: property(x.regionsToTable, list1, {
    mayRefuse: CANNOT_SAY,
    check: (table) => must(x.regionsFromTable(table).ok, 'must be read'),
  }),
  regionsToWebVtt: property(
    x.regionsToWebVtt,
    fc.tuple(lists(), options({ payload: fc.constantFrom('text', 'metadata' as const) })),
    { mayRefuse: CANNOT_SAY },
  ),
  regionsToCuePoints: property(
    x.regionsToCuePoints,
    short.map((list) => [list] as const),
    {
      frozen: true,
      check: (chunks, list) => must(x.regionsFromCuePoints(chunks, list).ok, 'must be read'),
    },
  ),
  chainToJson: property(x.chainToJson, fc.tuple(chains), {
    check: (json) => must(x.chainFromJson(json).ok, 'must be read', json),
  }),
  historyToJson: property(x.historyToJson, fc.tuple(histories), {
    made: [0],
    check: (json) => must(x.historyFromJson(json).ok, 'must be read'),
  }),
  gainToCsv: property(
    x.gainToCsv,
    fc.tuple(
      lists({ bands: false }),
      options({ law: fc.constantFrom('decibel', 'linear' as const), errorDb: within(0.01, 1) }),
    ),
    {
      mayRefuse: /band/,
      weight: 0.3,
      check: (csv, { sampleRateHz }) =>
        must(x.gainFromCsv(csv, { sampleRateHz }).ok, 'must be read', csv.slice(0, 200)),
    },
  ),
  gainToMidi: property(
    x.gainToMidi,
    fc.tuple(
      short,
      options({
        ticksPerBeat: whole(24, 32767),
        tempoBpm: within(4, 1000),
        stepDb: within(0.1, 24),
        controller: fc.constantFrom(7, 11 as const),
        bits: fc.constantFrom(7, 14 as const),
        law: fc.constantFrom('squared', 'decibel' as const),
        channel: whole(1, 16),
      }),
    ),
    { mayRefuse: CANNOT_SAY, weight: 0.3 },
  ),
  gainToAudioParamEvents: property(
    x.gainToAudioParamEvents,
    fc
      .tuple(
        short,
        options({ startTimeSeconds: within(0, 1000), depth: within(0, 2), rampsPerFade: whole(1, 64) }),
        fc.nat(),
      )
      .map(([list, o, at]) => [list, { ...o, offsetSample: at % (list.lengthSamples + 1) }] as const),
    { frozen: true, mayRefuse: CANNOT_SAY },
  ),
  breakpointGainAt: property(
    x.breakpointGainAt,
    fc.tuple(lists(), within(-100, 1e6)).map(([list, at]) => [gainBreakpoints(list), at] as const),
  ),
  regionsFromJson: property(x.regionsFromJson, fc.tuple(outside), text),
  regionsFromTable: property(x.regionsFromTable, fc.tuple(outside, clip), text),
  regionsFromWebVtt: property(x.regionsFromWebVtt, fc.tuple(outside, clip), text),
  regionsFromCuePoints: property(x.regionsFromCuePoints, fc.tuple(outside, clip), text),
  historyFromJson: property(x.historyFromJson, fc.tuple(outside), text),
  chainFromJson: property(x.chainFromJson, fc.tuple(outside), text),
  gainFromCsv: property(x.gainFromCsv, fc.tuple(outside, fc.record({ sampleRateHz: rates })), text),
  gainFromMidi: property(x.gainFromMidi, fc.tuple(outside, clip), text),
};

/** Fields in the order in which the reader makes them. */
function ordered(list: RegionList): RegionList {
  const read = x.regionsFromJson(x.regionsToJson(list));
  return read.ok ? read.value : list;
}
