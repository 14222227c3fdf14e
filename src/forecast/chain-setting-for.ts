import { renderGain } from '../gain/render-gain.js';
import { DEFAULT_LEVEL_OPTIONS, type LevelOptions } from '../levels/level-options.js';
import type { RegionList } from '../regions/region.js';
import { checkInteger, checkNumber, checkObject, rangeError } from '../signal/check.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import type { Channels } from '../signal/samples.js';
import type { Chain, Stage } from './chain.js';
import { assertChain } from './chain-rules.js';
import { forecastInput } from './forecast-rise.js';
import { passChain } from './run-chain.js';
import { createSibilanceMeter, sibilanceOf } from './sibilance-meter.js';

/** Which setting to search, between which values, and for what. */
export interface ChainSettingQuestion extends Pick<LevelOptions, 'kinds' | 'ids'> {
  /** Position of the stage in the chain, from 0. */
  readonly stage: number;
  /** Position of the filter in an equaliser's `filters`; left out for a setting of the stage itself. */
  readonly filter?: number;
  /** Name of a number in that stage or filter, as in `thresholdDb`, `ratio`, `driveDb`, `wet`, or a shelf's `gainDb`. */
  readonly parameter: string;
  /** One end of the search. */
  readonly from: number;
  /** The other end; may lie below `from`. */
  readonly to: number;
  /** Sibilance behind the chain, in dB relative to the neighbouring voice, −100 to 100. */
  readonly targetDb: number;
  /** Which of the take's esses must cross it: the percentile of their sibilance, 0 to 100. Default 90: the loud ones. */
  readonly percentile?: number;
  /** How near to the target is near enough, in dB, 0.001 to 6. Default 0.05. */
  readonly toleranceDb?: number;
}

/** The answer. */
export interface ChainSetting {
  /** The value at which the esses cross the target; null where they do not between `from` and `to`. */
  readonly value: number | null;
  /** The chain with that value; the chain as it was where there is none. */
  readonly chain: Chain;
  /** The percentile of sibilance behind the chain at `from`, in dB; null where there is nothing to compare. */
  readonly atFromDb: number | null;
  /** The same at `to`. */
  readonly atToDb: number | null;
  /** The same at `value`; null also where there is no value. */
  readonly atValueDb: number | null;
  /** How often the chain was run. */
  readonly passes: number;
}

/** Halving a range this often leaves a thousandth of a thousandth of it. */
const MOST_HALVINGS = 20;

/**
 * The reverse of preemptiveCut: which value of one setting makes this take's esses cross a target behind the chain. From
 * what threshold, ratio or shelf on must they be dealt with? The range is halved until the figure is within `toleranceDb`.
 *
 * @param channels The clip, one channel or several, each `list.lengthSamples` long; not changed. The list's gains are rendered.
 * @param list Regions of the clip.
 * @param chain What the mix will do, but for one setting.
 * @param question Setting, range, target and percentile, and which regions (sibilants unless kinds or ids are given).
 * @returns The value, or null where the figure lies on one side of the target at both ends. Where the figure crosses more than
 * once within the range, one of the crossings.
 * @throws TypeError or RangeError as `forecastRise`, for a stage, filter or number that the chain does not have, and for an end of the range
 * that its rules forbid.
 * @see The method of bisection, in any text on numerical methods.
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { chainSettingFor } from 'lenition/forecast';
 * // A 200 Hz tone stands for the vowel, 0.1 s of a 6 kHz tone, 6 dB below it, for the s.
 * const tone = (i: number, hz: number) => Math.sin((2 * Math.PI * hz * i) / 48000);
 * const isNoise = (i: number) => i >= 24000 && i < 28800;
 * const samples = Float32Array.from({ length: 48000 }, (_, i) => (isNoise(i) ? 0.1 * tone(i, 6000) : 0.2 * tone(i, 200)));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800 });
 * const bright = { stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 0 }] }] } as const;
 * const question = { stage: 0, filter: 0, parameter: 'gainDb', from: 0, to: 12, targetDb: 0 };
 * Math.round(chainSettingFor(samples, list, bright, question).value ?? 0); // => 6
 */
