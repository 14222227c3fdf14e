import fc from 'fast-check';
import * as r from '../../../src/regions/index.js';
import { criteria, drafts, pick } from '../arbitraries/edits.js';
import { options, rates, whole, within } from '../arbitraries/numbers.js';
import { clipsWithLists, idOf, labels, lists, positionOf } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

type List = r.RegionList;

const edited = lists({}, true);
/** What an edit says of a list that it does not suit. */
const DOES_NOT_SUIT = /must (not|be|lie|share|leave|fit|follow|end|start|hold|have)/;
const atId = fc.tuple(edited, pick).map(([list, p]) => [list, idOf(list, p)] as const);
const atPosition = fc.tuple(lists(), pick).map(([list, p]) => [list, positionOf(list, p)] as const);
const atPositionBy = fc.tuple(atPosition, criteria).map(([a, c]) => [...a, c] as const);
const idsOf = fc
  .tuple(edited, fc.array(pick, { maxLength: 3 }), fc.boolean())
  .map(([list, p, one]) => [list, one ? idOf(list, p[0] ?? 0) : p.map((n) => idOf(list, n))] as const);
const edit = { mayRefuse: DOES_NOT_SUIT, frozen: true };

/** An edit takes what is left of a list: at least what it says of itself holds (checkRegionList is asked by every case). */
function keepsClip(result: List, list: List): void {
  must(
    result.sampleRateHz === list.sampleRateHz && result.lengthSamples === list.lengthSamples,
    'the clip must stay',
  );
  must(result.nextId >= list.nextId, 'ids must not be given twice');
}

