import fc from 'fast-check';
import type { LevelTable, RegionLevel, SibilantSound } from '../../src/levels/region-level.js';
import { freezeList, freezeRegion } from '../../src/regions/freeze-region.js';
import type { Region, RegionKind, RegionList } from '../../src/regions/region.js';
import { region } from './region.js';

/** A region and how loud it is beside its voice. */
export interface MeasuredRow {
  readonly kind?: RegionKind;
  readonly sibilanceDb: number | null;
  readonly sound?: SibilantSound;
  readonly fields?: Partial<Region>;
}

/** A list whose regions have the sibilances that a test wants, without any sound; 0 dB unless a row says otherwise. */
export interface MeasuredTake {
  readonly list: RegionList;
  readonly levels: LevelTable;
}

/** Regions of 0.1 s, 0.1 s apart, numbered from 1 in order of the rows. */
export function measuredTake(rows: readonly MeasuredRow[]): MeasuredTake {
  const byId = new Map<number, RegionLevel>();
  const regions = rows.map(({ kind = 'sibilant', sibilanceDb, sound = 's-like', fields }, i) => {
    const id = i + 1;
    byId.set(id, {
      id,
      kind,
      durationSeconds: 0.1,
      rmsDbfs: -20 + (sibilanceDb ?? 0),
      peakDbfs: -10 + (sibilanceDb ?? 0),
      weightedDbfs: -12 + (sibilanceDb ?? 0),
      peakFrequencyHz: 6000,
      centroidHz: 6000,
      spreadHz: 1700,
      skewness: 0,
      excessKurtosis: 0,
      voiceDbfs: -20,
      sibilanceDb,
      percentile: null,
      sound: kind === 'sibilant' ? sound : null,
    });
    const edges = { startSample: i * 9600, endSample: i * 9600 + 4800 };
    return freezeRegion(region({ kind, gainDb: 0, ...edges, ...fields, id }));
  });
  const lengthSamples = rows.length * 9600;
  const list = freezeList({ sampleRateHz: 48_000, lengthSamples, nextId: rows.length + 1, regions });
  return { list, levels: { sampleRateHz: 48_000, byId, voiceDbfs: -20 } };
}

/** s-like sibilants of these sibilances. */
export function esses(...sibilancesDb: readonly number[]): MeasuredRow[] {
  return sibilancesDb.map((sibilanceDb) => ({ sibilanceDb }));
}

/** f and th of these levels. */
export function fricatives(...sibilancesDb: readonly number[]): MeasuredRow[] {
  return sibilancesDb.map((sibilanceDb) => ({ kind: 'fricative', sibilanceDb }));
}

const decibels = fc.double({ min: -40, max: 15, noNaN: true });

/** Any row: all kinds that matter, locked and bypassed ones, some without a sibilance, some with a gain. */
export const anyRow: fc.Arbitrary<MeasuredRow> = fc.record({
  kind: fc.constantFrom<RegionKind>('sibilant', 'sibilant', 'sibilant', 'fricative', 'burst', 'breath'),
  sibilanceDb: fc.oneof({ weight: 9, arbitrary: decibels }, { weight: 1, arbitrary: fc.constant(null) }),
  sound: fc.constantFrom<SibilantSound>('s-like', 'sh-like'),
  fields: fc.record({
    gainDb: fc.oneof(fc.constantFrom(0, -6), fc.double({ min: -120, max: 24, noNaN: true })),
    locked: fc.boolean(),
    bypassed: fc.boolean(),
    confidence: fc.double({ min: 0, max: 1, noNaN: true }),
  }),
});

/** Any measured take of up to 14 regions. */
export const anyTake: fc.Arbitrary<MeasuredTake> = fc.array(anyRow, { maxLength: 14 }).map(measuredTake);
