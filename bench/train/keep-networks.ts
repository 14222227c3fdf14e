import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import type { ConvModel } from '../../src/detection/conv-classifier.js';
import type { TrainingArguments } from './training-arguments.js';
import type { TrainingClip } from './training-clip.js';
import type { FrameTrainingOptions } from './training-options.js';
import { createTrainingPool, type TrainingPool } from './training-pool.js';

/** A network for frames as text: all but its weights as they are, those as a plain list. */
type KeptNetwork = Omit<ConvModel, 'weights'> & { readonly weights: readonly number[] };

/** Starts threads that train, and keeps networks where `--networks` asks for it. */
export function trainingPool(
  clips: readonly TrainingClip[],
  { options, workers, given }: TrainingArguments,
  report: (text: string) => void,
): TrainingPool {
  const file = given.get('networks');
  // Read before threads start: a file that cannot be read leaves none behind.
  const kept = file === undefined ? {} : readNetworks(file);
  const pool = createTrainingPool(clips, options, { workers, report });
  return file === undefined ? pool : keepNetworks(pool, { file, kept }, clips, options.frames);
}

/**
 * The same pool, but networks for frames that are in a file are taken from it, and those that were trained are put
 * there: an hour's work need not be done again where only what judges events has changed. A network is known by
 * everything that it was made from: band powers and targets of its clips, options and seed. What the file cannot know is
 * whether the training itself has changed since; then name another one.
 */
function keepNetworks(
  pool: TrainingPool,
  { file, kept }: { readonly file: string; readonly kept: Record<string, KeptNetwork> },
  clips: readonly TrainingClip[],
  options: FrameTrainingOptions,
): TrainingPool {
  const digests = clips.map(clipDigest);
  return {
    run(jobs, done = () => {}) {
      const keys = jobs.map(({ train, seed }) =>
        digestOf(JSON.stringify([options, seed, train.map((place) => digests[place])])),
      );
      mkdirSync(dirname(file), { recursive: true });
      return pool.run(
        jobs.map((job, i) => ({ ...job, frames: unpacked(kept[keys[i] as string]) })),
        (place, result) => {
          // At once: what interrupts an hour's work then costs one network.
          kept[keys[place] as string] = { ...result.frames, weights: [...result.frames.weights] };
          writeFileSync(file, JSON.stringify(kept));
          done(place, result);
        },
      );
    },
    close: () => pool.close(),
  };
}

function readNetworks(file: string): Record<string, KeptNetwork> {
  if (!existsSync(file)) return {};
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch (error) {
    throw new Error(`--networks: ${file} holds no networks (${(error as Error).message})`);
  }
}

function unpacked(network: KeptNetwork | undefined): ConvModel | undefined {
  return network && { ...network, weights: Float64Array.from(network.weights) };
}

/** Of all that training a network for frames reads of a clip. */
function clipDigest({ powers, targets, frameCount, usableBands }: TrainingClip): string {
  const hash = createHash('sha256').update(JSON.stringify([frameCount, usableBands]));
  // Copied: what is hashed must not be shared with a thread.
  for (const { buffer, byteOffset, byteLength } of [powers, targets])
    hash.update(Uint8Array.from(new Uint8Array(buffer, byteOffset, byteLength)));
  return hash.digest('hex');
}

function digestOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