export const REGIONS: Properties = {
  checkRegionList: property(
    (list: unknown) => r.checkRegionList(list),
    lists().map((list) => [list] as const),
  ),
  createRegionList: property(
    r.createRegionList,
    fc.tuple(fc.record({ sampleRateHz: rates, lengthSamples: whole(0, Number.MAX_SAFE_INTEGER) })),
    { frozen: true },
  ),
  editRegions: property(
    r.editRegions,
    fc.tuple(edited, within(-120, 24), fc.integer({ min: -5, max: 5 })).map(([list, gainDb, by]) => {
      const decide = (region: r.Region): r.RegionChange | undefined =>
        region.id % 2 === 0 ? { gainDb, endSample: region.endSample + by } : undefined;
      return [list, decide] as const;
    }),
    { ...edit, check: keepsClip },
  ),
  insertRegion: property(r.insertRegion, fc.tuple(edited, drafts), { ...edit, check: keepsClip }),
  insertRegions: property(r.insertRegions, fc.tuple(edited, fc.array(drafts, { maxLength: 3 })), {
    ...edit,
    check: keepsClip,
  }),
  joinAcrossGaps: property(
    r.joinAcrossGaps,
    fc.tuple(
      edited,
      fc
        .tuple(within(0, 0.1), options({ kinds: fc.subarray([...r.REGION_KINDS]) }))
        .map(([maxGapSeconds, rest]) => ({ maxGapSeconds, ...rest })),
    ),
    {
      frozen: true,
      check: (result, list) => must(r.totalSamples(result.regions) >= r.totalSamples(list.regions), 'covers'),
    },
  ),
  markRange: property(
    r.markRange,
    fc.tuple(edited, pick, pick, drafts).map(([list, a, n, { startSample: _, endSample: __, ...fields }]) => {
      const start = positionOf(list, a);
      return [list, start, start + (n % 60), fields] as const;
    }),
    { ...edit, check: (result, list) => keepsClip(result, list) },
  ),
  mergeRegions: property(
    r.mergeRegions,
    fc
      .tuple(edited, pick, fc.nat(3))
      .map(
        ([list, p, more]) => [list, Array.from({ length: more + 1 }, (_, i) => idOf(list, p + i))] as const,
      ),
    { ...edit, check: (result, list) => keepsClip(result, list) },
  ),
  moveEdges: property(
    r.moveEdges,
    fc
      .tuple(
        atId,
        pick,
        options({ startSample: fc.integer({ min: -9, max: 9 }), endSample: fc.integer({ min: -9, max: 9 }) }),
      )
      .map(([[list, id], p, by]) => {
        const at = positionOf(list, p);
        const moved = Object.fromEntries(Object.entries(by).map(([edge, n]) => [edge, at + n]));
        return [list, id, moved as r.EdgeMove] as const;
      }),
    { ...edit, check: keepsClip },
  ),
  nextRegion: property(r.nextRegion, atPositionBy, { made: [0] }),
  previousRegion: property(r.previousRegion, atPositionBy, { made: [0] }),
  nudgeByFrames: property(
    r.nudgeByFrames,
    fc
      .tuple(
        lists().map((list) =>
          r.createRegionList({
            sampleRateHz: Math.round(list.sampleRateHz),
            lengthSamples: list.lengthSamples,
          }),
        ),
        fc.integer({ min: -50, max: 50 }),
        fc.constantFrom(...(Object.keys(r.TIMECODE_RATES) as r.TimecodeRate[])),
        options({ lengthSamples: whole(0, 1e6), moveLocked: fc.boolean() }),
      )
      .map((a) => a),
    { frozen: true },
  ),
  nudgeEdges: property(
    r.nudgeEdges,
    fc
      .tuple(
        idsOf,
        fc.integer({ min: -20, max: 20 }),
        fc.boolean(),
        options({ edges: fc.constantFrom('both', 'start', 'end' as const) }),
      )
      .map(
        ([[list, ids], by, inSamples, o]) =>
          [list, ids, { ...(inSamples ? { bySamples: by } : { bySeconds: by / 1e4 }), ...o }] as const,
      ),
    { ...edit, check: keepsClip },
  ),
  reconcile: property(
    r.reconcile,
    fc
      .tuple(
        lists({ bands: false }, true),
        lists({ bands: false }, true),
        options({ minOverlap: within(0.01, 1), keepUnmatched: fc.boolean() }),
      )
      .map(([a, b, o]) => [a, { ...b, sampleRateHz: a.sampleRateHz }, o] as const),
    { frozen: true, made: [0, 1], mayRefuse: DOES_NOT_SUIT },
  ),
  regionAt: property(r.regionAt, atPosition, { made: [0] }),
  regionById: property(r.regionById, atId, { made: [0] }),
  regionsBetween: property(
    r.regionsBetween,
    fc
      .tuple(lists(), pick, pick)
      .map(([list, a, b]) => [list, positionOf(list, a), positionOf(list, b)] as const),
  ),
  regionsOfKind: property(
    r.regionsOfKind,
    fc.tuple(lists(), fc.oneof(fc.constantFrom(...r.REGION_KINDS), fc.subarray([...r.REGION_KINDS]))),
  ),
  removeRegion: property(r.removeRegion, idsOf, { ...edit, check: keepsClip }),
  selectRegions: property(r.selectRegions, fc.tuple(lists(), criteria), {
    check: (ids, list) =>
      must(
        ids.every((id) => r.regionById(list, id) !== undefined),
        'must be ids of the list',
      ),
  }),
  setBand: property(
    r.setBand,
    fc
      .tuple(idsOf, fc.option(fc.tuple(within(0, 3900), within(20, 3000))))
      .map(
        ([a, band]) => [...a, band === null ? null : { lowHz: band[0], highHz: band[0] + band[1] }] as const,
      ),
    { ...edit, check: keepsClip },
  ),
  setFades: property(
    r.setFades,
    fc
      .tuple(
        idsOf,
        options({
          fadeInSamples: whole(0, 60),
          fadeOutSamples: whole(0, 60),
          fadeShape: fc.constantFrom(...r.FADE_SHAPES),
          shorten: fc.boolean(),
        }),
      )
      .map(([a, o]) => [...a, o] as const),
    { ...edit, check: keepsClip },
  ),
  setBypassed: property(
    r.setBypassed,
    fc.tuple(idsOf, fc.boolean()).map(([a, on]) => [...a, on] as const),
    edit,
  ),
  setLocked: property(
    r.setLocked,
    fc.tuple(idsOf, fc.boolean()).map(([a, on]) => [...a, on] as const),
    edit,
  ),
  setLabel: property(
    r.setLabel,
    fc.tuple(idsOf, labels).map(([a, text]) => [...a, text] as const),
    edit,
  ),
  setKind: property(
    r.setKind,
    fc.tuple(idsOf, fc.constantFrom(...r.REGION_KINDS)).map(([a, kind]) => [...a, kind] as const),
    edit,
  ),
  setGain: property(
    r.setGain,
    fc.tuple(idsOf, within(-120, 24)).map(([a, gainDb]) => [...a, gainDb] as const),
    {
      ...edit,
      check: keepsClip,
    },
  ),
  snapRegion: property(
    r.snapRegion,
    fc
      .tuple(
        clipsWithLists({ mostSeconds: 0.02 }),
        pick,
        options({ withinSeconds: within(0, 0.001), edges: fc.constantFrom('both', 'start', 'end' as const) }),
      )
      .map(([c, p, o]) => [c.list, idOf(c.list, p), c.channels, o] as const),
    { ...edit, audio: [2, 'touched'], check: keepsClip },
  ),
  snapToZeroCrossing: property(
    r.snapToZeroCrossing,
    fc
      .tuple(
        clipsWithLists({ mostSeconds: 0.01, mostChannels: 1 }),
        fc.nat(),
        fc.nat(100),
        options({ direction: fc.constantFrom('earlier', 'later', 'nearest' as const) }),
      )
      .map(([c, at, withinSamples, o]) => {
        const samples = c.channels instanceof Float32Array ? c.channels : c.channels[0]!;
        return [samples, at % (samples.length + 1), { withinSamples, ...o }] as const;
      }),
    {
      audio: [0, 'touched'],
      check: (at, _, sample, { withinSamples }) =>
        must(Math.abs(at - sample) <= withinSamples, 'must stay within reach', at),
    },
  ),
  splitRegion: property(
    r.splitRegion,
    fc.tuple(atId, pick).map(([[list, id], p]) => [list, id, positionOf(list, p)] as const),
    { ...edit, check: (result, list) => keepsClip(result, list) },
  ),
  trimRegion: property(
    r.trimRegion,
    fc
      .tuple(atId, pick, fc.nat(300))
      .map(([[list, id], p, n]) => [list, id, positionOf(list, p), positionOf(list, p) + 1 + n] as const),
    { ...edit, check: (result, list) => keepsClip(result, list) },
  ),
  shiftRegions: property(
    r.shiftRegions,
    fc.tuple(
      lists(),
      fc.integer({ min: -3000, max: 3000 }),
      options({ lengthSamples: whole(0, 1e6), moveLocked: fc.boolean() }),
    ),
    { frozen: true, mayRefuse: /must hold no locked region/, check: accounts },
  ),
  stretchRegions: property(
    r.stretchRegions,
    fc.tuple(
      lists({}, true),
      within(0.01, 100),
      options({ lengthSamples: whole(0, 1e6), moveLocked: fc.boolean() }),
    ),
    { frozen: true, mayRefuse: /must hold no locked region/, check: accounts },
  ),
  totalSamples: property(
    r.totalSamples,
    lists().map((list) => [list.regions] as const),
  ),
  nextUncertain: property(r.nextUncertain, atPositionBy, { made: [0] }),
  previousUncertain: property(r.previousUncertain, atPositionBy, { made: [0] }),
  whatChanged: property(r.whatChanged, fc.tuple(lists(), lists())),
};

/** Every region is moved or told as lost. */
function accounts({ list, lost }: r.MovedList, before: List): void {
  const gone = new Set(lost.filter(({ reason }) => reason !== 'clipped').map(({ region }) => region.id));
  for (const { id } of before.regions)
    must(
      gone.has(id) !== list.regions.some((region) => region.id === id),
      'a region must be moved or told as lost',
      id,
    );
}
