/** A stretch of the common time line, in samples. */
export interface Span {
  readonly startSample: number;
  readonly endSample: number;
}

/** How far apart two stretches are: the mean of the distance of their starts and that of their ends, in samples. */
export function spanDistance(a: Span, b: Span): number {
  return (Math.abs(a.startSample - b.startSample) + Math.abs(a.endSample - b.endSample)) / 2;
}

/** By middle, then by start: twice the middle is an integer, so nothing is rounded. */
export function compareSpans(a: Span, b: Span): number {
  return a.startSample + a.endSample - (b.startSample + b.endSample) || a.startSample - b.startSample;
}

/** Median start and median end. One late singer does not move them. */
export function medianSpan(spans: readonly Span[]): Span {
  return {
    startSample: median(spans.map(({ startSample }) => startSample)),
    endSample: median(spans.map(({ endSample }) => endSample)),
  };
}

function median(values: number[]): number {
  values.sort((a, b) => a - b);
  const middle = values.length >> 1;
  const upper = values[middle] as number;
  return values.length % 2 === 1 ? upper : ((values[middle - 1] as number) + upper) / 2;
}
