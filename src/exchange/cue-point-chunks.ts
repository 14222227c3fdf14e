/** One point of a `cue ` chunk. Every number is an unsigned 32-bit integer. */
export interface CuePoint {
  /** Name of the point: a number of its own within the file; here the id of the region. */
  readonly dwName: number;
  /** Sample position in play order; without a play list the same as `dwSampleOffset`. */
  readonly dwPosition: number;
  /** The chunk that holds the point. */
  readonly fccChunk: string;
  /** Start of that chunk; 0 unless the file keeps its samples in a `wavl` list. */
  readonly dwChunkStart: number;
  /** Start of the block that holds the point; 0 for uncompressed samples. */
  readonly dwBlockStart: number;
  /** Sample position from the start of the block, so of the clip: the same for all channels. */
  readonly dwSampleOffset: number;
}

/** A `cue ` chunk. */
export interface CueChunk {
  /** Its four letters. */
  readonly chunkId: 'cue ';
  /** Bytes after the chunk's own header. */
  readonly chunkSize: number;
  /** How many points there are. */
  readonly dwCuePoints: number;
  /** The points in order of time. */
  readonly points: readonly CuePoint[];
}

/** A `labl` chunk: the text of one cue point. */
export interface CueText {
  /** Its four letters. */
  readonly chunkId: 'labl';
  /** Bytes after the chunk's own header: 4, the text, and the zero that ends it. */
  readonly chunkSize: number;
  /** Name of the cue point. */
  readonly dwName: number;
  /** Printable ASCII. */
  readonly value: string;
}

/** An `ltxt` chunk: the length of one cue point, without a text of its own. */
export interface CueLength {
  /** Its four letters. */
  readonly chunkId: 'ltxt';
  /** Bytes after the chunk's own header: 20. */
  readonly chunkSize: number;
  /** Name of the cue point. */
  readonly dwName: number;
  /** Length in samples, at least 1. */
  readonly dwSampleLength: number;
  /** What the length is for: CUE_REGION_PURPOSE. */
  readonly dwPurposeID: number;
  /** Country code: 0, none. */
  readonly dwCountry: number;
  /** Language code: 0, none. */
  readonly dwLanguage: number;
  /** Dialect code: 0, none. */
  readonly dwDialect: number;
  /** Code page: 0, none. */
  readonly dwCodePage: number;
  /** Empty: the text stands in `labl`. */
  readonly value: string;
}

/** A `LIST` chunk of the kind `adtl`: texts and lengths of cue points. */
export interface CueTextList {
  /** Its four letters. */
  readonly chunkId: 'LIST';
  /** Bytes after the chunk's own header, pad bytes of the chunks inside included. */
  readonly chunkSize: number;
  /** The kind of list. */
  readonly format: 'adtl';
  /** A `labl` and an `ltxt` for each point. */
  readonly subChunks: readonly (CueText | CueLength)[];
}

/** Cue points with labels and lengths, shaped like the fields `cue` and `LIST` of a WaveFile of the package `wavefile`. */
export interface CuePointChunks {
  /** Where the regions start. */
  readonly cue: CueChunk;
  /** One `adtl` list with their texts and lengths; no list where there is no region. */
  readonly LIST: readonly CueTextList[];
}

/** The letters "rgn " as a number, first letter lowest: the usual purpose of a length that marks a region (from memory). */
export const CUE_REGION_PURPOSE = 0x206e6772;

/** The largest number that these chunks can hold. */
export const MOST_IN_32_BITS: number = 2 ** 32 - 1;
