import { createHash } from 'node:crypto';
import type { RegionList } from '../../src/regions/region.js';
import type { Samples } from '../../src/signal/samples.js';

/** What must not depend on the engine that a detection ran in: kind and edges of a region to the sample, its confidence to 1e-6. */
export interface RegionRecord {
  readonly kind: string;
  readonly startSample: number;
  readonly endSample: number;
  readonly onsetSample: number | null;
  readonly offsetSample: number | null;
  readonly confidence: number;
}

/** The records of a list, in its order. */
export function regionRecords(list: RegionList): readonly RegionRecord[] {
  return list.regions.map(({ kind, startSample, endSample, onsetSample, offsetSample, confidence }) => ({
    kind,
    startSample,
    endSample,
    onsetSample,
    offsetSample,
    confidence,
  }));
}

/** The two hashes of a detection, SHA-256 in hex. */
export interface RegionHashes {
  /** Of kinds and edges. */
  readonly edges: string;
  /** Of the same with each confidence rounded to 1e-6; a value that lies on the edge of two roundings may fall to either side. */
  readonly all: string;
}

/** Hashes records: one line a region, its fields apart by spaces. */
export function regionHashes(records: readonly RegionRecord[]): RegionHashes {
  const edges = records.map(
    (r) => `${r.kind} ${r.startSample} ${r.endSample} ${r.onsetSample} ${r.offsetSample}`,
  );
  return {
    edges: sha256(edges.join('\n')),
    all: sha256(edges.map((line, i) => `${line} ${records[i]!.confidence.toFixed(6)}`).join('\n')),
  };
}

/** SHA-256 of samples, to tell whether two engines were given the same. */
export function samplesHash(channels: readonly Samples[]): string {
  const hash = createHash('sha256');
  for (const { buffer, byteOffset, byteLength } of channels)
    hash.update(new Uint8Array(buffer, byteOffset, byteLength));
  return hash.digest('hex');
}

/**
 * Where two detections of one clip differ, in words; empty where they are the same: as many regions, kinds and edges
 * equal, confidences within 1e-6.
 */
export function recordDifferences(
  one: readonly RegionRecord[],
  other: readonly RegionRecord[],
): readonly string[] {
  if (one.length !== other.length) return [`${one.length} regions against ${other.length}`];
  return one.flatMap((a, i) => {
    const b = other[i]!;
    const fields = (['kind', 'startSample', 'endSample', 'onsetSample', 'offsetSample'] as const)
      .filter((field) => a[field] !== b[field])
      .map((field) => `${field} ${a[field]} against ${b[field]}`);
    // The promise of the library from engine to engine.
    const apart = Math.abs(a.confidence - b.confidence);
    if (!(apart <= 1e-6)) fields.push(`confidence ${a.confidence} against ${b.confidence}`);
    return fields.length === 0 ? [] : [`region ${i}: ${fields.join(', ')}`];
  });
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
