import type { RegionKind, RegionList } from '../../src/regions/region.js';
import { type KindSummary, UNCERTAIN_BELOW, uncertainRegions } from './file-summary.js';

/** Most uncertain finds that are listed one by one; the picture and the region file have all of them. */
const MOST_LISTED = 5;

/** A time as minutes, seconds and milliseconds: 0:03.214. */
export function clock(seconds: number): string {
  const milliseconds = Math.round(seconds * 1000);
  const minutes = Math.floor(milliseconds / 60000);
  return `${minutes}:${((milliseconds % 60000) / 1000).toFixed(3).padStart(6, '0')}`;
}

/** A file name without the control characters that could upset a terminal or break a line. */
export function shown(name: string): string {
  return name.replace(/\p{Cc}/gu, '?');
}

/** The summary of a file as lines of aligned columns. */
export function formatTable(rows: readonly KindSummary[]): string[] {
  const cells = [
    ['kind', 'found', 'turned down', 'median cut', 'seconds touched', 'uncertain', 'loudest'],
    ...rows.map((row) => [
      row.kind,
      String(row.found),
      String(row.treated),
      row.medianCutDb === null ? '-' : `${row.medianCutDb.toFixed(1)} dB`,
      row.touchedSeconds.toFixed(3),
      String(row.uncertain),
      row.found === 0 ? '-' : `${row.loudestDbfs.toFixed(1)} dBFS at ${clock(row.loudestSeconds)}`,
    ]),
  ];
  const widths = (cells[0] as string[]).map((_, column) =>
    Math.max(...cells.map((line) => (line[column] as string).length)),
  );
  return cells.map((line) => {
    const padded = line.map((cell, column) =>
      column === 0 ? cell.padEnd(widths[column] as number) : cell.padStart(widths[column] as number),
    );
    return `  ${padded.join('  ')}`.trimEnd();
  });
}

/** The kinds that were found and not asked to be turned down as one line, or nothing where there are none. */
export function formatNotAsked(rows: readonly KindSummary[], asked: readonly RegionKind[]): string[] {
  const left = rows
    .filter(({ kind, treated }) => kind !== 'all' && treated === 0 && !asked.includes(kind))
    .map(({ kind }) => kind);
  return left.length === 0
    ? []
    : [`  left as they are: ${left.join(', ')} (--kinds names what is turned down)`];
}

/** The uncertain finds as one line, or nothing where there are none. */
export function formatUncertain({ regions, sampleRateHz }: RegionList): string[] {
  const uncertain = uncertainRegions(regions);
  if (uncertain.length === 0) return [];
  const listed = uncertain.slice(0, MOST_LISTED).map((region) => {
    const start = region.onsetSample ?? region.startSample;
    return `${region.kind} at ${clock(start / sampleRateHz)} (${region.confidence.toFixed(2)})`;
  });
  const rest = uncertain.length - listed.length;
  const more = rest > 0 ? ` and ${rest} more` : '';
  return [`  listen to these first (confidence below ${UNCERTAIN_BELOW}): ${listed.join(', ')}${more}`];
}

/** How long the work took, beside the length of the audio. */
export function formatTime(tookSeconds: number, audioSeconds: number): string {
  const times = audioSeconds / Math.max(tookSeconds, 0.001);
  const ratio = times < 10 ? times.toFixed(1) : times.toFixed(0);
  return `  took ${tookSeconds.toFixed(2)} s for ${clock(audioSeconds)} of audio: ${ratio} times faster than it plays`;
}
