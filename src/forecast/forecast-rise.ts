import { renderGain } from '../gain/render-gain.js';
import { type LevelOptions, levelSettings } from '../levels/level-options.js';
import { assertRegionList } from '../regions/check-region-list.js';
import type { RegionKind, RegionList } from '../regions/region.js';
import { rangeError } from '../signal/check.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import type { Channels, Samples } from '../signal/samples.js';
import type { Chain } from './chain.js';
import { assertChain } from './chain-rules.js';
import { type CompressorEffect, createEffectJudge } from './compressor-effect.js';
import { type StageFigures, stageFigures } from './forecast-statement.js';
import { passChain } from './run-chain.js';
import { createSibilanceMeter, type NoiseAndVoice, sibilanceOf } from './sibilance-meter.js';
import { finiteChannels } from './stage-processor.js';

/** Settings of forecastRise. */
export interface ForecastOptions extends LevelOptions {
  /** True (default): the sound that enters the chain has the list's gains. False: it is the sound as recorded. */
  readonly applyGains?: boolean;
}

/** What one stage does to one region. */
export interface StageRise {
  /** Position in the chain, from 0. */
  readonly stage: number;
  /** Change of the level of the noise, make-up included, in dB; null where it is silent. */
  readonly noiseChangeDb: number | null;
  /** Change of the level of the voice beside it, in dB; null where there is none. */
  readonly voiceChangeDb: number | null;
  /** `noiseChangeDb − voiceChangeDb`. */
  readonly riseDb: number | null;
  /** For a compressor; null for other stages and where `riseDb` is. */
  readonly effect: CompressorEffect | null;
}

/** What a chain does to one region. */
export interface RegionRise {
  /** Id of the region in its list. */
  readonly id: number;
  /** Kind of the region. */
  readonly kind: RegionKind;
  /** Sibilance where it enters the chain: its level less that of the voice beside it, in dB; null without a voice or in silence. */
  readonly beforeDb: number | null;
  /** Sibilance of the same samples where it leaves the chain. */
  readonly afterDb: number | null;
  /** `afterDb − beforeDb`: how far it will rise against its neighbouring voice. */
  readonly riseDb: number | null;
  /** One entry for each stage; their rises add up to `riseDb`. */
  readonly byStage: readonly StageRise[];
}

/** A forecast for the regions of a list. */
export interface Forecast {
  /** Sample rate of the clip, in Hz. */
  readonly sampleRateHz: number;
  /** One entry for every region that was asked for, by id. */
  readonly byId: ReadonlyMap<number, RegionRise>;
  /** Median rise in dB; null where no region has one. */
  readonly medianRiseDb: number | null;
  /** One entry for each stage, with a sentence for a person to read. */
  readonly stages: readonly StageFigures[];
}

/**
 * Forecasts how far each region will rise against its neighbouring voice in a mix chain, and through which stage: the chain is
 * run on the audio, and sibilance is measured as by `measureLevels` where the sound enters and behind every stage. Which
 * samples are voice is chosen once, on the clip as recorded, so that the same samples are compared.
 *
 * A compressor that hears the whole band lifts an s only where the s lies below what drives the detector, the voice as a rule.
 * Where the s itself is what drives it, it does not rise: `effect` and the sentences of `stages` say so.
 *
 * @param channels The clip that the list belongs to, one channel or several, each `list.lengthSamples` long; not changed.
 * @param list Regions of the clip. Their gains are rendered before the chain unless `applyGains` is false.
 * @param chain What the mix will do.
 * @param options Which regions (`kinds`, `ids`; all unless stated), how much voice beside them, and whether with gains.
 * @returns A frozen table. A clip without voice, or a silent region, has null for what it has not.
 * @throws TypeError or RangeError for a list or chain that breaks a rule, a clip of another length, an id that the list has not, NaN
 * or Infinity in samples (with the index), and for a stage that overflows (by its name).
 * @see Giannoulis, Massberg and Reiss, "Digital Dynamic Range Compressor Design", 2012; Bristow-Johnson, "Audio EQ
 * Cookbook"; docs/forecast.md for the limits.
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { forecastRise } from 'lenition/forecast';
 * // A 200 Hz tone stands for the vowel, 0.1 s of a 6 kHz tone for the s.
 * const tone = (i: number, hz: number) => Math.sin((2 * Math.PI * hz * i) / 48000);
 * const isNoise = (i: number) => i >= 24000 && i < 28800;
 * const samples = Float32Array.from({ length: 48000 }, (_, i) => (isNoise(i) ? 0.1 * tone(i, 6000) : 0.2 * tone(i, 200)));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800 });
 * const bright = { stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 3000, gainDb: 4 }] }] } as const;
 * const rise = forecastRise(samples, list, bright).byId.get(1);
 * rise?.beforeDb?.toFixed(1); // => '-6.0'
 * rise?.riseDb?.toFixed(1); // => '3.8'
 */
