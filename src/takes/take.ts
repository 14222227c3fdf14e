import type { RegionList } from '../regions/region.js';
import type { Channels } from '../signal/samples.js';

/** Name or number of a take, unique in its stack. */
export type TakeId = string | number;

/** One recording of a stack, on the time line that all takes of the stack share. */
export interface Take {
  /** Name or number, unique in the stack. */
  readonly id: TakeId;
  /** One channel or several of equal length. */
  readonly channels: Channels;
  /** Its regions; positions count from the take's own first sample. */
  readonly list: RegionList;
  /** Where the take's first sample lies on the common time line, in samples; may be negative. */
  readonly offsetSamples: number;
  /** Fader of the take, in dB, LEAST_GAIN_DB to MOST_GAIN_DB; the gains of its regions come on top. */
  readonly gainDb: number;
}

/** Which take leads. */
export interface LeadOption {
  /** The take that carries the words. Default: the first of the stack. */
  readonly leadId?: TakeId;
}
