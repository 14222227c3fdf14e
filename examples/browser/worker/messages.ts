import type { Problem } from '../../../src/exchange/result.js';
import type { Chain } from '../../../src/forecast/chain.js';
import type { LevelTable } from '../../../src/levels/region-level.js';
import type { RegionKind, RegionList } from '../../../src/regions/region.js';
import type { Flag } from '../state/notes.js';
import type { SampleRange, TakeInfo } from '../state/page-state.js';

/** What the page asks the worker that holds the take. */
export type TakeRequest =
  | { readonly ask: 'open'; readonly source: File | 'built-in' }
  | { readonly ask: 'find'; readonly minConfidence: number }
  | { readonly ask: 'stop' }
  | { readonly ask: 'measure'; readonly list: RegionList }
  | {
      readonly ask: 'ahead';
      readonly list: RegionList;
      readonly chain: Chain;
      readonly kinds: readonly RegionKind[];
      readonly maxCutDb: number;
    }
  /** Looks for cuts that may have gone too far, by the levels that were measured last. */
  | { readonly ask: 'flags'; readonly list: RegionList }
  | { readonly ask: 'loudness'; readonly list: RegionList }
  /** The other singers, where the built-in take is open. */
  | { readonly ask: 'backing' }
  | { readonly ask: 'tame'; readonly list: RegionList }
  /** Sends a copy of the samples through the port, to whoever plays or draws them. */
  | { readonly ask: 'samples'; readonly port: MessagePort };

/** What it answers. */
export type TakeAnswer =
  | { readonly tell: 'opened'; readonly take: TakeInfo; readonly mono: Float32Array<ArrayBuffer> | null }
  | { readonly tell: 'refused'; readonly what: string; readonly problems: readonly Problem[] }
  | { readonly tell: 'progress'; readonly part: number }
  | { readonly tell: 'found'; readonly list: RegionList; readonly stopped: boolean; readonly seconds: number }
  | { readonly tell: 'backing'; readonly name: string; readonly samples: Float32Array<ArrayBuffer> }
  | { readonly tell: 'warnings'; readonly messages: readonly string[] }
  | { readonly tell: 'measured'; readonly levels: LevelTable }
  | { readonly tell: 'flags'; readonly flags: readonly Flag[] }
  | {
      readonly tell: 'decided';
      readonly from: RegionList;
      readonly list: RegionList;
      readonly unreached: number;
    }
  | { readonly tell: 'loudness'; readonly recordedLufs: number; readonly tamedLufs: number }
  | { readonly tell: 'tamed'; readonly wav: Blob; readonly overSamples: number };

/** A copy of the take's samples, as it goes through a port. */
export interface SamplesMessage {
  readonly channels: readonly Float32Array<ArrayBuffer>[];
  readonly sampleRateHz: number;
}

/** What the page asks the worker that draws. */
export interface PictureRequest {
  readonly view: SampleRange;
  /** Columns of the waveform. */
  readonly columns: number;
  /** Size of the spectrogram, in its own pixels. */
  readonly width: number;
  readonly height: number;
  readonly isDark: boolean;
}

/** What it answers: least and greatest sample of each column, and the spectrogram as an image. */
export interface PictureAnswer {
  readonly view: SampleRange;
  readonly least: Float32Array<ArrayBuffer>;
  readonly most: Float32Array<ArrayBuffer>;
  readonly image: ImageBitmap;
  readonly topFrequencyHz: number;
}