export function forecastRise(
  channels: Channels,
  list: RegionList,
  chain: Chain,
  options: ForecastOptions = {},
): Forecast {
  const { clip, regions, neighbourSeconds } = forecastInput('forecastRise', channels, list, chain, options);
  const { sampleRateHz } = list;
  const meter = createSibilanceMeter(clip, list, regions, neighbourSeconds);
  const input = options.applyGains === false ? clip : renderGain(clip, list);
  const measured = [meter.measure(input)];
  const judge = createEffectJudge(regions, chain, sampleRateHz);
  judge.enter(0, input);
  const effects: (readonly (CompressorEffect | null)[])[] = [];
  passChain('forecastRise', input, chain, sampleRateHz, (_, index, heard, gainDb) => {
    const before = measured[index] as readonly NoiseAndVoice[];
    const after = meter.measure(heard);
    measured.push(after);
    effects.push(
      regions.map((_region, r) => {
        const riseDb = difference(after[r] as NoiseAndVoice, before[r] as NoiseAndVoice);
        return gainDb === null || riseDb === null ? null : judge.effect(r, riseDb, gainDb);
      }),
    );
    judge.enter(index + 1, heard);
  });
  const rises = regions.map(({ id, kind }, r): RegionRise => {
    const at = (k: number): NoiseAndVoice => (measured[k] as readonly NoiseAndVoice[])[r] as NoiseAndVoice;
    const byStage = chain.stages.map((_, stage): StageRise => {
      const [before, after] = [at(stage), at(stage + 1)];
      return Object.freeze({
        stage,
        noiseChangeDb: minus(after.noiseDb, before.noiseDb),
        voiceChangeDb: minus(after.voiceDb, before.voiceDb),
        riseDb: difference(after, before),
        effect: effects[stage]?.[r] ?? null,
      });
    });
    const [first, last] = [at(0), at(chain.stages.length)];
    return Object.freeze({
      id,
      kind,
      beforeDb: sibilanceOf(first),
      afterDb: sibilanceOf(last),
      riseDb: difference(last, first),
      byStage: Object.freeze(byStage),
    });
  });
  return Object.freeze({
    sampleRateHz,
    byId: new Map(rises.map((rise) => [rise.id, rise])),
    medianRiseDb: medianOf(rises.map((rise) => rise.riseDb)),
    stages: Object.freeze(
      chain.stages.map((stage, index) =>
        stageFigures(
          stage,
          index,
          medianOf(rises.map(({ byStage }) => byStage[index]?.riseDb ?? null)),
          effects[index] ?? [],
        ),
      ),
    ),
  });
}

/** The clip as checked channels, and the regions asked for. */
export function forecastInput(
  functionName: string,
  channels: Channels,
  list: RegionList,
  chain: Chain,
  options: ForecastOptions,
): { clip: readonly Samples[]; regions: RegionList['regions']; neighbourSeconds: number } {
  assertRegionList(functionName, list);
  assertChain(functionName, chain, list.sampleRateHz);
  const { kinds, ids, neighbourSeconds } = levelSettings(functionName, list, options, ['applyGains']);
  const clip = finiteChannels(functionName, channels);
  const length = (clip[0] as Samples).length;
  if (length !== list.lengthSamples)
    throw rangeError(
      functionName,
      'channels.length',
      `must equal list.lengthSamples (${list.lengthSamples})`,
      length,
    );
  const regions = list.regions.filter(
    ({ kind, id }) => (kinds === null || kinds.has(kind)) && (ids === null || ids.has(id)),
  );
  return { clip, regions, neighbourSeconds };
}

/** Median of what is not null; null where nothing is. */
function medianOf(values: readonly (number | null)[]): number | null {
  const known = rising(values.filter((value) => value !== null));
  return known.length === 0 ? null : quantileOf(known, 0.5);
}

function minus(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a - b;
}

/** How much higher the sibilance is after than before. */
function difference(after: NoiseAndVoice, before: NoiseAndVoice): number | null {
  return minus(sibilanceOf(after), sibilanceOf(before));
}
