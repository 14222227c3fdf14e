import type { Chain } from './chain.js';

/** Freezes data all the way down, so that a preset stays what its name says. */
function frozen<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) frozen(part);
  }
  return value;
}

/**
 * Three chains to begin with, invented for this library and named by what they do; none describes a device. Levels
 * suit a vocal whose voice stands near −20 dBFS RMS.
 *
 * @example
 * import { CHAIN_PRESETS } from 'lenition/forecast';
 * CHAIN_PRESETS.map((chain) => chain.name); // => ['gentle levelling', 'forward and bright', 'thick and driven']
 */
export const CHAIN_PRESETS: readonly Chain[] = frozen<Chain[]>([
  {
    name: 'gentle levelling',
    stages: [
      { kind: 'equaliser', name: 'rumble out', filters: [{ kind: 'highPass', frequencyHz: 80 }] },
      {
        kind: 'compressor',
        name: 'level',
        thresholdDb: -24,
        ratio: 2.5,
        kneeDb: 10,
        attackSeconds: 0.015,
        releaseSeconds: 0.18,
        detector: 'rms',
        averageSeconds: 0.02,
        makeUpDb: 3,
      },
    ],
  },
  {
    name: 'forward and bright',
    stages: [
      { kind: 'equaliser', name: 'rumble out', filters: [{ kind: 'highPass', frequencyHz: 100 }] },
      {
        kind: 'compressor',
        name: 'forward',
        thresholdDb: -26,
        ratio: 4,
        kneeDb: 6,
        attackSeconds: 0.005,
        releaseSeconds: 0.09,
        makeUpDb: 6,
      },
      {
        kind: 'equaliser',
        name: 'bright',
        filters: [
          { kind: 'peaking', frequencyHz: 3200, q: 0.9, gainDb: 2 },
          { kind: 'highShelf', frequencyHz: 8000, gainDb: 4 },
        ],
      },
    ],
  },
  {
    name: 'thick and driven',
    stages: [
      {
        kind: 'compressor',
        name: 'fast, beside the dry sound',
        thresholdDb: -30,
        ratio: 8,
        kneeDb: 4,
        attackSeconds: 0.002,
        releaseSeconds: 0.12,
        makeUpDb: 8,
        wet: 0.5,
      },
      { kind: 'saturation', name: 'drive', curve: 'tanh', driveDb: 9, bias: 0.1, wet: 0.8 },
      {
        kind: 'equaliser',
        name: 'low weight',
        filters: [
          { kind: 'highPass', frequencyHz: 60 },
          { kind: 'lowShelf', frequencyHz: 220, gainDb: 2.5 },
          { kind: 'highShelf', frequencyHz: 9000, gainDb: 2 },
        ],
      },
    ],
  },
]);
