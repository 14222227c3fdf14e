import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import type { Engine } from '../../../src/signal/engine.js';
import { simdEngine } from '../../../src/simd/simd-engine.js';
import { lesser, tryUntil } from './best-of-tries.js';
import { cpuCost } from './cpu-cost.js';
import { pairedRounds, type Round, ratioOf } from './paired-rounds.js';
import { rawTransforms } from './raw-transforms.js';
import { type SpeedFigure, spreadText } from './speed-figure.js';
import { type Spread, spreadOf } from './spread.js';
import { demonstrationVoices, folderVoices, type Voices } from './voices.js';

/**
 * Finding in clips of 4 s cost 1.5 times the transforms in its first second, while its many functions were compiled, and settled at 0.85
 * within three: a song takes longer than that, and an album an hour.
 */
const WARM_SECONDS = 3;

/** Rounds of finding in every clip of some voices, and of the raw transforms of the same clips. */
export function detectionRounds(
  { clips, sampleRateHz }: Voices,
  rounds: number,
  engine: Engine | null,
  warmSeconds?: number,
): readonly Round[] {
  return pairedRounds(
    cpuCost(() => clips.map((clip) => detectConsonants(clip, { sampleRateHz, engine }))),
    cpuCost(() => clips.map(rawTransforms)),
    rounds,
    warmSeconds,
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

/** Against real time. */
const SPEED_REACH = 700;

/** Where a figure falls short it is measured so many times in all, since what else runs on the machine slows one try and not the next. */
const MOST_TRIES = 3;

/** Finding over the same baseline in each folder, and against real time in the slowest. */
export function detectionFigures(corpus: string): readonly SpeedFigure[] {
  const demonstration = demonstrationVoices();
  const engine = simdEngine();
  const measured = GOALS.map((goal) => {
    const voices = folderVoices(corpus, goal.folder, 100);
    const heard = voices ?? demonstration;
    const fast = (rounds: readonly Round[]): boolean =>
      ratioOf(rounds).median <= goal.reach && timesRealTime(rounds, heard.seconds).median >= SPEED_REACH;
    return {
      ...goal,
      heard,
      isThere: voices !== null,
      tries: tryUntil(() => detectionRounds(heard, 15, engine, WARM_SECONDS), fast, MOST_TRIES),
      plain: detectionRounds(heard, 9, null, WARM_SECONDS),
    };
  });
  const speeds = measured.map(({ heard, tries, plain }) => ({
    name: heard.name,
    speed: tries
      .map((rounds) => timesRealTime(rounds, heard.seconds))
      .reduce((a, b) => (b.median > a.median ? b : a)),
    plain: timesRealTime(plain, heard.seconds),
  }));
  const slowest = speeds.reduce((a, b) => (b.speed.median < a.speed.median ? b : a));
  return [
    ...measured.map(
      ({ folder, reach, aim, heard, isThere, tries, plain }): SpeedFigure => ({
        name: `detection with the engine over raw transforms, ${folder}`,
        measured: tries.map(ratioOf).reduce(lesser),
        reach,
        aim,
        higherIsBetter: false,
        digits: 2,
        note: `${isThere ? '' : 'the folder is not there: the built-in demonstration instead, '}${heard.clips.length} clips, ${heard.seconds.toFixed(0)} s; ${triesText(tries)}without the engine ${spreadText(ratioOf(plain), 2)}`,
      }),
    ),
    {
      name: 'detection with the engine, times real time on one core',
      measured: slowest.speed,
      reach: SPEED_REACH,
      aim: 1500,
      higherIsBetter: true,
      digits: 0,
      note: `slowest of ${speeds.map(({ name, speed, plain }) => `${name} ${speed.median.toFixed(0)} (without it ${plain.median.toFixed(0)})`).join(', ')}; engine: ${engine.name}; processor time, so this one is of the machine above`,
    },
  ];
}

/** What the tries before the best came to, where there was more than one. */
function triesText(tries: readonly (readonly Round[])[]): string {
  if (tries.length === 1) return '';
  const medians = tries.map((rounds) => ratioOf(rounds).median.toFixed(2));
  return `measured ${tries.length} times (${medians.join(', ')}), the best counts; `;
}
