import { analysisWork, wholeSpectrumWork } from './analysis-work.js';
import { cpuCost } from './cpu-cost.js';
import { meydaWork } from './meyda-work.js';
import { mixedSignal } from './mixed-signal.js';
import { pairedRounds, ratioOf, speedUpOf } from './paired-rounds.js';
import { rawTransforms } from './raw-transforms.js';
import type { SpeedFigure } from './speed-figure.js';
import { middleHalf } from './speed-figure.js';
import type { Spread } from './spread.js';

const RATE = 48_000;

/** Ratio of the analysis to the transforms alone. */
export function analysisRatio(seconds: number, rounds: number): Spread {
  const samples = mixedSignal(seconds, RATE);
  return ratioOf(
    pairedRounds(
      cpuCost(() => analysisWork(samples, RATE)),
      cpuCost(() => rawTransforms(samples)),
      rounds,
    ),
  );
}

/** How many times faster the analysis is than meyda, over the whole spectrum unless told otherwise. */
export function meydaSpeedUp(
  seconds: number,
  rounds: number,
  work: typeof analysisWork = wholeSpectrumWork,
): Spread {
  const samples = mixedSignal(seconds, RATE);
  return speedUpOf(
    pairedRounds(
      cpuCost(() => work(samples, RATE)),
      cpuCost(() => meydaWork(samples, RATE)),
      rounds,
    ),
  );
}

/** Both figures of the analysis. */
export function analysisFigures(): readonly SpeedFigure[] {
  const defaults = meydaSpeedUp(10, 9, analysisWork);
  const samples = mixedSignal(60, RATE);
  const whole = ratioOf(
    pairedRounds(
      cpuCost(() => wholeSpectrumWork(samples, RATE)),
      cpuCost(() => rawTransforms(samples)),
      15,
    ),
  );
  return [
    {
      name: 'analysis over raw transforms',
      measured: analysisRatio(60, 31),
      reach: 1.4,
      aim: 1.25,
      higherIsBetter: false,
      digits: 2,
      note: `60 s of a mixed signal, flatness of 3 to 12 kHz as it is by default; of the whole spectrum ${whole.median.toFixed(2)} (${middleHalf(whole, 2)})`,
    },
    {
      name: 'analysis against meyda, times faster',
      measured: meydaSpeedUp(10, 9),
      reach: 8,
      aim: 12,
      higherIsBetter: true,
      digits: 1,
      note: `RMS, zero crossings, flatness, centroid, and bands summed from its power spectrum; 10 s, whole spectrum on both sides, as meyda has no other; our default bands ${defaults.median.toFixed(1)} (${middleHalf(defaults, 1)})`,
    },
  ];
}