export function chainSettingFor(
  channels: Channels,
  list: RegionList,
  chain: Chain,
  question: ChainSettingQuestion,
): ChainSetting {
  checkObject('chainSettingFor', 'question', question);
  const { from, to, targetDb, percentile = 90, toleranceDb = 0.05, ids } = question;
  const kinds = question.kinds ?? (ids === undefined ? (['sibilant'] as const) : undefined);
  const choice = { ...(ids === undefined ? {} : { ids }), ...(kinds === undefined ? {} : { kinds }) };
  const { clip, regions } = forecastInput('chainSettingFor', channels, list, chain, choice);
  checkNumber('chainSettingFor', 'targetDb', targetDb, -100, 100);
  checkNumber('chainSettingFor', 'percentile', percentile, 0, 100);
  checkNumber('chainSettingFor', 'toleranceDb', toleranceDb, 0.001, 6);
  for (const end of [from, to])
    assertChain('chainSettingFor', withSetting(chain, question, end), list.sampleRateHz);
  const meter = createSibilanceMeter(clip, list, regions, DEFAULT_LEVEL_OPTIONS.neighbourSeconds);
  const input = renderGain(clip, list);
  let passes = 0;
  const figureAt = (value: number): number | null => {
    passes++;
    const trial = withSetting(chain, question, value);
    const sound = passChain('chainSettingFor', input, trial, list.sampleRateHz, () => {});
    const known = meter
      .measure(sound)
      .map(sibilanceOf)
      .filter((db) => db !== null);
    return known.length === 0 ? null : quantileOf(rising(known), percentile / 100);
  };
  const atFromDb = figureAt(from);
  const atToDb = figureAt(to);
  const found =
    atFromDb === null || atToDb === null ? null : halve(figureAt, question, atFromDb, atToDb, toleranceDb);
  return Object.freeze({
    value: found?.value ?? null,
    chain: found === null ? chain : withSetting(chain, question, found.value),
    atFromDb,
    atToDb,
    atValueDb: found?.figureDb ?? null,
    passes,
  });
}

function halve(
  figureAt: (value: number) => number | null,
  { from, to, targetDb }: ChainSettingQuestion,
  atFromDb: number,
  atToDb: number,
  toleranceDb: number,
): { readonly value: number; readonly figureDb: number } | null {
  if (Math.abs(atFromDb - targetDb) <= toleranceDb) return { value: from, figureDb: atFromDb };
  if (Math.abs(atToDb - targetDb) <= toleranceDb) return { value: to, figureDb: atToDb };
  if (atFromDb > targetDb === atToDb > targetDb) return null;
  let [near, far] = [from, to];
  let value = (near + far) / 2;
  let figureDb = figureAt(value) ?? targetDb;
  for (let k = 1; k < MOST_HALVINGS && Math.abs(figureDb - targetDb) > toleranceDb; k++) {
    if (figureDb > targetDb === atFromDb > targetDb) near = value;
    else far = value;
    value = (near + far) / 2;
    figureDb = figureAt(value) ?? targetDb;
  }
  return { value, figureDb };
}

/** The chain with another value of the setting; throws where it has no such number. */
function withSetting(chain: Chain, question: ChainSettingQuestion, value: number): Chain {
  const { stage, filter, parameter } = question;
  checkInteger('chainSettingFor', 'stage', stage, 0, chain.stages.length - 1);
  const old = chain.stages[stage] as Stage;
  const stages = [...chain.stages];
  if (filter === undefined) stages[stage] = withNumber(old, parameter, value);
  else {
    if (old.kind !== 'equaliser')
      throw rangeError(
        'chainSettingFor',
        'filter',
        `must be left out: stage ${stage} is no equaliser`,
        filter,
      );
    checkInteger('chainSettingFor', 'filter', filter, 0, old.filters.length - 1);
    stages[stage] = {
      ...old,
      filters: old.filters.map((spec, f) => (f === filter ? withNumber(spec, parameter, value) : spec)),
    };
  }
  return Object.freeze({ ...chain, stages: Object.freeze(stages) });
}

/** Whether there is such a setting, and whether it may have the value, the rules of the chain say. */
function withNumber<T extends object>(settings: T, parameter: string, value: number): T {
  checkNumber('chainSettingFor', parameter, value);
  return Object.freeze({ ...settings, [parameter]: value });
}
