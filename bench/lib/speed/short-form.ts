import { setGain } from '../../../src/regions/set-gain.js';
import { simdEngine } from '../../../src/simd/simd-engine.js';
import { analysisRatio, meydaSpeedUp } from './analysis-figures.js';
import { analysisWork, wholeSpectrumWork } from './analysis-work.js';
import { ceilingTable, isRegression, type ShortName, WRITTEN } from './ceilings.js';
import { cpuCost } from './cpu-cost.js';
import { detectionRounds } from './detection-figures.js';
import { pairedRounds, ratioOf } from './paired-rounds.js';
import { evenRegions, renderRatio } from './render-figures.js';
import type { Spread } from './spread.js';
import { streamingShare } from './streaming-figures.js';
import { demonstrationVoices } from './voices.js';

/** Measures the ratios on what every checkout has, prints them, and gives 1 where one is above its ceiling. */
export function shortForm(): 0 | 1 {
  const engine = simdEngine();
  if (engine.problem !== null) console.log(engine.problem);
  const plain = { engine: null, work: analysisWork };
  const speedUp = meydaSpeedUp(4, 5, { engine: null, work: wholeSpectrumWork });
  const measured: Record<ShortName, Spread> = {
    'analysis over raw transforms': analysisRatio(10, 15, plain),
    'analysis with the engine over raw transforms': analysisRatio(10, 15, { engine, work: analysisWork }),
    'analysis over meyda': { ...speedUp, median: 1 / speedUp.median },
    'detection over raw transforms': ratioOf(detectionRounds(demonstrationVoices(), 7, null)),
    'detection with the engine over raw transforms': ratioOf(
      detectionRounds(demonstrationVoices(), 7, engine),
    ),
    'render over a plain copy': renderRatio(11),
    'gain of one of 50,000 over a copy of the list': editRatio(11),
    'streaming state over a minute of audio, %': streamingShare(),
  };
  console.log(ceilingTable(measured));
  const worse = Object.entries(measured).filter(([name, { median }]) =>
    isRegression(median, WRITTEN[name as ShortName]),
  );
  for (const [name] of worse) console.log(`slower than it was: ${name}`);
  return worse.length > 0 ? 1 : 0;
}

/** One region of 50,000 gets another gain, over a frozen copy of the list's array. */
function editRatio(rounds: number): Spread {
  const list = evenRegions({ lengthSamples: 5_000_000, count: 50_000, regionSamples: 50, gainDb: -6 });
  return ratioOf(
    pairedRounds(
      cpuCost(() => setGain(list, 25_000, -3), 10),
      cpuCost(() => Object.freeze([...list.regions]), 10),
      rounds,
    ),
  );
}
