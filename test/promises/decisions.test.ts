import { beforeAll, describe, expect, it } from 'vitest';
import { makeDemonstration } from '../../examples/lib/demo/make-demonstration.js';
import { preemptiveCut } from '../../src/forecast/preemptive-cut.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import { evenedCut } from '../../src/gain/evened-cut.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { gainAtDepth } from '../../src/gain/gain-at-depth.js';
import { defaultCuts } from '../../src/gain/kind-cuts.js';
import { levelledCut } from '../../src/gain/levelled-cut.js';
import { lowerNoise } from '../../src/gain/lower-noise.js';
import { markAndCut } from '../../src/gain/mark-and-cut.js';
import { phraseGain } from '../../src/gain/phrase-gain.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { softenBreaths } from '../../src/gain/soften-breaths.js';
import { stepGain } from '../../src/gain/step-gain.js';
import { tameCymbals } from '../../src/gain/tame-cymbals.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { overCutFlags } from '../../src/levels/over-cut-flags.js';
import type { GuardOptions } from '../../src/levels/over-cut-floors.js';
import type { LevelTable } from '../../src/levels/region-level.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';
import { fadeRaggedEnds } from '../../src/takes/fade-ragged-ends.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { holdSum } from '../../src/takes/hold-sum.js';
import { leadCarries } from '../../src/takes/lead-carries.js';
import { sameFeel } from '../../src/takes/same-feel.js';
import type { Take } from '../../src/takes/take.js';
import { filesBelow } from '../lib/project.js';
import { takeOf } from '../takes/stacks.js';

type Decide = (takes: readonly Take[]) => readonly Take[];
/** A decision for one take, made for each. */
const each =
  (
    decide: (take: Take & { readonly channels: Samples; readonly levels: LevelTable }) => RegionList,
  ): Decide =>
  (takes) =>
    takes.map((take) => ({
      ...take,
      list: decide({ ...take, channels: take.channels as Samples, levels: levels.get(take.id)! }),
    }));

let takes: readonly Take[];
let levels: ReadonlyMap<Take['id'], LevelTable>;
beforeAll(() => {
  const sung = makeDemonstration({ sampleRateHz: 48_000 }).takes.slice(0, 2);
  takes = sung.map(({ name, samples, truth }) => {
    const drafts = truth.flatMap(({ kind, startSample, endSample }) =>
      kind === 'sibilant' || kind === 'fricative' || kind === 'breath'
        ? [{ kind, startSample, endSample, onsetSample: startSample, offsetSample: endSample } as const]
        : [],
    );
    const take = takeOf(name, samples, drafts);
    return { ...take, list: placeEdges(take.list, samples) };
  });
  levels = new Map(takes.map(({ id, channels, list }) => [id, measureLevels(channels, list)]));
});

/** Settings under which each would cut an s into a lisp if nothing held it. */
const harsh = { maxCutDb: 40 };
/** evenedCut goes no lower than the softest s of the take; only a wider margin than usual makes that too low in this one. */
const EVENED_MARGIN_DB = 8;
const COMPUTED: Readonly<Record<string, (guard: boolean) => Decide>> = {
  levelledCut: (guard) => each((t) => levelledCut(t.list, t.levels, { ...harsh, guard, targetDb: -40 })),
  evenedCut: (guard) =>
    each((t) =>
      evenedCut(t.list, t.levels, {
        ...harsh,
        guard,
        marginDb: EVENED_MARGIN_DB,
        share: 1,
        referencePercentile: 0,
      }),
    ),
  sameFeel: (guard) => (some) => sameFeel(some, levels, { ...harsh, guard, targetPercentile: 0 }),
  holdSum: (guard) => (some) => holdSum(some, groupEvents(some), { ...harsh, guard, targetDb: -20, levels }),
  preemptiveCut: (guard) =>
    each(
      (t) => preemptiveCut(t.channels, t.list, CHAIN_PRESETS[0]!, { ...harsh, guard, targetDb: -40 }).list,
    ),
};
/** A gain that a person names. */
const ASKED: Readonly<Record<string, Decide>> = {
  fixedCut: each((t) => fixedCut(t.list, { gainDb: -30 })),
  stepGain: each((t) => stepGain(t.list, { stepDb: -30 })),
  defaultCuts: each((t) => defaultCuts(t.list, { gainsDb: { sibilant: -30 } })),
  gainAtDepth: each((t) => gainAtDepth(fixedCut(t.list), { depth: 5, maxCutDb: 30 })),
  phraseGain: each((t) =>
    phraseGain(t.list, { startSample: 0, endSample: t.list.lengthSamples }, { gainDb: -30 }),
  ),
  leadCarries: (some) => leadCarries(some, groupEvents(some), { cutDb: 30 }),
};
/** No s is judged by these: breaths, noises, strokes; a stretch marked by hand; the end of a sound, which has limits of its own. */
const OTHERS: Readonly<Record<string, Decide>> = {
  softenBreaths: each((t) => softenBreaths(t.list, t.channels)),
  lowerNoise: each((t) => lowerNoise(t.list, { kinds: ['breath'] })),
  tameCymbals: each((t) => tameCymbals(t.list, t.channels, { kinds: ['sibilant'] })),
  markAndCut: each((t) => markAndCut(t.list, 4800, 9600, t.channels)),
  fadeRaggedEnds: (some) => fadeRaggedEnds(some, groupEvents(some), { levels }),
};
const NOT_A_GAIN = ['placeEdges', 'beforeAndAfter'];

