import fc from 'fast-check';
import * as g from '../../../src/gain/index.js';
import { FADE_SHAPES, REGION_KINDS, type RegionKind, type RegionList } from '../../../src/regions/region.js';
import { pick } from '../arbitraries/edits.js';
import { guards, measured, takesOfSound } from '../arbitraries/measured.js';
import { options, whole, within } from '../arbitraries/numbers.js';
import { clipsWithLists, lists, positionOf } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { type Properties, property } from '../lib/property.js';

const choice = {
  kinds: fc.subarray([...REGION_KINDS]),
  ids: fc.array(whole(1, 9), { maxLength: 3 }),
  minConfidence: within(0, 1),
  between: fc
    .tuple(fc.nat(1000), fc.nat(1000))
    .map(([startSample, n]) => ({ startSample, endSample: startSample + n })),
};
const choiceOfKinds = { ids: choice.ids, minConfidence: choice.minConfidence, between: choice.between };
const gainsDb = fc.dictionary(fc.constantFrom(...REGION_KINDS), within(-120, 0)) as fc.Arbitrary<
  Partial<Record<RegionKind, number>>
>;
const part = fc.constantFrom('lead', 'backing' as const);
const decision = { frozen: true, check: keepsEdges };

/** A decision changes gains and reasons, not where regions lie. */
function keepsEdges(result: RegionList, list: RegionList): void {
  must(
    result.regions.length === list.regions.length,
    'a decision must keep the number of regions',
    result.regions.length,
  );
  for (const [i, region] of result.regions.entries()) {
    const before = list.regions[i]!;
    must(
      region.id === before.id && region.startSample === before.startSample,
      'a decision must keep the places',
      region.id,
    );
    if (before.locked) must(region === before, 'a locked region must stay as it is', before.id);
  }
}

