import { checkNumber } from '../signal/check.js';
import { checkPhones, type PhoneEvent } from './phone-event.js';
import { checkEvents, type SoundEvent, sharedSeconds, TIME_SLACK_SECONDS } from './sound-event.js';
import { joinedSpans } from './time-spans.js';

/**
 * Seconds of vowels, nasals and glides that lie inside regions, summed over every place where a region reaches further
 * into an unbroken run of them than `reachSeconds`; there the whole overlap counts, not only what exceeds the reach.
 *
 * `regions` should not overlap one another, or the shared part counts twice. `reachSeconds`: 0 or more, 0.02 by default. Throws a
 * RangeError or TypeError for events out of order or without a label.
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { voicedCutSeconds } from 'lenition/evaluation';
 * const vowel = { startSeconds: 1, endSeconds: 2, label: 'a', phoneClass: 'sonorant', voiced: true, tongueStop: false };
 * voicedCutSeconds([vowel], [{ startSeconds: 0.5, endSeconds: 1.25, label: 'sibilant' }]); // => 0.25
 */
export function voicedCutSeconds(
  phones: readonly PhoneEvent[],
  regions: readonly SoundEvent[],
  reachSeconds: number = 0.02,
): number {
  checkPhones('voicedCutSeconds', 'phones', phones);
  checkEvents('voicedCutSeconds', 'regions', regions);
  checkNumber('voicedCutSeconds', 'reachSeconds', reachSeconds, 0);
  const runs = joinedSpans(phones.filter((phone) => phone.phoneClass === 'sonorant'));
  let sum = 0;
  for (const region of regions)
    for (const run of runs) {
      const overlap = sharedSeconds(region, run);
      if (overlap > reachSeconds + TIME_SLACK_SECONDS) sum += overlap;
    }
  return sum;
}
