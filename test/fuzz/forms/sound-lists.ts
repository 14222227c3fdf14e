import type { Chain } from '../../../src/forecast/index.js';
import { recordEdit, startHistory, undo } from '../../../src/regions/history.js';
import {
  createRegionList,
  type EditHistory,
  FADE_SHAPES,
  REGION_KINDS,
  type RegionDraft,
  type RegionList,
  setGain,
} from '../../../src/regions/index.js';
import { insertRegions } from '../../../src/regions/insert-regions.js';
import { type Random, randomFrom } from '../lib/random-tools.js';

const POOL = 150;

/** Hands out one of a few sound things, made when first asked for; which one depends on the draw alone. */
export function pooled<T>(make: (random: Random) => T): (random: Random) => T {
  const made: (T | undefined)[] = [];
  return (random) => {
    const k = random.below(POOL);
    made[k] ??= make(randomFrom(k));
    return made[k]!;
  };
}

/** A list of a few regions with every field in use. */
export function soundList(random: Random): RegionList {
  const drafts: RegionDraft[] = [];
  let at = random.below(100);
  for (let count = random.below(5); count > 0; count--) {
    const length = 1 + random.below(random.oneIn(3) ? 5 : 9000);
    drafts.push({
      startSample: at,
      endSample: at + length,
      kind: random.pick(REGION_KINDS),
      gainDb: -random.below(1200) / 10,
      confidence: random.below(1001) / 1000,
      onsetSample: random.oneIn(2) ? at : null,
      offsetSample: random.oneIn(2) ? at + length : null,
      bypassed: random.oneIn(4),
      locked: random.oneIn(4),
      fadeInSamples: random.below(length >> 1),
      fadeOutSamples: random.below(length >> 1),
      fadeShape: random.pick(FADE_SHAPES),
      label: random.pick(['', 'sun', 'a\tb', '-->', '\u{1F600}', '"q"', '<i>']),
      reason: { rule: 'fixed cut', numbers: random.oneIn(2) ? { cutDb: 6 } : {} },
      ...(random.oneIn(3) ? { band: { lowHz: 1000.5, highHz: 4000 } } : {}),
    });
    at += length + random.below(3) * random.below(4000);
  }
  const sampleRateHz = random.pick([8000, 44100, 48000, 192000]);
  return insertRegions(createRegionList({ sampleRateHz, lengthSamples: at + random.below(9000) }), drafts);
}

/** A history of a few edits. */
export function soundHistory(random: Random): EditHistory {
  let history = startHistory(soundList(random), { maxEdits: 1 + random.below(9) });
  for (let count = random.below(5); count > 0; count--) {
    const free = history.present.regions.filter(({ locked }) => !locked);
    if (free.length === 0 || random.oneIn(4)) history = undo(history);
    else
      history = recordEdit(history, setGain(history.present, random.pick(free).id, -random.below(24)), 'cut');
  }
  return history;
}

/** A chain with every kind of stage and filter. */
export function soundChain(random: Random): Chain {
  const compressor = {
    kind: 'compressor' as const,
    thresholdDb: -30,
    ratio: 4,
    attackSeconds: 0.005,
    releaseSeconds: 0.1,
    sidechain: [{ kind: 'highPass' as const, frequencyHz: 3000 }],
  };
  const filters = [
    { kind: 'peaking' as const, frequencyHz: 3000, q: 1, gainDb: -4.5 },
    { kind: 'lowShelf' as const, frequencyHz: 200, gainDb: 3, slope: 0.7 },
  ];
  const stages = [
    compressor,
    { kind: 'equaliser' as const, filters, wet: 0.5 },
    { kind: 'saturation' as const, curve: 'tanh' as const, driveDb: 6, oversampling: 2 },
  ];
  return { name: 'vocal', stages: stages.slice(random.below(3)) };
}
