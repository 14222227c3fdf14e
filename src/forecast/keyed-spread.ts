import { renderGain } from '../gain/render-gain.js';
import type { LevelOptions } from '../levels/level-options.js';
import { noiseSpan } from '../levels/noise-span.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkFields, checkObject } from '../signal/check.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import type { Channels, Samples } from '../signal/samples.js';
import type { CompressorSettings } from './chain.js';
import { assertSettings } from './chain-rules.js';
import { createCompressorCore } from './compressor-core.js';
import { forecastInput } from './forecast-rise.js';

/** Which regions keyedSpread looks at: sibilants unless kinds or ids are given. */
export type KeyedSpreadOptions = Pick<LevelOptions, 'kinds' | 'ids'>;

/**
 * A compressor that a later automatic stage may be like: its detector hears the sibilant band alone (above 5 kHz), it is
 * quick, and its curve is moderate. Threshold and ratio are a beginning, to be set to the take (common practice, no source). At sample rates
 * under 11,111 Hz keyedSpread lowers the corner to 0.45 of the rate.
 */
export const DEFAULT_KEYED_COMPRESSOR: CompressorSettings = Object.freeze({
  thresholdDb: -36,
  ratio: 4,
  kneeDb: 6,
  attackSeconds: 0.001,
  releaseSeconds: 0.06,
  sidechain: Object.freeze([Object.freeze({ kind: 'highPass' as const, frequencyHz: 5000 })]),
});

/** How the gain reductions of a set of regions are spread, in dB, each 0 or more. */
export interface ReductionSpread {
  /** 10th percentile, in dB. */
  readonly p10Db: number;
  /** Median, in dB. */
  readonly p50Db: number;
  /** 90th percentile, in dB. */
  readonly p90Db: number;
  /** `p90Db − p10Db`: how differently the compressor must work from one region to the next. */
  readonly spreadDb: number;
}

/** Gain reduction of a keyed compressor before and after the hand pass. */
export interface KeyedSpread {
  /** Regions that were looked at. */
  readonly count: number;
  /** On the sound as recorded; null without regions. */
  readonly before: ReductionSpread | null;
  /** On the sound with the list's gains. */
  readonly after: ReductionSpread | null;
  /** Mean reduction over each region in dB, 0 or more, by id. */
  readonly byId: ReadonlyMap<
    number,
    {
      /** On the sound as recorded. */
      readonly beforeDb: number;
      /** On the sound with the list's gains. */
      readonly afterDb: number;
    }
  >;
}

/**
 * How much gain reduction a compressor that is keyed to the sibilant band gives over each region, before and after
 * the hand pass, and how widely that is spread (10th to 90th percentile). Automatic stages work better on manageable material:
 * the narrower the spread, the less one setting does too much here and too little there.
 *
 * A region's figure is the mean of the reduction in dB from its onset to its offset.
 *
 * @param channels The clip, one channel or several, each `list.lengthSamples` long; not changed.
 * @param list Regions of the clip, with the gains of the hand pass.
 * @param compressor Settings; DEFAULT_KEYED_COMPRESSOR unless stated. Make-up and wet do not enter.
 * @param options Which regions.
 * @throws TypeError or RangeError for a list or settings that break a rule, a clip of another length, NaN or Infinity in samples.
 * @see Hyndman and Fan, "Sample quantiles in statistical packages", 1996, definition 7 (from memory) for percentiles.
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { keyedSpread } from 'lenition/forecast';
 * const samples = Float32Array.from({ length: 9600 }, (_, i) => 0.5 * Math.sin((2 * Math.PI * 7001 * i) / 48000));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 9600 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 0, endSample: 9600, gainDb: -6 });
 * const { beforeDb = 0, afterDb = 0 } = keyedSpread(samples, list).byId.get(1) ?? {};
 * // Above the knee a ratio of 4 takes off three quarters of a change in level.
 * (beforeDb - afterDb).toFixed(1); // => '4.5'
 */
export function keyedSpread(
  channels: Channels,
  list: RegionList,
  compressor?: CompressorSettings,
  options: KeyedSpreadOptions = {},
): KeyedSpread {
  checkObject('keyedSpread', 'options', options);
  checkFields('keyedSpread', 'options', options, ['ids', 'kinds']);
  const { ids, kinds = ids === undefined ? (['sibilant'] as const) : undefined } = options;
  const choice = { ...(ids === undefined ? {} : { ids }), ...(kinds === undefined ? {} : { kinds }) };
  const { clip, regions } = forecastInput('keyedSpread', channels, list, { stages: [] }, choice);
  const settings = compressor ?? keyedCompressor(list.sampleRateHz);
  assertSettings('keyedSpread', 'compressor', settings, list.sampleRateHz);
  const before = reductions(clip, regions, settings, list.sampleRateHz);
  const after = reductions(renderGain(clip, list), regions, settings, list.sampleRateHz);
  const byId = new Map(
    regions.map(({ id }, r) => [
      id,
      Object.freeze({ beforeDb: before[r] as number, afterDb: after[r] as number }),
    ]),
  );
  return Object.freeze({ count: regions.length, before: spreadOf(before), after: spreadOf(after), byId });
}

/** The default one, its corner inside the band of a low sample rate. */
function keyedCompressor(sampleRateHz: number): CompressorSettings {
  const frequencyHz = Math.min(5000, 0.45 * sampleRateHz);
  return { ...DEFAULT_KEYED_COMPRESSOR, sidechain: [{ kind: 'highPass', frequencyHz }] };
}

function reductions(
  sound: readonly Samples[],
  regions: readonly Region[],
  compressor: CompressorSettings,
  sampleRateHz: number,
): readonly number[] {
  const gainDb = new Float64Array((sound[0] as Samples).length);
  createCompressorCore(compressor, sampleRateHz, sound.length).run(null, sound, gainDb);
  return regions.map((region) => {
    const { start, end } = noiseSpan(region);
    let sum = 0;
    for (let i = start; i < end; i++) sum -= gainDb[i] as number;
    return sum / (end - start);
  });
}

function spreadOf(values: readonly number[]): ReductionSpread | null {
  if (values.length === 0) return null;
  const sorted = rising(values);
  const [p10Db, p50Db, p90Db] = [0.1, 0.5, 0.9].map((p) => quantileOf(sorted, p)) as [number, number, number];
  return Object.freeze({ p10Db, p50Db, p90Db, spreadDb: p90Db - p10Db });
}
