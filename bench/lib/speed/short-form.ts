import type { Region } from '../../../src/regions/region.js';
import { setGain } from '../../../src/regions/set-gain.js';
import { simdEngine } from '../../../src/simd/simd-engine.js';
import { analysisRatio, meydaSpeedUp } from './analysis-figures.js';
import { analysisWork, wholeSpectrumWork } from './analysis-work.js';
import { bestOfTries } from './best-of-tries.js';
import { ceilingOf, ceilingTable, isRegression, type ShortName, WRITTEN } from './ceilings.js';
import { cpuCost } from './cpu-cost.js';
import { detectionRounds } from './detection-figures.js';
import { pairedRounds, ratioOf } from './paired-rounds.js';
import { evenRegions, renderRatio } from './render-figures.js';
import type { Spread } from './spread.js';
import { streamingShare } from './streaming-figures.js';
import { demonstrationVoices } from './voices.js';

/** A ratio that is above its ceiling is measured so many times in all; the least of them counts. */
const MOST_TRIES = 3;

/** Measures the ratios on what every checkout has, prints them, and gives 1 where one is above its ceiling every time. */
export function shortForm(): 0 | 1 {
  const engine = simdEngine();
  if (engine.problem !== null) console.log(engine.problem);
  const voices = demonstrationVoices();
  const measures: Readonly<Record<ShortName, () => Spread>> = {
    'analysis over raw transforms': () => analysisRatio(10, 15, { engine: null, work: analysisWork }),
    'analysis with the engine over raw transforms': () =>
      analysisRatio(10, 15, { engine, work: analysisWork }),
    'analysis over meyda': () => {
      const speedUp = meydaSpeedUp(4, 5, { engine: null, work: wholeSpectrumWork });
      return { ...speedUp, median: 1 / speedUp.median };
    },
    'detection over raw transforms': () => ratioOf(detectionRounds(voices, 7, null)),
    'detection with the engine over raw transforms': () => ratioOf(detectionRounds(voices, 7, engine)),
    'render over a plain copy': () => renderRatio(11),
    'gain of one of 50,000 over a map of the list': () => editRatio(11),
    'streaming state over a minute of audio, %': streamingShare,
  };
  const tried = Object.entries(measures).map(
    ([name, measure]) =>
      [name as ShortName, bestOfTries(measure, ceilingOf(WRITTEN[name as ShortName]), MOST_TRIES)] as const,
  );
  const measured = Object.fromEntries(tried.map(([name, { spread }]) => [name, spread])) as Record<
    ShortName,
    Spread
  >;
  console.log(ceilingTable(measured));
  for (const [name, { tries }] of tried)
    if (tries > 1) console.log(`measured ${tries} times, the least counts: ${name}`);
  const worse = tried.filter(([name, { spread }]) => isRegression(spread.median, WRITTEN[name]));
  for (const [name] of worse) console.log(`slower than it was: ${name}`);
  return worse.length > 0 ? 1 : 0;
}

/**
 * One region of 50,000 gets another gain, over the plain map that does the same unchecked: both read every region, so the memory of the machine
 * weighs on both. A copy of the array reads none, and the ratio to that is 2 on one machine and 8 on another.
 */
function editRatio(rounds: number): Spread {
  const list = evenRegions({ lengthSamples: 5_000_000, count: 50_000, regionSamples: 50, gainDb: -6 });
  return ratioOf(
    pairedRounds(
      cpuCost(() => setGain(list, 25_000, -3), 10),
      cpuCost(() => Object.freeze(list.regions.map((region) => withGain(region, 25_000, -3))), 10),
      rounds,
    ),
  );
}

function withGain(region: Region, id: number, gainDb: number): Region {
  return region.id === id ? Object.freeze({ ...region, gainDb }) : region;
}
