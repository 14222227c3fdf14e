import { checkNumber, checkObject } from '../signal/check.js';
import { checkPhones, isObstruent, type PhoneEvent } from './phone-event.js';
import { checkEvents, type SoundEvent, TIME_SLACK_SECONDS } from './sound-event.js';
import { joinedSpans, secondsWithin } from './time-spans.js';

/** What a region in the wrong place lies on. Time without any label counts as silence. */
export type Misplacement = 'sonorant' | 'silence' | 'breath';

/**
 * Says whether a region lies in the wrong place: null where at least `leastOnObstruent` of its length is on obstruent
 * labels widened by `obstruentMarginSeconds`; else the class of sound that covers most of it (unwidened labels;
 * of equal shares sonorant before breath before silence, the worse mistake first).
 *
 * @throws TypeError or RangeError for arguments that are not as stated
 * @example
 * import { misplacement } from 'lenition/evaluation';
 * const vowel = { startSeconds: 0, endSeconds: 1, label: 'a', phoneClass: 'sonorant', voiced: true, tongueStop: false };
 * const rules = { obstruentMarginSeconds: 0.02, leastOnObstruent: 0.3 };
 * misplacement({ startSeconds: 0.2, endSeconds: 0.3, label: 'sibilant' }, [vowel], [], rules); // => 'sonorant'
 */
export function misplacement(
  region: SoundEvent,
  phones: readonly PhoneEvent[],
  obstruents: readonly PhoneEvent[],
  rules: { readonly obstruentMarginSeconds: number; readonly leastOnObstruent: number },
): Misplacement | null {
  checkEvents('misplacement', 'region', [region]);
  checkPhones('misplacement', 'phones', phones);
  checkPhones('misplacement', 'obstruents', obstruents);
  checkObject('misplacement', 'rules', rules);
  checkNumber('misplacement', 'rules.obstruentMarginSeconds', rules.obstruentMarginSeconds, 0);
  checkNumber('misplacement', 'rules.leastOnObstruent', rules.leastOnObstruent, 0, 1);
  return misplacedOn(region, phones, obstruents, rules);
}

/** The same, unchecked: for every region of a clip. */
export function misplacedOn(
  region: SoundEvent,
  phones: readonly PhoneEvent[],
  obstruents: readonly PhoneEvent[],
  rules: { readonly obstruentMarginSeconds: number; readonly leastOnObstruent: number },
): Misplacement | null {
  const length = region.endSeconds - region.startSeconds;
  const near = obstruents.filter((phone) => touches(region, phone, rules.obstruentMarginSeconds));
  const onObstruent = secondsWithin(region, joinedSpans(near, rules.obstruentMarginSeconds));
  if (onObstruent + TIME_SLACK_SECONDS >= rules.leastOnObstruent * length) return null;
  const under = phones.filter((phone) => touches(region, phone, 0) && !isObstruent(phone));
  const on = (phoneClass: string): number =>
    secondsWithin(region, joinedSpans(under.filter((phone) => phone.phoneClass === phoneClass)));
  const sonorant = on('sonorant');
  const breath = on('breath');
  const labelled = secondsWithin(
    region,
    joinedSpans(phones.filter((phone) => touches(region, phone, 0) && phone.phoneClass !== 'silence')),
  );
  const silence = length - labelled;
  if (sonorant >= breath && sonorant >= silence) return 'sonorant';
  return breath >= silence ? 'breath' : 'silence';
}

function touches(region: SoundEvent, phone: PhoneEvent, margin: number): boolean {
  return phone.endSeconds + margin > region.startSeconds && phone.startSeconds - margin < region.endSeconds;
}
