import type { Doubles, Samples } from '../signal/samples.js';
import { withDefaults } from '../signal/with-defaults.js';
import { DEFAULT_SATURATION_SETTINGS, type SaturationSettings } from './chain.js';
import { createDoubler, createHalver, halfBandTaps, passEdge } from './half-band.js';
import { createShaper, type Shaper } from './saturation-curve.js';
import type { StageCore } from './stage-processor.js';

const CHUNK = 512;

/** Settings are taken as checked. */
export function createSaturationCore(
  settings: SaturationSettings,
  sampleRateHz: number,
  channelCount: number,
): StageCore {
  const { oversampling, makeUpDb, wet } = withDefaults(DEFAULT_SATURATION_SETTINGS, settings);
  const shape = createShaper(settings);
  const steps = rateSteps(oversampling, sampleRateHz);
  const latencySamples = steps.reduce((sum, taps, k) => sum + (2 * taps.length) / 2 ** k, 0);
  const wetGain = wet * 10 ** (makeUpDb / 20);
  const lines = Array.from({ length: channelCount }, () =>
    createLine(shape, steps, latencySamples, 1 - wet, wetGain),
  );
  return {
    latencySamples,
    run(out, input): void {
      const length = (input[0] as Samples).length;
      for (let c = 0; c < input.length; c++)
        for (let from = 0; from < length; from += CHUNK)
          lines[c]?.(out[c] as Samples, input[c] as Samples, from, Math.min(CHUNK, length - from));
    },
  };
}

/** The half-band filters of each doubling, from the lowest rate up. */
function rateSteps(oversampling: number, sampleRateHz: number): readonly Doubles[] {
  const edge = passEdge(sampleRateHz);
  const steps: Doubles[] = [];
  for (let rate = 1; rate < oversampling; rate *= 2)
    // Images begin at rate − edge.
    steps.push(halfBandTaps((rate - 2 * edge) / (2 * rate)));
  return steps;
}

type Line = (out: Samples, input: Samples, from: number, count: number) => void;

/** One channel: up, shape, down, and the dry sound delayed to line up. */
function createLine(
  shape: Shaper,
  steps: readonly Doubles[],
  latencySamples: number,
  dry: number,
  wetGain: number,
): Line {
  const buffers = Array.from({ length: steps.length + 1 }, (_, k) => new Float64Array(CHUNK * 2 ** k));
  const up = steps.map((taps, k) => createDoubler(taps, CHUNK * 2 ** k));
  const down = steps.map((taps, k) => createHalver(taps, CHUNK * 2 ** k));
  const delay = new Float64Array(latencySamples + CHUNK);
  const base = buffers[0] as Doubles;
  return (out, input, from, count) => {
    for (let i = 0; i < count; i++) {
      const x = input[from + i] as number;
      base[i] = x;
      delay[latencySamples + i] = x;
    }
    for (let k = 0; k < steps.length; k++)
      up[k]?.(buffers[k + 1] as Doubles, buffers[k] as Doubles, count * 2 ** k);
    shape(buffers[steps.length] as Doubles, count * 2 ** steps.length);
    for (let k = steps.length - 1; k >= 0; k--)
      down[k]?.(buffers[k] as Doubles, buffers[k + 1] as Doubles, count * 2 ** k);
    for (let i = 0; i < count; i++)
      out[from + i] = dry * (delay[i] as number) + wetGain * (base[i] as number);
    delay.copyWithin(0, count, count + latencySamples);
  };
}
