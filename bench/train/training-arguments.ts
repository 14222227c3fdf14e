import { parseArgs } from 'node:util';
import { DEFAULT_TRAINING_OPTIONS, type TrainingOptions } from './training-options.js';

/** What both commands take on the command line. */
export interface TrainingArguments {
  /** Folders of folders; those of the first come first. */
  readonly corpora: readonly string[];
  /** Only these folders; undefined for all. */
  readonly folders: readonly string[] | undefined;
  readonly workers: number;
  readonly options: TrainingOptions;
  /** Every option that was given, the command's own among them. */
  readonly given: ReadonlyMap<string, string>;
  readonly help: boolean;
}

/** Help for what both commands take. */
export const TRAINING_HELP = `  --corpus DIR         folder of folders of NAME.wav + NAME.tsv (default ../shared/corpus); may be repeated
  --folder NAME        only this folder; may be repeated
  --epochs N           how often every clip is heard (default ${DEFAULT_TRAINING_OPTIONS.frames.epochs})
  --channels N         width of the network for frames, even (default ${DEFAULT_TRAINING_OPTIONS.frames.channelCount})
  --breaths N          singers whose breaths are made out of noise (default ${DEFAULT_TRAINING_OPTIONS.breathMouths})
  --seed N             where the random numbers start (default ${DEFAULT_TRAINING_OPTIONS.seed})
  --workers N          networks trained at a time (default 2)
  --networks FILE      keep networks for frames here, and take those that are there already from the same data and settings`;

/** Reads the command line; `own` names the options that only this command has. Throws where one is unknown or no number. */
export function trainingArguments(args: readonly string[], own: readonly string[]): TrainingArguments {
  const text = { type: 'string' } as const;
  const { values } = parseArgs({
    args: [...args],
    options: {
      corpus: { type: 'string', multiple: true, default: ['../shared/corpus'] },
      folder: { type: 'string', multiple: true },
      epochs: text,
      channels: text,
      breaths: text,
      seed: text,
      workers: text,
      networks: text,
      help: { type: 'boolean', default: false },
      ...Object.fromEntries(own.map((name) => [name, text])),
    },
  });
  const given = new Map(
    Object.entries(values).flatMap(([name, value]) =>
      typeof value === 'string' ? [[name, value] as const] : [],
    ),
  );
  const whole = (name: string, otherwise: number, least: number, multipleOf = 1): number => {
    const value = Number(given.get(name) ?? otherwise);
    if (Number.isSafeInteger(value / multipleOf) && value >= least) return value;
    const kind = multipleOf === 1 ? 'a whole number' : `a multiple of ${multipleOf}`;
    throw new RangeError(`--${name}: must be ${kind} from ${least} on; received ${given.get(name)}`);
  };
  const { frames, seed, breathMouths, ...rest } = DEFAULT_TRAINING_OPTIONS;
  return {
    corpora: values.corpus,
    folders: values.folder,
    workers: whole('workers', 2, 1),
    options: {
      ...rest,
      seed: whole('seed', seed, 0),
      breathMouths: whole('breaths', breathMouths, 0),
      frames: {
        ...frames,
        epochs: whole('epochs', frames.epochs, 1),
        channelCount: whole('channels', frames.channelCount, 2, 2),
      },
    },
    given,
    help: values.help,
  };
}