/** Decisions: what gain a region gets. */
export const GAIN: Properties = {
  fixedCut: property(
    g.fixedCut,
    fc.tuple(lists(), options({ ...choice, gainDb: within(-120, 0) })),
    decision,
  ),
  stepGain: property(
    g.stepGain,
    fc.tuple(lists(), options({ ...choice, stepDb: within(-144, 144), mostGainDb: within(-120, 24) })),
    decision,
  ),
  defaultCuts: property(g.defaultCuts, fc.tuple(lists(), options({ ...choice, part, gainsDb })), decision),
  gainAtDepth: property(
    g.gainAtDepth,
    fc
      .tuple(lists(), within(0, 10), options({ maxCutDb: within(0, 120), kinds: choice.kinds }))
      .map(([list, depth, o]) => [list, { depth, ...o }] as const),
    { frozen: true },
  ),
  levelledCut: property(
    g.levelledCut,
    fc
      .tuple(
        measured,
        guards,
        options({
          ...choice,
          targetDb: fc.option(within(-100, 100)),
          targetPercentile: within(0, 100),
          maxCutDb: within(0, 120),
        }),
      )
      .map(([m, guard, o]) => [m.list, m.levels, { ...guard, ...o }] as const),
    { ...decision, weight: 0.3, check: (result, list) => keepsEdges(result, list) },
  ),
  evenedCut: property(
    g.evenedCut,
    fc
      .tuple(
        measured,
        guards,
        options({
          ...choice,
          share: within(0, 1),
          referencePercentile: within(0, 100),
          maxCutDb: within(0, 120),
        }),
      )
      .map(([m, guard, o]) => [m.list, m.levels, { ...guard, ...o }] as const),
    { ...decision, weight: 0.3, check: (result, list) => keepsEdges(result, list) },
  ),
  lowerNoise: property(
    g.lowerNoise,
    fc.tuple(
      lists(),
      options({
        ...choice,
        cutDb: within(0, 120),
        fadeSeconds: within(0, 1),
        bandFadeSeconds: within(0, 1),
        clickFadeSeconds: within(0, 1),
      }),
    ),
    decision,
  ),
  softenBreaths: property(
    g.softenBreaths,
    fc
      .tuple(
        takesOfSound,
        fc.boolean(),
        options({
          ...choiceOfKinds,
          part,
          cutDb: within(0, 120),
          keepRoomTone: fc.boolean(),
          fadeSeconds: within(0, 1),
          reachSeconds: within(0, 0.5),
        }),
      )
      .map(([c, heard, o]) => [c.list, heard ? c.channels : null, o] as const),
    // Without audio a room tone cannot be kept.
    { frozen: true, audio: [1, 'all'], weight: 0.3, mayRefuse: /channels|keepRoomTone/ },
  ),
  tameCymbals: property(
    g.tameCymbals,
    fc
      .tuple(
        takesOfSound,
        options({
          ...choice,
          targetDb: within(-60, 60),
          mostCutDb: within(6, 120),
          leastCutDb: within(0, 6),
          fadeInSeconds: within(0, 0.1),
          holdSeconds: within(0, 1),
          returnShare: within(0.1, 1),
        }),
      )
      .map(([c, o]) => [c.list, c.channels, o] as const),
    { frozen: true, audio: [1, 'all'], weight: 0.3 },
  ),
  phraseGain: property(
    g.phraseGain,
    fc
      .tuple(lists(), fc.nat(), fc.nat(), within(-144, 144), options({ fadeSeconds: within(0, 1) }))
      .filter(([list]) => list.lengthSamples > 0)
      .map(([list, a, n, gainDb, o]) => {
        const startSample = a % list.lengthSamples;
        const endSample = startSample + 1 + (n % (list.lengthSamples - startSample));
        return [list, { startSample, endSample }, { gainDb, ...o }] as const;
      }),
    { frozen: true },
  ),
  markAndCut: property(
    g.markAndCut,
    fc
      .tuple(
        clipsWithLists({ mostSeconds: 0.02, leastSamples: 1 }),
        pick,
        fc.nat(300),
        fc.boolean(),
        options({
          stepDb: within(-144, 0),
          kind: fc.constantFrom(...REGION_KINDS),
          fadeSeconds: within(0, 0.1),
          snapSeconds: within(0, 0.001),
        }),
      )
      .map(([c, p, n, heard, o]) => {
        const start = Math.max(0, Math.min(positionOf(c.list, p), c.lengthSamples - 1));
        return [
          c.list,
          start,
          Math.min(start + 1 + n, c.lengthSamples),
          heard ? c.channels : null,
          o,
        ] as const;
      }),
    { frozen: true, audio: [3, 'touched'], mayRefuse: /locked/ },
  ),
  placeEdges: property(
    g.placeEdges,
    fc
      .tuple(
        clipsWithLists({ mostSeconds: 0.1, mostChannels: 3 }),
        options({
          fadeSeconds: fc.dictionary(fc.constantFrom(...REGION_KINDS), within(0, 0.1)) as fc.Arbitrary<
            Partial<Record<RegionKind, number>>
          >,
          abuttingFadeSeconds: within(0, 0.02),
          quietSeconds: within(0.002, 0.1),
          skirtSeconds: within(0, 0.1),
          quietBelowDb: within(3, 60),
          snapSeconds: within(0, 0.001),
          fadeShape: fc.constantFrom(...FADE_SHAPES),
        }),
      )
      .map(([c, o]) => [c.list, c.channels, o] as const),
    { frozen: true, audio: [1, 'touched'] },
  ),
  gainAt: property(
    g.gainAt,
    fc
      .tuple(lists(), pick)
      .filter(([list]) => list.lengthSamples > 0)
      .map(
        ([list, p]) => [list, Math.max(0, Math.min(positionOf(list, p), list.lengthSamples - 1))] as const,
      ),
    { check: (gain) => must(gain > 0 && gain < 16, 'must lie within -120 and 24 dB', gain) },
  ),
  gainBreakpoints: property(
    g.gainBreakpoints,
    lists().map((list) => [list] as const),
    { frozen: true },
  ),
  gainCurveInto: property(
    g.gainCurveInto,
    fc.tuple(lists(), pick, fc.nat(500)).map(([list, p, n]) => {
      const start = Math.max(0, Math.min(positionOf(list, p), list.lengthSamples));
      return [new Float64Array(Math.min(n, list.lengthSamples - start)), list, start] as const;
    }),
    {
      outputs: [0],
      check: (_, out, list, start) => {
        for (const i of [0, out.length >> 1, out.length - 1])
          if (i >= 0 && i < out.length)
            // One is worked out along a fade and the other at a point: rounding of a product and an exponential.
            must(
              Math.abs(out[i]! - g.gainAt(list, start + i)) <= 1e-12 * out[i]!,
              'must equal gainAt',
              out[i],
            );
      },
    },
  ),
  fadeGain: property(
    g.fadeGain,
    fc
      .tuple(whole(1, 1e6), within(0, 1), within(1e-6, 16), within(1e-6, 16), fc.constantFrom(...FADE_SHAPES))
      .map(([n, i, from, to, shape]) => [i * n, n, from, to, shape] as const),
    {
      // Rounding of 10^x and of the cosine, some units of the greater gain's last place.
      check: (gain, _, __, a, b) =>
        must(
          gain >= Math.min(a, b) - 1e-15 * Math.max(a, b) && gain <= Math.max(a, b) * (1 + 1e-15),
          'must lie between its ends',
          gain,
        ),
    },
  ),
  bandTransitionHz: property(
    g.bandTransitionHz,
    fc
      .tuple(within(0, 3900), within(20, 90), fc.constantFrom(8000, 48000, 192000))
      .map(([lowHz, width, rate]) => [{ lowHz, highHz: lowHz + width }, rate] as const),
  ),
  summariseTake: property(
    g.summariseTake,
    fc
      .tuple(measured, options({ kinds: choice.kinds }), fc.boolean())
      .map(
        ([m, o, after]) =>
          [
            m.list,
            m.levels,
            { ...o, ...(after ? { levelsAfter: m.levels } : {}), flags: m.list.regions.slice(0, 1) },
          ] as const,
      ),
    { weight: 0.3 },
  ),
  shortenedFlags: property(
    g.shortenedFlags,
    fc
      .tuple(measured, options({ sKeptSeconds: within(0, 1), shKeptSeconds: within(0, 1) }))
      .map(([m, o]) => [m.list, m.levels, o] as const),
    { weight: 0.3 },
  ),
};