const flagsOf = (decided: readonly Take[], options: GuardOptions = {}) =>
  decided.flatMap(({ id, list }) => overCutFlags(list, levels.get(id)!, options));
const gainOf = (region: Region): number => region.gainDb;

describe('decisions', () => {
  it('are all looked at here', () => {
    // What gives a list, takes or a cut back, by its declaration.
    const found = ['gain', 'takes', 'forecast'].flatMap((folder) => {
      const files = filesBelow(`src/${folder}`, '.ts');
      const index = files.find(({ path }) => path.endsWith('/index.ts'))!.text;
      return files
        .flatMap(({ text }) => [
          ...text.matchAll(
            /^export function (\w+)\([\s\S]*?\n?\): (RegionList|readonly Take\[\]|PreemptiveCut) \{$/gm,
          ),
        ])
        .map(([, name]) => name as string)
        .filter((name) => new RegExp(`\\b${name}\\b`).test(index));
    });
    const known = [COMPUTED, ASKED, OTHERS].flatMap((table) => Object.keys(table));
    expect(found.length).toBeGreaterThan(10);
    expect(found.filter((name) => !known.includes(name) && !NOT_A_GAIN.includes(name))).toEqual([]);
  });

  it.each(Object.keys(COMPUTED))(
    '%s computes no cut that the guard flags, unless that is switched off',
    (name) => {
      const decide = COMPUTED[name]!;
      const margin = name === 'evenedCut' ? { marginDb: EVENED_MARGIN_DB } : {};
      const guarded = decide(true)(takes);
      expect(
        guarded.flatMap(({ list }) => list.regions).filter((region) => gainOf(region) < 0).length,
      ).toBeGreaterThan(3);
      expect(flagsOf(guarded, margin)).toEqual([]);
      // Without the guard the same settings do pass it, or this would hold for any code.
      expect(flagsOf(decide(false)(takes), margin).length).toBeGreaterThan(3);
    },
  );

  it.each(Object.keys(ASKED))('%s does what is asked, and the guard flags it', (name) => {
    const decided = ASKED[name]!(takes);
    const flags = flagsOf(decided);
    expect(flags.length).toBeGreaterThan(3);
    const flagged = new Set(flags.map(({ id }) => id));
    const gains = decided.flatMap(({ list }) => list.regions.filter(({ id }) => flagged.has(id)).map(gainOf));
    expect(gains.filter((gainDb) => gainDb === -30).length).toBeGreaterThan(3);
  });

  it.each([...Object.keys(COMPUTED), ...Object.keys(ASKED), ...Object.keys(OTHERS)])(
    '%s boosts nothing, raises no sample and leaves takes and lists as they were',
    (name) => {
      const decide = COMPUTED[name]?.(true) ?? ASKED[name] ?? OTHERS[name]!;
      const before = JSON.stringify(takes.map(({ list }) => list));
      const sound = takes.map(({ channels }) => (channels as Samples).slice());
      const decided = decide(takes);
      expect(JSON.stringify(takes.map(({ list }) => list))).toBe(before);
      expect(JSON.stringify(decided.map(({ list }) => list))).not.toBe(before);
      for (const [t, { channels, list }] of decided.entries()) {
        expect(list.regions.filter((region) => gainOf(region) > 0)).toEqual([]);
        const input = channels as Samples;
        const output = renderGain(input, list);
        let raised = 0;
        let changed = 0;
        for (let i = 0; i < input.length; i++) {
          if (!(Math.abs(output[i]!) <= Math.abs(input[i]!))) raised++;
          if (!Object.is(input[i], sound[t]![i])) changed++;
        }
        expect([raised, changed]).toEqual([0, 0]);
      }
    },
  );
});
