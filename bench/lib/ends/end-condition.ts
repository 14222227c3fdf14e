import type { Random } from '../../train/random.js';
import type { LabelledClip } from '../corpus.js';

/** A way in which a recording can be at the edge of what the detector was made for. */
export interface EndCondition {
  readonly name: string;
  /** What was done to the clips, for the page. */
  readonly made: string;
  /** What a user can do, for the page. */
  readonly advice: string;
  /** True: the clips of a folder are joined to one recording first. */
  readonly joined?: boolean;
  /** The clip as it is under this condition. The same random numbers give the same clip. */
  readonly change: (clip: LabelledClip, random: Random) => LabelledClip;
}
