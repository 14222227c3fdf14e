import { checkChoice, typeError } from '../signal/check.js';
import { checkEvents, type SoundEvent } from './sound-event.js';

/**
 * How a phone is made, as far as scoring needs it. Sibilants, fricatives and stops are the obstruents; an affricate
 * counts as a sibilant; vowels, nasals, glides, liquids and taps are sonorants.
 */
export type PhoneClass = 'sibilant' | 'fricative' | 'stop' | 'sonorant' | 'breath' | 'silence';

const PHONE_CLASSES: readonly PhoneClass[] = Object.freeze([
  'sibilant',
  'fricative',
  'stop',
  'sonorant',
  'breath',
  'silence',
] as const);

/** What scoring needs to know about a phone. */
export interface PhoneFacts {
  /** How it is made. */
  readonly phoneClass: PhoneClass;
  /** True where the voice sounds during the phone, as in z and v. */
  readonly voiced: boolean;
  /** True for t and k: the voiceless stops whose release is most often taken for a sibilant. */
  readonly tongueStop: boolean;
}

/** A labelled phone of a recording; `label` is the phone as its corpus writes it. */
export interface PhoneEvent extends SoundEvent, PhoneFacts {}

/**
 * True for sibilants, fricatives and stops.
 *
 * @example
 * import { isObstruent } from 'lenition/evaluation';
 * isObstruent({ phoneClass: 'stop', voiced: false, tongueStop: true }); // => true
 */
export function isObstruent(facts: PhoneFacts): boolean {
  return facts.phoneClass === 'sibilant' || facts.phoneClass === 'fricative' || facts.phoneClass === 'stop';
}

/** Throws unless each is a sound event of a known class. */
export function checkPhones(functionName: string, parameter: string, phones: readonly PhoneEvent[]): void {
  checkEvents(functionName, parameter, phones);
  phones.forEach(({ phoneClass, voiced, tongueStop }, i) => {
    checkChoice(functionName, `${parameter}[${i}].phoneClass`, phoneClass, PHONE_CLASSES);
    for (const [name, value] of Object.entries({ voiced, tongueStop }))
      if (typeof value !== 'boolean')
        throw typeError(functionName, `${parameter}[${i}].${name}`, 'must be a boolean', value);
  });
}
