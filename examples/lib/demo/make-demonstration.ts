import type { Samples } from '../../../src/signal/samples.js';
import { SINGERS } from './singers.js';
import { TITLE, WORDS } from './song.js';
import { renderTake } from './take.js';
import { type TruthEntry, truthOf } from './truth.js';

/** One recording of the demonstration, with its truth. */
export interface DemonstrationTake {
  readonly name: string;
  readonly role: 'lead' | 'harmony';
  readonly samples: Samples;
  readonly truth: readonly TruthEntry[];
}

/** A stack of takes of one song, the lead first; all are equally long. */
export interface Demonstration {
  readonly sampleRateHz: number;
  readonly title: string;
  readonly words: string;
  readonly takes: readonly DemonstrationTake[];
}

/**
 * Sings an invented song: a lead with harsh and soft esses, and three harmonies that say each of them a little early or
 * late. The same call gives the same samples every time.
 *
 * @param options.sampleRateHz 8,000 to 192,000 Hz; 48,000 unless stated.
 */
export function makeDemonstration(options: { readonly sampleRateHz?: number } = {}): Demonstration {
  const { sampleRateHz = 48_000 } = options;
  const takes = SINGERS.map((singer) => {
    const { samples, phones } = renderTake(singer, sampleRateHz);
    return { name: singer.name, role: singer.role, samples, truth: truthOf(phones) };
  });
  return { sampleRateHz, title: TITLE, words: WORDS, takes };
}
