import type { PhoneFacts } from '../../src/evaluation/phone-event.js';

/**
 * How a corpus writes its phones. `latin` serves ARPAbet in either case (stress digits ignored) and romanised Japanese,
 * which do not contradict each other; `ipa` differs in j (a glide) and in its own letters; in `composite` v is a vowel.
 */
export type Alphabet = 'latin' | 'ipa' | 'composite';

/** The alphabets by name. */
export const ALPHABETS: readonly Alphabet[] = ['latin', 'ipa', 'composite'];

const words = (text: string): string[] => text.split(/\s+/);

const SHARED = {
  voicelessSibilant: words('s sh ch ts'),
  voicedSibilant: words('z zh jh dz'),
  voicelessFricative: words('f th h hh'),
  voicedFricative: words('v dh'),
  tongueStop: words('t k'),
  otherVoicelessStop: words('p'),
  voicedStop: words('b d g'),
  breath: words('br ap breath'),
  silence: words('sil pau cl sp spn pause'),
};

const LATIN = {
  ...SHARED,
  // ky and py are palatal stops whose release is long and hissing: obstruents, but not the plain t and k that are counted.
  voicedSibilant: [...SHARED.voicedSibilant, ...words('j')],
  voicelessFricative: [...SHARED.voicelessFricative, ...words('hy fy')],
  otherVoicelessStop: [...SHARED.otherVoicelessStop, ...words('ky py ty q')],
  voicedStop: [...SHARED.voicedStop, ...words('by dy gy')],
  voicedFricative: [...SHARED.voicedFricative, ...words('vy')],
};

const IPA = {
  ...SHARED,
  voicelessSibilant: words('s ʃ ɕ ʂ ts tʃ tɕ ʦ ʧ ʨ'),
  voicedSibilant: words('z ʒ ʑ ʐ dz dʒ dʑ ʣ ʤ ʥ'),
  voicelessFricative: words('f θ h x ç ɸ χ ħ'),
  voicedFricative: words('v ð ɦ ɣ β ʁ ʝ'),
  tongueStop: words('t k tʰ kʰ ʈ'),
  otherVoicelessStop: words('p pʰ c q'),
  voicedStop: words('b d g ɡ ɖ ɟ'),
};

const COMPOSITE = { ...SHARED, voicedFricative: words('dh') };

const TABLES: Record<Alphabet, ReadonlyMap<string, PhoneFacts>> = {
  latin: table(LATIN),
  ipa: table(IPA),
  composite: table(COMPOSITE),
};

/** What a phone is. Whatever is not named as an obstruent, a breath or silence is a sonorant: vowels have too many spellings to list. */
export function phoneFacts(phone: string, alphabet: Alphabet): PhoneFacts {
  const known = TABLES[alphabet].get(plain(phone, alphabet));
  return known ?? { phoneClass: 'sonorant', voiced: true, tongueStop: false };
}

function plain(phone: string, alphabet: Alphabet): string {
  // Length and stress say nothing about the class; the tie bar of an affricate neither.
  if (alphabet === 'ipa') return phone.trim().replace(/ː|ˑ|ˈ|ˌ|\u0361|\u035C/g, '');
  return phone
    .trim()
    .toLowerCase()
    .replace(/[0-2]$/, '');
}

function table(lists: Record<keyof typeof SHARED, readonly string[]>): ReadonlyMap<string, PhoneFacts> {
  const facts = new Map<string, PhoneFacts>();
  const add = (phones: readonly string[], phoneClass: PhoneFacts['phoneClass'], voiced: boolean): void => {
    for (const phone of phones) facts.set(phone, { phoneClass, voiced, tongueStop: false });
  };
  add(lists.voicelessSibilant, 'sibilant', false);
  add(lists.voicedSibilant, 'sibilant', true);
  add(lists.voicelessFricative, 'fricative', false);
  add(lists.voicedFricative, 'fricative', true);
  add(lists.otherVoicelessStop, 'stop', false);
  add(lists.voicedStop, 'stop', true);
  add(lists.breath, 'breath', false);
  add(lists.silence, 'silence', false);
  for (const phone of lists.tongueStop)
    facts.set(phone, { phoneClass: 'stop', voiced: false, tongueStop: true });
  return facts;
}
