import { HARSH_KINDS, type JudgedEvent } from '../../src/evaluation/phone-tally.js';
import { MOVED_SECONDS, movedLabels } from './moved-labels.js';
import { isReleasedIntoSibilant } from './released-into-sibilant.js';
import type { FolderScore } from './score-folder.js';
import { SOUNDING_DB, soundingCutSeconds, voiceInsideDb } from './sounding-cut.js';
import { markdownTable } from './table.js';

type Scored = FolderScore['tallies'][number];

/**
 * Figures taken apart by what their labels cannot say. Nothing is left out of the figures themselves: this stands beside them.
 *
 * Voiced cut counts what a label calls voiced; how much of it sounds is measured, and so it is of regions in the wrong place. A t or k
 * that an s follows at once, as in "six" and "its", is released into that s: one noise, found once, rightly called a sibilant. The others
 * have a burst of their own. A label may lie beside what it names: where the same was found there, it was heard.
 */
export function beyondLabels(scores: readonly FolderScore[]): string {
  const voice = markdownTable(
    ['folder', 'voiced cut ms/min', 'of it sounding', 'wrong place %', 'of it sounding'],
    scores.map(({ folder, figures, tallies }) => [
      folder,
      figures.voicedCutMsPerMinute?.toFixed(0) ?? '–',
      soundingMsPerMinute(tallies)?.toFixed(0) ?? '–',
      percent(figures.wrongPlace),
      percent(soundingPlaces(tallies)),
    ]),
  );
  const stops = markdownTable(
    ['folder', 't/k into a sibilant', 'other t/k', 'of those found', 'told'],
    scores.map(stopRow),
  );
  const moved = markdownTable(
    [
      'folder',
      'sibilants missed',
      'found beside',
      'strict F1 with those',
      'unvoiced missed',
      'found beside',
      'unvoiced recall with those',
    ],
    scores.map(movedRow),
  );
  return `Sounding: 80 Hz to 1 kHz is within ${SOUNDING_DB} dB of the loudest 10 ms of the same vowels, nasals and glides; of a region in the wrong place, through
half of it or more, and of those nearest to it. The first pulses of a hard onset are softer than that and do not count.

${voice}

A t or k into a sibilant has no burst of its own: it is the start of that sibilant.

${stops}

Found beside: missed by its label, but the same was found within ${1000 * MOVED_SECONDS} ms of it, where no other label is. So far labels may be off.

${moved}`;
}

function stopRow({ folder, tallies }: FolderScore): string[] {
  const stops = tallies.flatMap((scored) =>
    scored.tally.tongueStops.map((stop) => ({ stop, joined: isJoined(scored, stop) })),
  );
  const own = stops.filter(({ joined }) => !joined).map(({ stop }) => stop);
  const found = own.filter(({ region }) => region !== null);
  const told = found.filter(({ region }) => region?.label === 'burst');
  return [
    folder,
    String(stops.length - own.length),
    String(own.length),
    share(found.length, own.length),
    share(told.length, found.length),
  ];
}

function movedRow({ folder, figures, tallies }: FolderScore): string[] {
  const moved = tallies.map(({ tally }) => movedLabels(tally));
  const sibilants = moved.reduce((sum, each) => sum + each.sibilants, 0);
  const unvoiced = moved.reduce((sum, each) => sum + each.unvoiced, 0);
  const events = tallies.flatMap(({ tally }) => tally.sibilants);
  const hits = events.filter(({ label, region }) => label !== null && region !== null).length + sibilants;
  const unvoicedEvents = tallies.flatMap(({ tally }) => tally.unvoiced);
  const unvoicedHits = unvoicedEvents.filter(({ region }) => region !== null).length;
  return [
    folder,
    String(events.filter(({ region }) => region === null).length),
    String(sibilants),
    share(2 * hits, figures.sibilantLabels + figures.sibilantRegions),
    String(unvoicedEvents.length - unvoicedHits),
    String(unvoiced),
    share(unvoicedHits + unvoiced, unvoicedEvents.length),
  ];
}

function percent(value: number | null): string {
  return value === null ? '–' : (100 * value).toFixed(1);
}

function share(part: number, whole: number): string {
  return whole === 0 ? '–' : (part / whole).toFixed(3);
}

/** Share of all harsh regions that lie in the wrong place and sound there. */
function soundingPlaces(tallies: readonly Scored[]): number | null {
  const places = tallies.flatMap(({ clip, tally }) => tally.harshPlaces.map((place) => ({ clip, ...place })));
  const sounding = places.filter(
    ({ clip, region, misplaced }) =>
      misplaced !== null && (voiceInsideDb(clip, region) ?? Number.NEGATIVE_INFINITY) > -SOUNDING_DB,
  );
  return places.length === 0 ? null : sounding.length / places.length;
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

/** Whether the t or k that was judged is released into a sibilant. */
function isJoined({ clip }: Scored, { label }: JudgedEvent): boolean {
  const stop = label?.phones[0];
  return stop !== undefined && isReleasedIntoSibilant(clip.labels, stop);
}
