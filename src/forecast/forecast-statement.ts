import type { Stage } from './chain.js';
import { COMPRESSOR_EFFECTS, type CompressorEffect } from './compressor-effect.js';

/** What one stage does to all regions together. */
export interface StageFigures {
  /** Position in the chain, from 0. */
  readonly index: number;
  /** Which kind of stage it is. */
  readonly kind: Stage['kind'];
  /** The stage's own name; its kind where it has none. */
  readonly name: string;
  /** Median rise through this stage in dB; null where no region has one. */
  readonly medianRiseDb: number | null;
  /** How many regions a compressor treats how; null for other stages. */
  readonly effects: Readonly<Record<CompressorEffect, number>> | null;
  /** The same in words. */
  readonly statement: string;
}

const CLAUSES: Readonly<Record<CompressorEffect, (count: number) => string>> = {
  lifted: (n) => `it lifts ${n}, where the voice is turned down more`,
  'drives the detector': (n) =>
    `it does not lift ${n}, since there the sound itself is what drives the detector`,
  'held by the voice': (n) => `it does not lift ${n}, since there it is still turned down as for the voice`,
  untouched: (n) => `it leaves ${n} as they are, since neither they nor the voice reach the threshold`,
};

/** Puts figures into a sentence. */
export function stageFigures(
  stage: Stage,
  index: number,
  medianRiseDb: number | null,
  effects: readonly (CompressorEffect | null)[],
): StageFigures {
  const counts =
    stage.kind === 'compressor'
      ? (Object.fromEntries(
          COMPRESSOR_EFFECTS.map((effect) => [effect, effects.filter((e) => e === effect).length]),
        ) as Record<CompressorEffect, number>)
      : null;
  const name = stage.name === undefined ? stage.kind : `${stage.kind} "${stage.name}"`;
  const clauses =
    counts === null
      ? []
      : COMPRESSOR_EFFECTS.filter((effect) => counts[effect] > 0).map((effect) =>
          CLAUSES[effect](counts[effect]),
        );
  const figure =
    medianRiseDb === null
      ? 'nothing to compare'
      : `median rise ${medianRiseDb >= 0 ? '+' : '−'}${Math.abs(medianRiseDb).toFixed(1)} dB`;
  return Object.freeze({
    index,
    kind: stage.kind,
    name: stage.name ?? stage.kind,
    medianRiseDb,
    effects: counts === null ? null : Object.freeze(counts),
    statement: `${index + 1}. ${name}: ${[figure, ...clauses].join('; ')}.`,
  });
}
