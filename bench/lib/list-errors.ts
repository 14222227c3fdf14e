import type { FolderScore } from './score-folder.js';

/** A sibilant that was missed, or a region that is none. */
export interface ListedError {
  readonly clip: string;
  readonly what: 'miss' | 'false';
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly phone: string;
  /** Phones before and after, for looking the place up. */
  readonly context: string;
  readonly confidence: number | null;
  /** For a miss: the kinds of the regions that lie there all the same. */
  readonly there: string;
}

/** Each miss and each false sibilant of a folder, in order of clip and time. */
export function listErrors({ tallies }: FolderScore): readonly ListedError[] {
  return tallies.flatMap(({ clip, tally, regions }) =>
    tally.sibilants
      .flatMap(({ phone, label, region }): ListedError[] => {
        const span = label !== null && region === null ? label : label === null ? region : null;
        if (span === null) return [];
        const before =
          clip.labels.filter((l) => l.endSeconds <= span.startSeconds + 0.005).at(-1)?.label ?? '';
        const after = clip.labels.find((l) => l.startSeconds >= span.endSeconds - 0.005)?.label ?? '';
        const there = regions.filter(
          (r) => r.endSeconds > span.startSeconds && r.startSeconds < span.endSeconds && r !== region,
        );
        return [
          {
            clip: clip.name,
            what: label === null ? 'false' : 'miss',
            startSeconds: span.startSeconds,
            endSeconds: span.endSeconds,
            phone,
            context: `${before} _ ${after}`,
            confidence: region?.confidence ?? null,
            there: there.map((r) => r.label).join(' '),
          },
        ];
      })
      .sort((a, b) => a.startSeconds - b.startSeconds),
  );
}

/** The list as tab-separated lines under a heading. */
export function errorLines(errors: readonly ListedError[]): string {
  const head = ['clip', 'what', 'start s', 'end s', 'phone', 'between', 'confidence', 'regions there'];
  const rows = errors.map((e) => [
    e.clip,
    e.what,
    e.startSeconds.toFixed(3),
    e.endSeconds.toFixed(3),
    e.phone,
    e.context,
    e.confidence?.toFixed(2) ?? '–',
    e.there || '–',
  ]);
  return [head, ...rows].map((row) => row.join('\t')).join('\n');
}
