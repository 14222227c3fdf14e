import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import type { Engine } from '../../../src/signal/engine.js';
import { simdEngine } from '../../../src/simd/simd-engine.js';
import { cpuCost } from './cpu-cost.js';
import { pairedRounds, type Round, ratioOf } from './paired-rounds.js';
import { rawTransforms } from './raw-transforms.js';
import { type SpeedFigure, spreadText } from './speed-figure.js';
import { type Spread, spreadOf } from './spread.js';
import { demonstrationVoices, folderVoices, type Voices } from './voices.js';

/** Rounds of finding in every clip of some voices, and of the raw transforms of the same clips. */
export function detectionRounds(
  { clips, sampleRateHz }: Voices,
  rounds: number,
  engine: Engine | null,
): readonly Round[] {
  return pairedRounds(
    cpuCost(() => clips.map((clip) => detectConsonants(clip, { sampleRateHz, engine }))),
    cpuCost(() => clips.map(rawTransforms)),
    rounds,
  );
}

/** Seconds of sound for a second of processor time. */
export function timesRealTime(rounds: readonly Round[], seconds: number): Spread {
  return spreadOf(rounds.map(({ work }) => (seconds * 1e6) / work));
}

/** Reach and aim over the raw transforms, by folder. */
const GOALS = [
  { folder: 'pjs_singing', reach: 0.9, aim: 0.55 },
  { folder: 'kathleen_en48k', reach: 1, aim: 0.6 },
] as const;

/** Finding over the same baseline in each folder, and against real time in the slowest. */
export function detectionFigures(corpus: string): readonly SpeedFigure[] {
  const demonstration = demonstrationVoices();
  const engine = simdEngine();
  const measured = GOALS.map((goal) => {
    const voices = folderVoices(corpus, goal.folder, 100);
    const heard = voices ?? demonstration;
    return {
      ...goal,
      heard,
      isThere: voices !== null,
      rounds: detectionRounds(heard, 15, engine),
      plain: detectionRounds(heard, 9, null),
    };
  });
  const speeds = measured.map(({ heard, rounds, plain }) => ({
    name: heard.name,
    speed: timesRealTime(rounds, heard.seconds),
    plain: timesRealTime(plain, heard.seconds),
  }));
  const slowest = speeds.reduce((a, b) => (b.speed.median < a.speed.median ? b : a));
  return [
    ...measured.map(
      ({ folder, reach, aim, heard, isThere, rounds, plain }): SpeedFigure => ({
        name: `detection with the engine over raw transforms, ${folder}`,
        measured: ratioOf(rounds),
        reach,
        aim,
        higherIsBetter: false,
        digits: 2,
        note: `${isThere ? '' : 'the folder is not there: the built-in demonstration instead, '}${heard.clips.length} clips, ${heard.seconds.toFixed(0)} s; without the engine ${spreadText(ratioOf(plain), 2)}`,
      }),
    ),
    {
      name: 'detection with the engine, times real time on one core',
      measured: slowest.speed,
      reach: 700,
      aim: 1500,
      higherIsBetter: true,
      digits: 0,
      note: `slowest of ${speeds.map(({ name, speed, plain }) => `${name} ${speed.median.toFixed(0)} (without it ${plain.median.toFixed(0)})`).join(', ')}; engine: ${engine.name}; processor time, so this one is of the machine above`,
    },
  ];
}
