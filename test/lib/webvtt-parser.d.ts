/** As much of the WebVTT parser and validator as the tests use; the package comes without types. */
declare module 'webvtt-parser' {
  interface Node {
    readonly type: 'text' | 'object' | 'timestamp';
    readonly value?: string;
  }
  interface Cue {
    readonly id: string;
    /** Seconds. */
    readonly startTime: number;
    readonly endTime: number;
    readonly text: string;
    readonly tree: { readonly children: readonly Node[] };
  }
  interface Parsed {
    readonly cues: readonly Cue[];
    readonly errors: readonly { readonly message: string; readonly line: number }[];
  }
  class WebVTTParser {
    constructor(entities?: Readonly<Record<string, string>>);
    parse(input: string, mode: 'metadata' | 'subtitles' | 'chapters'): Parsed;
  }
  const parser: { readonly WebVTTParser: typeof WebVTTParser };
  export default parser;
}
