import type { ConvModel } from '../../src/detection/conv-classifier.js';
import type { EventModel } from '../../src/detection/event-classifier.js';
import { breathingVoices } from './breathing-voices.js';
import { atTemperature, fitTemperature, judgeEvents } from './calibrate-events.js';
import { trainEventModel } from './train-event-model.js';
import type { TrainingClip } from './training-clip.js';
import type { TrainingOptions } from './training-options.js';
import type { TrainingPool } from './training-pool.js';
import { voiceFolds } from './voice-folds.js';

/** Both networks of the detector. */
export interface TrainedModel {
  readonly frames: ConvModel;
  readonly events: EventModel;
}

/**
 * Trains both networks on some of the pool's clips. The one for events must not learn from frames that look better
 * than those of an unheard voice will, so it learns from folds: each event was found by a network for frames that
 * never heard its voice (but for voices that only breathe). The network for frames that is kept heard everything.
 * How sure the one for events may be is learned from folds too, each judged by what the others taught.
 */
export async function trainModel(
  pool: TrainingPool,
  clips: readonly TrainingClip[],
  places: readonly number[],
  options: TrainingOptions,
  name: string,
): Promise<TrainedModel> {
  const { seed, events } = options;
  const chosen = places.map((i) => clips[i] as TrainingClip);
  const here = (list: readonly number[]): number[] => list.map((i) => places[i] as number);
  const folds = voiceFolds(
    chosen,
    events.foldCount,
    breathingVoices(chosen.filter(({ teachesFrames }) => teachesFrames)),
  ).map(({ train, collect }, fold) => ({
    name: `${name}, fold ${fold + 1}`,
    train: here(train),
    collect: here(collect),
    seed: seed + 1 + fold,
  }));
  // The longest first, so that no thread idles at the end.
  const teaching = places.filter((i) => (clips[i] as TrainingClip).teachesFrames);
  const whole = { name: `${name}, whole`, train: teaching, collect: [], seed };
  const [kept, ...folded] = await pool.run([whole, ...folds]);
  const byFold = folded.map((result) => result.events);
  const judged = byFold.flatMap((own, fold) => {
    const others = byFold.filter((_, k) => k !== fold).flat();
    return own.length > 0 && others.length > 0 ? judgeEvents(trainEventModel(others, events, seed), own) : [];
  });
  const model = trainEventModel(byFold.flat(), events, seed);
  return {
    frames: (kept as { frames: ConvModel }).frames,
    events: atTemperature(model, fitTemperature(judged)),
  };
}
