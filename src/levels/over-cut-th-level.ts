import type { RegionList } from '../regions/region.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import type { LevelTable } from './region-level.js';

/** How far s lies above th, in dB, in the study where that is least. */
const S_ABOVE_TH_DB = 8;
/** How far sh lies above s there, in dB. */
const SH_ABOVE_S_DB = 1;
/** Level of th relative to the vowel, in dB, which two studies share though their s lie 7 dB apart. */
const PUBLISHED_TH_DB = -18;
/** So many f and th of the voice's own need no help from published figures. */
const ENOUGH_FRICATIVES = 8;

/** Where a voice's f and th are believed to lie, relative to its vowels. */
export interface ThLevel {
  readonly thDb: number;
  /** Where the figure comes from: the voice's own f and th, published figures where it has none, or both. */
  readonly source: 'own voice' | 'both' | 'published';
  /** Median sibilance of its s; sh counts 1 dB lower. */
  readonly usualDb: number;
  /** What the published figures give for this voice. */
  readonly priorDb: number;
  readonly fricativeCount: number;
  /** Median sibilance of its f and th; null where it has none. */
  readonly fricativeDb: number | null;
}

/**
 * Estimates the level of a voice's f and th relative to its vowels; null where no sibilant has a sibilance.
 *
 * The prior lies 8 dB below the voice's usual s, or, where that is above −18 dB, midway between the two, since two kinds of
 * published figure disagree there: th is −18 dB and s −10 (Jongman, Wayland and Wong 2000, from notes on it), th −17.7 and s
 * −3.2 (Behrens and Blumstein 1988, from notes on it; means computed from its figures). The differences are 8 and 14.5 dB, the levels of th alike.
 *
 * Own f and th weigh n/8 up to 8 of them: with their standard deviation of about 3.9 dB (computed from the 12 figures of
 * Behrens and Blumstein), the median of 8 has a standard error of 1.7 dB. A result nearer than 8 dB to the usual s is not
 * believed: a detector finds the loud end of f first, with h and v among it.
 */
export function thLevel(list: RegionList, levels: LevelTable): ThLevel | null {
  const sibilants: number[] = [];
  const fricatives: number[] = [];
  for (const { id, kind } of list.regions) {
    const level = levels.byId.get(id);
    const sibilanceDb = level?.sibilanceDb ?? null;
    if (sibilanceDb === null) continue;
    if (kind === 'sibilant') sibilants.push(sibilanceDb - (level?.sound === 'sh-like' ? SH_ABOVE_S_DB : 0));
    else if (kind === 'fricative') fricatives.push(sibilanceDb);
  }
  if (sibilants.length === 0) return null;
  const usualDb = quantileOf(rising(sibilants), 0.5);
  const nearestDb = usualDb - S_ABOVE_TH_DB;
  const priorDb = Math.min(nearestDb, (nearestDb + PUBLISHED_TH_DB) / 2);
  const fricativeDb = fricatives.length === 0 ? null : quantileOf(rising(fricatives), 0.5);
  const weight = Math.min(1, fricatives.length / ENOUGH_FRICATIVES);
  const blendDb = fricativeDb === null ? priorDb : weight * fricativeDb + (1 - weight) * priorDb;
  return {
    thDb: Math.min(blendDb, nearestDb),
    source: weight === 0 ? 'published' : weight < 1 ? 'both' : 'own voice',
    usualDb,
    priorDb,
    fricativeCount: fricatives.length,
    fricativeDb,
  };
}
