import { createBiquadState, filterBlockInto } from '../signal/biquad-filter.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { withDefaults } from '../signal/with-defaults.js';
import { type CompressorSettings, DEFAULT_COMPRESSOR_SETTINGS } from './chain.js';
import { reductionDb } from './compression-curve.js';
import { filterSections } from './filter-sections.js';
import { smoothingCoefficient } from './smoothing-coefficient.js';
import type { StageCore } from './stage-processor.js';

/** A compressor's work; `run` may also hand out the gain of each sample in dB, without make-up. */
export interface CompressorCore extends StageCore {
  run(out: readonly Samples[] | null, input: readonly Samples[], gainDb?: Doubles): void;
}

const CHUNK = 1024;
/** 20·log10(e): dB of one neper. */
const DB_PER_NEPER = 20 / Math.LN10;
/** Amplitude, or dB, that is as good as none; kept from creeping into subnormal doubles, which run many times slower. */
const NOTHING = 1e-30;

/** Settings are taken as checked. */
export function createCompressorCore(
  settings: CompressorSettings,
  sampleRateHz: number,
  channelCount: number,
): CompressorCore {
  const { thresholdDb, ratio, kneeDb, smoothing, makeUpDb, wet } = withDefaults(
    DEFAULT_COMPRESSOR_SETTINGS,
    settings,
  );
  const alpha = (seconds: number): number => smoothingCoefficient(seconds, { sampleRateHz });
  const attack = alpha(settings.attackSeconds);
  const release = alpha(settings.releaseSeconds);
  const detect = createDetector(settings, sampleRateHz, channelCount);
  const key = new Float64Array(CHUNK);
  const slope = 1 - 1 / ratio;
  // Under this amplitude the curve gives 0 dB: most of a vocal spares the logarithm.
  const kneeStart = 10 ** ((thresholdDb - kneeDb / 2) / 20);
  const dry = 1 - wet;
  const wetGain = wet * 10 ** (makeUpDb / 20);
  const onLevel = smoothing === 'level';
  let first = 0;
  let second = 0;

  /** Smooths the detected amplitude in place: attack where it rises, release where it falls. */
  function smoothLevel(count: number): void {
    let level = second;
    for (let i = 0; i < count; i++) {
      const x = key[i] as number;
      const a = x > level ? attack : release;
      level = a * level + (1 - a) * x;
      if (level < NOTHING) level = 0;
      key[i] = level;
    }
    second = level;
  }

  /** Amplitude to wanted reduction in dB, in place. */
  function applyCurve(count: number): void {
    for (let i = 0; i < count; i++) {
      const x = key[i] as number;
      key[i] = x <= kneeStart ? 0 : reductionDb(DB_PER_NEPER * Math.log(x) - thresholdDb, slope, kneeDb);
    }
  }

  /** The smooth decoupled detector of the tutorial: release on its own, then attack over its result. */
  function smoothReduction(count: number): void {
    let held = first;
    let smooth = second;
    for (let i = 0; i < count; i++) {
      const wanted = key[i] as number;
      held = release * held + (1 - release) * wanted;
      if (held < wanted) held = wanted;
      if (held < NOTHING) held = 0;
      smooth = attack * smooth + (1 - attack) * held;
      if (smooth < NOTHING) smooth = 0;
      key[i] = smooth;
    }
    first = held;
    second = smooth;
  }

  /** Reduction in dB to the factor of dry and wet path together, in place. */
  function toFactor(count: number): void {
    for (let i = 0; i < count; i++) {
      const reduction = key[i] as number;
      key[i] = dry + (reduction === 0 ? wetGain : wetGain * Math.exp(-reduction / DB_PER_NEPER));
    }
  }

  return {
    latencySamples: 0,
    run(out, input, gainDb): void {
      const length = (input[0] as Samples).length;
      for (let from = 0; from < length; from += CHUNK) {
        const count = Math.min(CHUNK, length - from);
        detect(key, input, from, count);
        if (onLevel) smoothLevel(count);
        applyCurve(count);
        if (!onLevel) smoothReduction(count);
        if (gainDb !== undefined) for (let i = 0; i < count; i++) gainDb[from + i] = 0 - (key[i] as number);
        if (out === null) continue;
        toFactor(count);
        for (let c = 0; c < input.length; c++)
          multiply(out[c] as Samples, input[c] as Samples, key, from, count);
      }
    },
  };
}

function multiply(out: Samples, input: Samples, factors: Doubles, from: number, count: number): void {
  for (let i = 0; i < count; i++) out[from + i] = (factors[i] as number) * (input[from + i] as number);
}

type Detect = (key: Doubles, input: readonly Samples[], from: number, count: number) => void;

/** Amplitude that the detector sees: through its filters, the greatest of the channels. */
function createDetector(settings: CompressorSettings, sampleRateHz: number, channelCount: number): Detect {
  const { sidechain, detector, averageSeconds } = withDefaults(DEFAULT_COMPRESSOR_SETTINGS, settings);
  const sections = filterSections(sidechain, { sampleRateHz });
  const states = Array.from({ length: sections.length === 0 ? 0 : channelCount }, () =>
    createBiquadState(sections.length),
  );
  const heard = new Float32Array(sections.length === 0 ? 0 : CHUNK);
  const squares = new Float64Array(detector === 'rms' ? channelCount : 0);
  const average = smoothingCoefficient(averageSeconds, { sampleRateHz });
  return (key, input, from, count) => {
    key.fill(0, 0, count);
    for (let c = 0; c < input.length; c++) {
      let source = input[c] as Samples;
      let start = from;
      if (sections.length > 0) {
        const block = heard.subarray(0, count);
        filterBlockInto(block, source.subarray(from, from + count), sections, states[c] as Doubles);
        source = block;
        start = 0;
      }
      if (detector === 'peak') greatestMagnitude(key, source, start, count);
      else squares[c] = greatestRms(key, source, start, count, average, squares[c] as number);
    }
  };
}

function greatestMagnitude(key: Doubles, source: Samples, start: number, count: number): void {
  for (let i = 0; i < count; i++) {
    const x = Math.abs(source[start + i] as number);
    if (x > (key[i] as number)) key[i] = x;
  }
}

/** Returns the averaged square to go on from. */
function greatestRms(
  key: Doubles,
  source: Samples,
  start: number,
  count: number,
  average: number,
  square: number,
): number {
  let mean = square;
  for (let i = 0; i < count; i++) {
    const x = source[start + i] as number;
    mean = average * mean + (1 - average) * x * x;
    if (mean < NOTHING) mean = 0;
    const root = Math.sqrt(mean);
    if (root > (key[i] as number)) key[i] = root;
  }
  return mean;
}
