import type { Chain, CompressorStage, FilterSpec } from '../../../src/forecast/chain.js';

/** dB between the points that a knee is drawn with: chords of the steepest knee here miss it by under 0.002 dB. */
const KNEE_STEP_DB = 0.25;

/**
 * A chain as effects of sox (manual page sox(1), version 14.4.2, READ). Throws for what sox has not: see `SHARED_CHAINS`.
 *
 * How they correspond:
 * - highpass, lowpass, equalizer, bass, treble are the cookbook's filters; widths are given as Q (`q`) or shelf slope (`s`).
 * - compand averages the magnitude of the sample with attack where it rises and decay where it falls, each a time constant, which is
 *   `smoothing: 'level'` with a peak detector. Its transfer function is straight between points of (level in, level out), so a soft
 *   knee is drawn with many of them (its own soft-knee setting rounds a corner by another law). It is told to begin in silence, as
 *   the library does.
 *
 * @param headroomDb How far below our full scale the sound enters sox, whose samples end at ±1: levels in dB move with it.
 */
export function soxEffects(chain: Chain, headroomDb: number): readonly string[] {
  return chain.stages.flatMap((stage) => {
    if (stage.kind === 'saturation' || (stage.wet ?? 1) !== 1)
      throw new Error('sox has no saturation of these curves and no dry path');
    return stage.kind === 'equaliser'
      ? stage.filters.flatMap(filterEffect)
      : compandEffect(stage, headroomDb);
  });
}

function filterEffect(filter: FilterSpec): readonly string[] {
  const at = String(filter.frequencyHz);
  switch (filter.kind) {
    case 'peaking':
      return ['equalizer', at, `${filter.q}q`, String(filter.gainDb)];
    case 'lowShelf':
      return ['bass', String(filter.gainDb), at, `${filter.slope ?? 1}s`];
    case 'highShelf':
      return ['treble', String(filter.gainDb), at, `${filter.slope ?? 1}s`];
    case 'bandPass':
      return ['bandpass', at, `${filter.q}q`];
    case 'highPass':
      return ['highpass', '-2', at, `${filter.q ?? Math.SQRT1_2}q`];
    case 'lowPass':
      return ['lowpass', '-2', at, `${filter.q ?? Math.SQRT1_2}q`];
  }
}

function compandEffect(stage: CompressorStage, headroomDb: number): readonly string[] {
  if (stage.smoothing !== 'level' || stage.detector === 'rms' || (stage.sidechain ?? []).length > 0)
    throw new Error('compand hears peaks, through no filter, and smooths the level');
  const points = curvePoints(stage)
    .map(([levelIn, levelOut]) => [levelIn - headroomDb, levelOut - headroomDb])
    .concat([[0, 0 - reduction(stage, headroomDb)]])
    .map(([levelIn, levelOut]) => `${levelIn?.toFixed(6)},${levelOut?.toFixed(6)}`);
  return [
    'compand',
    `${stage.attackSeconds},${stage.releaseSeconds}`,
    points.join(','),
    String(stage.makeUpDb ?? 0),
    '-400',
  ];
}

/** From the foot of the knee to its top; below compand leaves the level alone. */
function curvePoints(stage: CompressorStage): (readonly [number, number])[] {
  const { thresholdDb, kneeDb = 0 } = stage;
  const steps = Math.ceil(kneeDb / KNEE_STEP_DB);
  return Array.from({ length: steps + 1 }, (_, i) => {
    const level = steps === 0 ? thresholdDb : thresholdDb - kneeDb / 2 + (i * kneeDb) / steps;
    return [level, level - reduction(stage, level)] as const;
  });
}

/** Static curve of Giannoulis, Massberg and Reiss 2012 (from memory; references.md C6), written out anew. */
function reduction({ thresholdDb, ratio, kneeDb = 0 }: CompressorStage, level: number): number {
  const over = level - thresholdDb;
  if (2 * over < -kneeDb) return 0;
  if (2 * Math.abs(over) <= kneeDb && kneeDb > 0)
    return ((1 - 1 / ratio) * (over + kneeDb / 2) ** 2) / (2 * kneeDb);
  return over - over / ratio;
}
