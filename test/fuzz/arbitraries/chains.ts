import fc from 'fast-check';
import type {
  Chain,
  CompressorSettings,
  EqualiserSettings,
  FilterSpec,
  SaturationSettings,
} from '../../../src/forecast/index.js';
import { options, within } from './numbers.js';

// Under half of the least rate.
const frequencyHz = within(20, 3990);
const q = within(0.01, 20);
const gainDb = within(-24, 24);

/** Filters that every rate can hold. */
export const filters: fc.Arbitrary<readonly FilterSpec[]> = fc.array(
  fc.oneof(
    fc.record({ kind: fc.constantFrom('lowPass', 'highPass' as const), frequencyHz }),
    fc.record({ kind: fc.constantFrom('lowPass', 'highPass' as const), frequencyHz, q }),
    fc.record({ kind: fc.constant('bandPass' as const), frequencyHz, q }),
    fc.record({ kind: fc.constant('peaking' as const), frequencyHz, q, gainDb }),
    fc.record({ kind: fc.constantFrom('lowShelf', 'highShelf' as const), frequencyHz, gainDb }),
  ),
  { maxLength: 3 },
);

export const compressors: fc.Arbitrary<CompressorSettings> = fc
  .tuple(
    fc.record({
      thresholdDb: within(-100, 20),
      ratio: within(1, 1000),
      attackSeconds: within(0, 0.1),
      releaseSeconds: within(0.001, 1),
    }),
    options({
      kneeDb: within(0, 60),
      detector: fc.constantFrom('peak', 'rms' as const),
      averageSeconds: within(0.0001, 0.1),
      smoothing: fc.constantFrom('gain', 'level' as const),
      sidechain: filters,
      makeUpDb: within(-60, 60),
      wet: within(0, 1),
    }),
  )
  .map(([needed, rest]) => {
    // An average belongs to an RMS detector alone.
    const { averageSeconds, ...others } = rest;
    return {
      ...needed,
      ...others,
      ...(rest.detector === 'rms' && averageSeconds !== undefined ? { averageSeconds } : {}),
    };
  });

export const equalisers: fc.Arbitrary<EqualiserSettings> = fc
  .tuple(filters, options({ wet: within(0, 1) }))
  .map(([list, rest]) => ({ filters: list, ...rest }));

export const saturations: fc.Arbitrary<SaturationSettings> = fc
  .tuple(
    fc.record({
      curve: fc.constantFrom('tanh', 'arctangent', 'cubic', 'clip' as const),
      driveDb: within(-60, 60),
    }),
    options({
      bias: within(-0.9, 0.9),
      oversampling: fc.constantFrom(1, 2, 4, 8),
      makeUpDb: within(-60, 60),
      wet: within(0, 1),
    }),
  )
  .map(([needed, rest]) => ({ ...needed, ...rest }));

/** Chains of up to three stages. */
export const chains: fc.Arbitrary<Chain> = fc
  .tuple(
    fc.array(
      fc.oneof(
        compressors.map((stage) => ({ kind: 'compressor' as const, ...stage })),
        equalisers.map((stage) => ({ kind: 'equaliser' as const, ...stage })),
        saturations.map((stage) => ({ kind: 'saturation' as const, name: 'warm', ...stage })),
      ),
      { maxLength: 3 },
    ),
    options({ name: fc.string() }),
  )
  .map(([stages, rest]) => ({ ...rest, stages }));
