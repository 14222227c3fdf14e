import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { PackedModel } from './packed-model.js';
import type { TrainingClip } from './training-clip.js';
import type { TrainingOptions } from './training-options.js';

/** Files outside this folder that change what a training gives. */
const DETECTION_FILES = [
  'band-meter',
  'band-weights',
  'conv-classifier',
  'detection-options',
  'detection-scale',
  'event-measures',
  'noise-spans',
  'packed-weights',
  'row-store',
  'voice-reference',
];

/** Gives the model that is stored for these clips, options and sources, or makes and stores it. */
export async function cachedModel(
  directory: string,
  clips: readonly TrainingClip[],
  options: TrainingOptions,
  make: () => Promise<PackedModel>,
): Promise<PackedModel> {
  const file = join(directory, `${key(clips, options)}.json`);
  if (existsSync(file)) return JSON.parse(readFileSync(file, 'utf8')) as PackedModel;
  const model = await make();
  mkdirSync(directory, { recursive: true });
  writeFileSync(file, JSON.stringify(model));
  return model;
}

function key(clips: readonly TrainingClip[], options: TrainingOptions): string {
  const hash = createHash('sha256');
  hash.update(JSON.stringify(options));
  for (const source of sources()) hash.update(readFileSync(source));
  for (const { folder, name, powers, labels } of clips) {
    hash.update(`${folder}/${name}`);
    hash.update(JSON.stringify(labels));
    hash.update(new Uint8Array(powers.buffer));
  }
  return hash.digest('hex').slice(0, 24);
}

function sources(): string[] {
  const here = fileURLToPath(new URL('.', import.meta.url));
  const detection = fileURLToPath(new URL('../../src/detection/', import.meta.url));
  const own = readdirSync(here).filter((name) => name.endsWith('.ts') && name !== 'leave-one-out.ts');
  return [
    ...own.sort().map((name) => join(here, name)),
    ...DETECTION_FILES.map((name) => join(detection, `${name}.ts`)),
  ];
}
