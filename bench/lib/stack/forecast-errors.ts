import type { Chain } from '../../../src/forecast/chain.js';
import { forecastRise } from '../../../src/forecast/forecast-rise.js';
import type { Samples } from '../../../src/signal/samples.js';
import { createSibilanceComparison } from './sibilance-comparison.js';
import type { VoiceClip } from './voice-clip.js';

/** What was said of a region and what came of it, in dB. */
export interface RegionError {
  readonly clip: string;
  readonly chain: string;
  readonly id: number;
  readonly kind: string;
  readonly startSeconds: number;
  /** Forecast rise, or target. */
  readonly expectedDb: number;
  /** Measured over the very samples that were voice in front of the chain. */
  readonly measuredDb: number;
  /** Measured with the voice looked for anew in the processed sound. */
  readonly anewDb: number;
}

/** The greatest errors first; `anew`: of the second measurement. */
export function errorsDb(errors: readonly RegionError[], anew: boolean): number[] {
  return errors
    .map(({ expectedDb, measuredDb, anewDb }) => Math.abs((anew ? anewDb : measuredDb) - expectedDb))
    .sort((a, b) => b - a);
}

/** Forecast rise of every region of a clip against the difference of two measurements: of the clip, and of what `process` made of it. */
export function forecastErrors(
  { name, samples, list }: VoiceClip,
  chain: Chain,
  process: (samples: Samples, chain: Chain, sampleRateHz: number) => Samples,
): readonly RegionError[] {
  const { byId } = forecastRise(samples, list, chain);
  const compare = createSibilanceComparison(samples, list);
  const before = compare(samples);
  const after = compare(process(samples, chain, list.sampleRateHz));
  return list.regions.flatMap(({ id, kind, startSample }) => {
    const expectedDb = byId.get(id)?.riseDb ?? null;
    const from = before.get(id);
    const to = after.get(id);
    if (expectedDb === null || from === undefined || to === undefined) return [];
    return {
      clip: name,
      chain: chain.name ?? '',
      id,
      kind,
      startSeconds: startSample / list.sampleRateHz,
      expectedDb,
      measuredDb: to.sameDb - from.sameDb,
      anewDb: to.anewDb - from.anewDb,
    };
  });
}
