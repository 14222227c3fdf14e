import { makeDemonstration } from '../../../examples/lib/demo/make-demonstration.js';
import { schedule } from '../../../examples/lib/demo/schedule.js';
import { SINGERS } from '../../../examples/lib/demo/singers.js';
import { type TruthEntry, truthOf } from '../../../examples/lib/demo/truth.js';
import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { placeEdges } from '../../../src/gain/place-edges.js';
import { createRegionList } from '../../../src/regions/create-region-list.js';
import { insertRegions } from '../../../src/regions/insert-regions.js';
import type { Take, TakeId } from '../../../src/takes/take.js';
import type { TrueEvent } from './grouping-score.js';

/** Takes, and the sibilants that they are known to hold. */
export interface KnownStack {
  readonly takes: readonly Take[];
  readonly truth: ReadonlyMap<TakeId, readonly TrueEvent[]>;
}

/** The demonstration, its regions found by the detector. */
export function detectedStack(): KnownStack {
  const { sampleRateHz, takes } = makeDemonstration();
  return {
    takes: takes.map(({ name, samples }) => ({
      id: name,
      channels: samples,
      list: placeEdges(detectConsonants(samples, { sampleRateHz }), samples),
      offsetSamples: 0,
      gainDb: 0,
    })),
    truth: new Map(takes.map(({ name, truth }) => [name, sibilantsOf(truth)])),
  };
}

/**
 * The same song sung by others: each of `harmonies` voices is one of the demonstration's, as ragged as it, with another seed. Regions
 * are the truth, sound there is none: grouping looks at places alone.
 */
export function scheduledStack(seed: number, harmonies: number): KnownStack {
  const sampleRateHz = 48_000;
  const lead = SINGERS[0]!;
  const others = SINGERS.slice(1);
  const singers = Array.from({ length: harmonies }, (_, i) => {
    const singer = others[i % others.length]!;
    return { ...singer, name: `${singer.name} ${i}`, seed: 1000 * seed + i };
  });
  const scores = [lead, ...singers].map((singer) => ({
    id: singer.name,
    truth: truthOf(schedule(singer, sampleRateHz)),
  }));
  return {
    takes: scores.map(({ id, truth }) => takeOf(id, truth, sampleRateHz)),
    truth: new Map(scores.map(({ id, truth }) => [id, sibilantsOf(truth)])),
  };
}

function takeOf(id: string, truth: readonly TruthEntry[], sampleRateHz: number): Take {
  const lengthSamples = truth[truth.length - 1]!.endSample;
  const drafts = sibilantsOf(truth).map(({ startSample, endSample }) => ({
    kind: 'sibilant' as const,
    startSample,
    endSample,
    onsetSample: startSample,
    offsetSample: endSample,
  }));
  const list = insertRegions(createRegionList({ sampleRateHz, lengthSamples }), drafts);
  return { id, channels: new Float32Array(lengthSamples), list, offsetSamples: 0, gainDb: 0 };
}

/** All takes say the same words, so the k-th sibilant of one is the k-th of all. */
function sibilantsOf(truth: readonly TruthEntry[]): readonly TrueEvent[] {
  return truth
    .filter(({ kind }) => kind === 'sibilant')
    .map(({ startSample, endSample }, event) => ({ event, startSample, endSample }));
}
