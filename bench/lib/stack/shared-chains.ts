import type { Chain } from '../../../src/forecast/chain.js';
import { CHAIN_PRESETS } from '../../../src/forecast/presets.js';

/**
 * Chains that the library and sox can both run, and mean the same by: cookbook filters, and a compressor that hears peaks and
 * smooths the detected level, which is what sox's compand does. Compand has no RMS detector, no sidechain and no smoothing of
 * the gain, and sox has none of our saturation curves, so these are left out.
 */
export const SHARED_CHAINS: readonly Chain[] = [
  {
    name: 'filters alone',
    stages: [
      {
        kind: 'equaliser',
        filters: [
          { kind: 'highPass', frequencyHz: 100 },
          { kind: 'lowShelf', frequencyHz: 220, gainDb: -3 },
          { kind: 'peaking', frequencyHz: 5000, q: 1.2, gainDb: 3 },
          { kind: 'highShelf', frequencyHz: 9000, gainDb: 5 },
        ],
      },
    ],
  },
  {
    name: 'hard compression',
    stages: [
      {
        kind: 'compressor',
        thresholdDb: -30,
        ratio: 8,
        attackSeconds: 0.002,
        releaseSeconds: 0.15,
        smoothing: 'level',
      },
    ],
  },
  { name: 'forward and bright', stages: forwardAndBright() },
];

/** The preset of that name, its smoothing put where sox has it. */
function forwardAndBright(): Chain['stages'] {
  const preset = CHAIN_PRESETS.find(({ name }) => name === 'forward and bright');
  if (preset === undefined) throw new Error('there is no preset "forward and bright"');
  return preset.stages.map((stage) =>
    stage.kind === 'compressor' ? { ...stage, smoothing: 'level' as const } : stage,
  );
}
