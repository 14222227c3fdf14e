import { wholeSpectrumWork } from './analysis-work.js';
import { cpuCost } from './cpu-cost.js';
import { essentiaWork, withEssentia } from './essentia-work.js';
import { mixedSignal } from './mixed-signal.js';
import { pairedRounds, speedUpOf } from './paired-rounds.js';
import { middleHalf } from './speed-figure.js';

const RATE = 48_000;

/** How many times faster the analysis is than essentia.js, in words. */
export function essentiaLine(): string {
  const samples = mixedSignal(5, RATE);
  const speedUp = withEssentia((essentia) =>
    speedUpOf(
      pairedRounds(
        cpuCost(() => wholeSpectrumWork(samples, RATE)),
        cpuCost(() => essentiaWork(essentia, samples, RATE)),
        5,
      ),
    ),
  );
  if (speedUp === null) return 'Against essentia.js: skipped, it could not be fetched.';
  return `Against essentia.js, the same features over the whole spectrum: ${speedUp.median.toFixed(0)} times faster (${middleHalf(speedUp, 0)}).`;
}
