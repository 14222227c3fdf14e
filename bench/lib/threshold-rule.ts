import { quantile } from '../../src/evaluation/quantile.js';
import type { MeasuredRegion } from '../../src/evaluation/region-events.js';
import { createFftPlan } from '../../src/signal/fft-plan.js';
import { createFrameGrid, frameCentreSample, frameStartSample } from '../../src/signal/frame-grid.js';
import type { Samples } from '../../src/signal/samples.js';
import { windowedFrameInto } from '../../src/signal/windowed-frame.js';
import { createWindow } from '../../src/signal/windows.js';

/** Settings of the plain rule. */
export interface ThresholdRuleSettings {
  /** Band above against band below this. */
  readonly splitHz: number;
  /** Least level of the upper band over the lower, in dB. */
  readonly leastRatioDb: number;
  /** Least level of a frame under the clip's loud frames (95th percentile), in dB: negative. */
  readonly floorDb: number;
  readonly leastSeconds: number;
  /** Gaps shorter than this inside a region are bridged. */
  readonly bridgeSeconds: number;
}

/** Thresholds tuned by `bench/accuracy.ts --sweep` over the labelled voices: the best mean strict F1 of a small grid. */
export const THRESHOLD_RULE: ThresholdRuleSettings = Object.freeze({
  splitHz: 3500,
  leastRatioDb: 3,
  floorDb: -30,
  leastSeconds: 0.03,
  bridgeSeconds: 0.015,
});

const FRAME_SECONDS = 0.02;
const HOP_SECONDS = 0.005;

/**
 * The simplest detector that is worth comparing with: a frame is a sibilant where energy above 3.5 kHz exceeds energy
 * below by a threshold and the frame is not much softer than the clip. It knows one kind only.
 */
export function thresholdRule(
  channels: readonly Samples[],
  sampleRateHz: number,
  settings: Partial<ThresholdRuleSettings> = {},
): readonly MeasuredRegion[] {
  const rule = { ...THRESHOLD_RULE, ...settings };
  const lengthSamples = channels[0]?.length ?? 0;
  const bands = bandPowers(channels, sampleRateHz, rule.splitHz);
  if (bands.length === 0) return [];
  const levels = bands.map(({ low, high }) => 10 * Math.log10(low + high + 1e-12));
  const floor = quantile(levels, 0.95) + rule.floorDb;
  const ratios = bands.map(({ low, high }) => 10 * Math.log10((high + 1e-12) / (low + 1e-12)));
  const hopSamples = Math.round(HOP_SECONDS * sampleRateHz);
  const regions: MeasuredRegion[] = [];
  const runs = activeRuns(
    ratios.map((ratio, k) => ratio > rule.leastRatioDb && (levels[k] as number) > floor),
    Math.round(rule.bridgeSeconds / HOP_SECONDS),
  );
  for (const { first, last } of runs) {
    const onsetSample = Math.max(0, first * hopSamples - Math.floor(hopSamples / 2));
    const offsetSample = Math.min(lengthSamples, last * hopSamples + Math.ceil(hopSamples / 2));
    if ((offsetSample - onsetSample) / sampleRateHz < rule.leastSeconds) continue;
    const mean = ratios.slice(first, last + 1).reduce((sum, ratio) => sum + ratio, 0) / (last - first + 1);
    regions.push({
      kind: 'sibilant',
      onsetSample,
      offsetSample,
      confidence: 1 / (1 + Math.exp(-(mean - rule.leastRatioDb) / 4)),
    });
  }
  return regions;
}

function bandPowers(
  channels: readonly Samples[],
  sampleRateHz: number,
  splitHz: number,
): { low: number; high: number }[] {
  const grid = createFrameGrid(
    { sampleRateHz, frameSeconds: FRAME_SECONDS, hopSeconds: HOP_SECONDS },
    channels[0]?.length ?? 0,
  );
  if (frameCentreSample(grid, 0) !== 0) throw new Error('thresholdRule counts frames from sample 0');
  const window = createWindow('hann', grid.frameSamples, 'periodic');
  const plan = createFftPlan(grid.fftSize);
  const frame = new Float64Array(grid.fftSize);
  const power = new Float64Array(plan.binCount);
  const split = Math.round((splitHz * grid.fftSize) / sampleRateHz);
  // Below 100 Hz lie rumble and pops, which say nothing about the voice.
  const first = Math.max(1, Math.round((100 * grid.fftSize) / sampleRateHz));
  return Array.from({ length: grid.frameCount }, (_, k) => {
    const bands = { low: 0, high: 0 };
    for (const channel of channels) {
      windowedFrameInto(frame, channel, frameStartSample(grid, k), window);
      plan.powerSpectrum(frame, power);
      for (let b = first; b < plan.binCount; b++)
        bands[b < split ? 'low' : 'high'] += (power[b] as number) / channels.length;
    }
    return bands;
  });
}

/** Runs of true values, those closer than `bridge` frames joined; `last` is inside the run. */
function activeRuns(active: readonly boolean[], bridge: number): { first: number; last: number }[] {
  const runs: { first: number; last: number }[] = [];
  active.forEach((on, k) => {
    const run = runs.at(-1);
    if (!on) return;
    if (run !== undefined && k - run.last <= bridge + 1) run.last = k;
    else runs.push({ first: k, last: k });
  });
  return runs;
}
