import { HARSH_KINDS, type JudgedEvent, PHONE_SCORING } from '../../src/evaluation/phone-tally.js';
import type { FolderScore } from './score-folder.js';
import { SOUNDING_DB, soundingCutSeconds } from './sounding-cut.js';
import { markdownTable } from './table.js';

type Scored = FolderScore['tallies'][number];

/**
 * Two figures taken apart by what their labels cannot say. Nothing is left out of the figures themselves: this stands beside them.
 *
 * Voiced cut counts what a label calls voiced; how much of it sounds is measured. A t or k that an s follows at once, as in "six" and "its",
 * is released into that s: one noise, found once, rightly called a sibilant. The others have a burst of their own.
 */
export function beyondLabels(scores: readonly FolderScore[]): string {
  const rows = scores.map(({ folder, figures, tallies }) => {
    const stops = tallies.flatMap((scored) =>
      scored.tally.tongueStops.map((stop) => ({ stop, joined: isReleasedIntoSibilant(scored, stop) })),
    );
    const own = stops.filter(({ joined }) => !joined).map(({ stop }) => stop);
    const found = own.filter(({ region }) => region !== null);
    const told = found.filter(({ region }) => region?.label === 'burst');
    return [
      folder,
      figures.voicedCutMsPerMinute?.toFixed(0) ?? '–',
      soundingMsPerMinute(tallies)?.toFixed(0) ?? '–',
      String(stops.length - own.length),
      String(own.length),
      share(found.length, own.length),
      share(told.length, found.length),
    ];
  });
  const table = markdownTable(
    [
      'folder',
      'voiced cut ms/min',
      'of it sounding',
      't/k into a sibilant',
      'other t/k',
      'of those found',
      'told',
    ],
    rows,
  );
  return `Sounding: 80 Hz to 1 kHz is within ${SOUNDING_DB} dB of the loudest 10 ms of the same vowels, nasals and glides.\n\n${table}`;
}

function share(part: number, whole: number): string {
  return whole === 0 ? '–' : (part / whole).toFixed(3);
}

function soundingMsPerMinute(tallies: readonly Scored[]): number | null {
  const seconds = tallies.reduce((sum, { clip }) => sum + clip.durationSeconds, 0);
  const sounding = tallies.reduce(
    (sum, { clip, regions }) =>
      sum +
      soundingCutSeconds(
        clip,
        regions.filter(({ label }) => HARSH_KINDS.includes(label)),
      ),
    0,
  );
  return seconds === 0 ? null : (1000 * 60 * sounding) / seconds;
}

/** Whether the label after a t or k is a sibilant that begins where it ends. */
function isReleasedIntoSibilant({ clip }: Scored, { label }: JudgedEvent): boolean {
  const stop = label?.phones[0];
  const next = clip.labels.find(
    (phone) => stop !== undefined && phone !== stop && phone.startSeconds >= stop.startSeconds,
  );
  return (
    stop !== undefined &&
    next?.phoneClass === 'sibilant' &&
    next.startSeconds - stop.endSeconds < PHONE_SCORING.mergeGapSeconds
  );
}
