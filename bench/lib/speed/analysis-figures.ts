import type { Engine } from '../../../src/signal/engine.js';
import { simdEngine } from '../../../src/simd/simd-engine.js';
import { analysisWork, wholeSpectrumWork } from './analysis-work.js';
import { cpuCost } from './cpu-cost.js';
import { meydaWork } from './meyda-work.js';
import { mixedSignal } from './mixed-signal.js';
import { pairedRounds, ratioOf, speedUpOf } from './paired-rounds.js';
import { rawTransforms } from './raw-transforms.js';
import { type SpeedFigure, spreadText } from './speed-figure.js';
import type { Spread } from './spread.js';

const RATE = 48_000;

/** What is measured: with or without an engine, over the default bands or the whole spectrum. */
export interface AnalysisCase {
  readonly engine: Engine | null;
  readonly work: typeof analysisWork;
}

/** Ratio of the analysis to the transforms alone. */
export function analysisRatio(seconds: number, rounds: number, { engine, work }: AnalysisCase): Spread {
  const samples = mixedSignal(seconds, RATE);
  return ratioOf(
    pairedRounds(
      cpuCost(() => work(samples, RATE, engine)),
      cpuCost(() => rawTransforms(samples)),
      rounds,
    ),
  );
}

/** How many times faster the analysis is than meyda. */
export function meydaSpeedUp(seconds: number, rounds: number, { engine, work }: AnalysisCase): Spread {
  const samples = mixedSignal(seconds, RATE);
  return speedUpOf(
    pairedRounds(
      cpuCost(() => work(samples, RATE, engine)),
      cpuCost(() => meydaWork(samples, RATE)),
      rounds,
    ),
  );
}

/** The figures of the analysis. */
export function analysisFigures(): readonly SpeedFigure[] {
  const engine = simdEngine();
  const plain = { engine: null, work: analysisWork };
  const fast = { engine, work: analysisWork };
  const ratio = analysisRatio(60, 31, plain);
  const wholePlain = { engine: null, work: wholeSpectrumWork };
  const wholeFast = { engine, work: wholeSpectrumWork };
  return [
    {
      name: 'analysis over raw transforms',
      measured: ratio,
      reach: 1.4,
      aim: 1.25,
      higherIsBetter: false,
      digits: 2,
      note: `60 s of a mixed signal, flatness of 3 to 12 kHz as it is by default; of the whole spectrum ${spreadText(analysisRatio(60, 15, wholePlain), 2)}`,
    },
    {
      name: 'analysis with the engine over raw transforms',
      measured: analysisRatio(60, 31, fast),
      reach: 1.25,
      aim: 0.9,
      higherIsBetter: false,
      digits: 2,
      note: `the same; of the whole spectrum ${spreadText(analysisRatio(60, 15, wholeFast), 2)}`,
    },
    {
      name: 'analysis with the engine against meyda, times faster',
      measured: meydaSpeedUp(10, 9, wholeFast),
      reach: 8,
      aim: 12,
      higherIsBetter: true,
      digits: 1,
      note: `RMS, zero crossings, flatness, centroid, and bands summed from its power spectrum; 10 s, whole spectrum on both sides, as meyda has no other; our default bands ${spreadText(meydaSpeedUp(10, 9, fast), 1)}; without the engine ${spreadText(meydaSpeedUp(10, 9, wholePlain), 1)}, our default bands ${spreadText(meydaSpeedUp(10, 9, plain), 1)}`,
    },
  ];
}
