/** A line of what `errorLines` wrote. */
export interface ErrorRow {
  readonly clip: string;
  readonly what: string;
  readonly start: string;
  readonly end: string;
  readonly phone: string;
  readonly between: readonly [before: string, after: string];
  readonly kind: string;
  readonly confidence: string;
  readonly voiceDb: string;
}

/** The lines of one sort of what `errorLines` wrote, in order of clip and time. */
export function listedRows(text: string, what: string): readonly ErrorRow[] {
  return text
    .split('\n')
    .slice(1)
    .map((line) => line.split('\t'))
    .filter((cells) => cells[1] === what)
    .map((cells): ErrorRow => {
      const [
        clip = '',
        ,
        start = '',
        end = '',
        phone = '',
        context = '',
        kind = '',
        confidence = '',
        voiceDb = '',
      ] = cells;
      const [before = '', after = ''] = context.split('_').map((side) => side.trim());
      return { clip, what, start, end, phone, between: [before, after], kind, confidence, voiceDb };
    })
    .sort((a, b) => (a.clip < b.clip ? -1 : a.clip > b.clip ? 1 : Number(a.start) - Number(b.start)));
}
