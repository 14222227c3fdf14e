import type { JudgedEvent } from '../../src/evaluation/phone-tally.js';
import type { RegionEvent } from '../../src/evaluation/region-events.js';
import type { LabelledClip } from './corpus.js';
import type { FolderScore } from './score-folder.js';
import { voiceInsideDb } from './sounding-cut.js';

/** A label that was missed or taken for something else, or a region that is not right. */
export interface ListedError {
  readonly clip: string;
  /**
   * `miss` and `false`: of the strict figures. `no harsh region`: of unvoiced recall. `wrong place`, `stop missed`, `stop as KIND`, `breath
   * missed` and `breath as KIND`: of the figures of those names.
   */
  readonly what: string;
  readonly startSeconds: number;
  readonly endSeconds: number;
  /** What is labelled there; of a region in the wrong place, what it lies on. */
  readonly phone: string;
  /** Phones before and after, for looking the place up. */
  readonly context: string;
  /** Of the region, where there is one. */
  readonly kind: RegionEvent['label'] | null;
  readonly confidence: number | null;
  /** Of a region in the wrong place: how loud the voice is in it, in dB; see `voiceInsideDb`. */
  readonly voiceDb: number | null;
  /** The kinds of the other regions that lie there all the same. */
  readonly there: string;
}

interface Mistake {
  readonly what: string;
  readonly phone: string;
  readonly span: { readonly startSeconds: number; readonly endSeconds: number };
  readonly region: RegionEvent | null;
}

type Tally = FolderScore['tallies'][number]['tally'];

/** Every event behind the figures of a folder that is not as it should be, in order of clip and time. */
export function listErrors({ tallies }: FolderScore): readonly ListedError[] {
  return tallies.flatMap(({ clip, tally, regions }) =>
    mistakesOf(tally)
      .map((mistake) => listed(clip, regions, mistake))
      .sort((a, b) => a.startSeconds - b.startSeconds),
  );
}

function mistakesOf(tally: Tally): readonly Mistake[] {
  return [
    ...tally.sibilants.flatMap(({ phone, label, region }): Mistake[] => {
      if (label === null) return region === null ? [] : [{ what: 'false', phone, span: region, region }];
      return region === null ? [{ what: 'miss', phone, span: label, region }] : [];
    }),
    ...unlike(tally.unvoiced, 'no harsh region', null),
    ...tally.harshPlaces.flatMap(({ region, misplaced }): Mistake[] =>
      misplaced === null ? [] : [{ what: 'wrong place', phone: misplaced, span: region, region }],
    ),
    ...unlike(tally.tongueStops, 'stop missed', 'stop as', 'burst'),
    ...unlike(tally.breaths, 'breath missed', 'breath as', 'breath'),
  ];
}

/** Labels without a region, and, where a kind is asked for, those whose region is of another. */
function unlike(
  judged: readonly JudgedEvent[],
  missed: string,
  taken: string | null,
  kind?: RegionEvent['label'],
): readonly Mistake[] {
  return judged.flatMap(({ phone, label, region }): Mistake[] => {
    if (label === null) return [];
    if (region === null) return [{ what: missed, phone, span: label, region }];
    if (taken === null || region.label === kind) return [];
    return [{ what: `${taken} ${region.label}`, phone, span: region, region }];
  });
}

function listed(
  clip: LabelledClip,
  regions: readonly RegionEvent[],
  { what, phone, span, region }: Mistake,
): ListedError {
  const { startSeconds, endSeconds } = span;
  const before = clip.labels.filter((l) => l.endSeconds <= startSeconds + 0.005).at(-1)?.label ?? '';
  const after = clip.labels.find((l) => l.startSeconds >= endSeconds - 0.005)?.label ?? '';
  const there = regions.filter(
    (r) => r.endSeconds > startSeconds && r.startSeconds < endSeconds && r !== region,
  );
  return {
    clip: clip.name,
    what,
    startSeconds,
    endSeconds,
    phone,
    context: `${before} _ ${after}`,
    kind: region?.label ?? null,
    confidence: region?.confidence ?? null,
    voiceDb: what === 'wrong place' ? voiceInsideDb(clip, span) : null,
    there: there.map((r) => r.label).join(' '),
  };
}

/** The list as tab-separated lines under a heading. */
export function errorLines(errors: readonly ListedError[]): string {
  const head = [
    'clip',
    'what',
    'start s',
    'end s',
    'phone',
    'between',
    'kind',
    'confidence',
    'voice dB',
    'regions there',
  ];
  const rows = errors.map((e) => [
    e.clip,
    e.what,
    e.startSeconds.toFixed(3),
    e.endSeconds.toFixed(3),
    e.phone,
    e.context,
    e.kind ?? '–',
    e.confidence?.toFixed(2) ?? '–',
    e.voiceDb?.toFixed(0) ?? '–',
    e.there || '–',
  ]);
  return [head, ...rows].map((row) => row.join('\t')).join('\n');
}
