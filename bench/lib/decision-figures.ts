import { detectConsonants } from '../../src/detection/detect-consonants.js';
import type { Chain } from '../../src/forecast/chain.js';
import { forecastRise } from '../../src/forecast/forecast-rise.js';
import { preemptiveCut } from '../../src/forecast/preemptive-cut.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import { evenedCut } from '../../src/gain/evened-cut.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { levelledCut } from '../../src/gain/levelled-cut.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { measureLevels } from '../../src/levels/measure-levels.js';
import { overCutFloors } from '../../src/levels/over-cut-floors.js';
import type { LevelTable } from '../../src/levels/region-level.js';
import { sibilanceSpread } from '../../src/levels/sibilance-spread.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import type { Take } from '../../src/takes/take.js';
import { type DecisionLine, type DecisionMark, decisionPicture, number } from './decision-picture.js';
import { stackFigures } from './stack-figures.js';

/** A picture for the guides, by the name of its file. */
export interface Figure {
  readonly name: string;
  readonly svg: string;
}

/** The chain that figures look ahead through. */
export const FIGURE_CHAIN: Chain = CHAIN_PRESETS.find(({ name }) => name === 'forward and bright') as Chain;

/** The takes of a demonstration, searched, their edges placed, no gain decided. */
export function foundStack(
  takes: readonly { readonly name: string; readonly samples: Take['channels'] & Float32Array }[],
  sampleRateHz: number,
): readonly Take[] {
  return takes.map(({ name, samples }) => {
    const list = placeEdges(detectConsonants(samples, { sampleRateHz }), samples);
    return { id: name, channels: samples, list, offsetSamples: 0, gainDb: 0 };
  });
}

/** One figure for each way of deciding gains: four on the lead, four on the stack. */
export function decisionFigures(stack: readonly Take[]): readonly Figure[] {
  const lead = stack[0] as Take;
  const levels = measureLevels(lead.channels, lead.list);
  const even = evenedCut(lead.list, levels);
  const level = levelledCut(lead.list, levels);
  return [
    figure('fixed', 'Fixed: one cut for all', fixedCut(lead.list), levels, []),
    figure('levelled', 'Levelled: the loud ones down to one level', level, levels, [
      ...ownLines(level, levels, 'targetDb', 'target'),
    ]),
    figure('evened', 'Evened: half of what stands out, taken off', even, levels, [
      ...ownLines(even, levels, 'referenceDb', 'reference'),
    ]),
    ahead(lead),
    ...stackFigures(stack),
  ];
}

function figure(
  name: string,
  title: string,
  list: RegionList,
  levels: LevelTable,
  lines: readonly DecisionLine[],
): Figure {
  const sibilance = (region: Region): number | null => levels.byId.get(region.id)?.sibilanceDb ?? null;
  const marks = marksOf(list, sibilance, (region) => (sibilance(region) as number) + region.gainDb);
  const before = sibilanceSpread(levels, ungained(list));
  const after = sibilanceSpread(levels, list);
  const floor = overCutFloors(list, levels).values().next().value?.floorDb;
  const svg = decisionPicture({
    title,
    facts: `${marks.length} sibilants; softest to loudest tenth ${number(before?.spreadDb ?? 0)} dB as recorded, ${number(after?.spreadDb ?? 0)} dB now. 0 dB: as loud as the voice beside it.`,
    unit: 'dB',
    words: { before: 'as recorded', after: 'with its gain', label: 'gain in dB' },
    durationSeconds: list.lengthSamples / list.sampleRateHz,
    marks,
    lines:
      floor === undefined
        ? lines
        : [...lines, { value: floor, text: 'no computed cut goes below', style: 'dotted' }],
  });
  return { name: `decision-${name}`, svg };
}

/** Behind the chain: without the cut, and with the cut that it makes needed. */
function ahead(lead: Take): Figure {
  const kinds = ['sibilant'] as const;
  const { list } = preemptiveCut(lead.channels, lead.list, FIGURE_CHAIN, { kinds });
  const without = forecastRise(lead.channels, lead.list, FIGURE_CHAIN, { kinds });
  const cut = forecastRise(lead.channels, list, FIGURE_CHAIN, { kinds });
  const marks = marksOf(
    list,
    ({ id }) => without.byId.get(id)?.afterDb ?? null,
    ({ id }) => cut.byId.get(id)?.afterDb as number,
  );
  const rises = [...without.byId.values()].flatMap(({ riseDb }) => (riseDb === null ? [] : [riseDb]));
  const svg = decisionPicture({
    title: `Ahead: what the chain will lift, taken off before (${FIGURE_CHAIN.name})`,
    facts: `${marks.length} sibilants, lifted by up to ${number(Math.max(...rises))} dB against the voice beside them. The cuts bring each back to where it was in front of the chain, as far as the guard lets them.`,
    unit: 'dB',
    words: {
      before: 'behind the chain, as recorded',
      after: 'behind the chain, cut before it',
      label: 'gain in front of the chain, dB',
    },
    durationSeconds: list.lengthSamples / list.sampleRateHz,
    marks,
    lines: [{ value: 0, text: 'as loud as the voice beside it', style: 'solid' }],
  });
  return { name: 'decision-ahead', svg };
}

function marksOf(
  list: RegionList,
  before: (region: Region) => number | null,
  after: (region: Region) => number,
): readonly DecisionMark[] {
  return list.regions
    .filter(({ kind }) => kind === 'sibilant')
    .flatMap((region) => {
      const was = before(region);
      const seconds = (region.startSample + region.endSample) / 2 / list.sampleRateHz;
      const label = number(region.gainDb);
      return was === null ? [] : [{ seconds, before: was, after: after(region), label }];
    });
}

/** A number that the decision wrote into its reasons, as lines: one, or two where s and sh have their own. */
function ownLines(list: RegionList, levels: LevelTable, name: string, word: string): readonly DecisionLine[] {
  const soundOf = new Map(
    list.regions.flatMap(({ id, reason }) =>
      reason.numbers[name] === undefined ? [] : [[reason.numbers[name], levels.byId.get(id)?.sound] as const],
    ),
  );
  const whose = (sound: unknown): string =>
    soundOf.size === 1 ? '' : sound === 'sh-like' ? ' of sh' : ' of s';
  return [...soundOf]
    .sort(([a], [b]) => b - a)
    .map(([value, sound]) => ({
      value,
      text: `${word}${whose(sound)}, ${number(value)} dB`,
      style: sound === 'sh-like' && soundOf.size > 1 ? 'dashDotted' : 'dashed',
    }));
}

function ungained(list: RegionList): RegionList {
  return { ...list, regions: list.regions.map((region) => ({ ...region, gainDb: 0 })) };
}
