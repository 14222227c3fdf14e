/** A recorded letter or syllable as its collection has it: how it is written, and in which language (a code such as `de`, or `zh`). */
export interface SpelledName {
  readonly written: string;
  readonly language: string;
  readonly isSyllable: boolean;
}

/** Any run of vowels, nasals and l: nothing in it is looked for. */
const VOICE = 'a';

/** Languages whose names of s and f begin and end with a vowel: esse, ese. */
const VOWEL_AT_BOTH_ENDS = new Set(['es', 'it', 'pt_BR']);
/** Here c is said with the tongue between the teeth, neither s nor f. */
const LISPED_C = new Set(['es']);
/** Here s before a vowel is a z. */
const VOICED_S = new Set(['de', 'nds']);

const LETTERS: Readonly<Record<string, readonly string[]>> = {
  p: ['p', VOICE],
  t: ['t', VOICE],
  k: ['k', VOICE],
  q: ['k', VOICE],
};

/** English has letters of its own making, and syllables that are not said as they are written. */
const ENGLISH: Readonly<Record<string, readonly string[] | null>> = {
  ...Object.fromEntries([...'ryaeioulmn'].map((letter) => [letter, [VOICE]])),
  ...LETTERS,
  c: ['s', VOICE],
  s: [VOICE, 's'],
  f: [VOICE, 'f'],
  ...Object.fromEntries('me my no ear or arm well aw'.split(' ').map((word) => [word, [VOICE]])),
  saw: ['s', VOICE],
  say: ['s', VOICE],
  key: ['k', VOICE],
  car: ['k', VOICE],
};

const CYRILLIC: Readonly<Record<string, string>> = {
  ...{ а: 'a', о: 'o', у: 'u', э: 'e', и: 'i', і: 'i', ы: 'y', л: 'l', м: 'm', н: 'n' },
  ...{ п: 'p', т: 't', к: 'k', ф: 'f', с: 's', з: 'z', ш: 'ʃ', ж: 'ʒ', ч: 'c', ц: 'ц' },
};

/** Onsets of syllables by the one letter that stands for them here. */
const ONSETS: Readonly<Record<string, string>> = {
  ...{ p: 'p', t: 't', k: 'k', f: 'f', s: 's', z: 'z', ʃ: 'sh', ʒ: 'zh', c: 'ch', ц: 'ts' },
};

/** Of the letters for sounds that Mandarin syllables begin with; what is not here is a vowel, null is in doubt. */
const BOPOMOFO: Readonly<Record<string, string | null>> = {
  ...{
    ㄅ: null,
    ㄉ: null,
    ㄍ: null,
    ㄆ: 'p',
    ㄊ: 't',
    ㄎ: 'k',
    ㄇ: '',
    ㄋ: '',
    ㄌ: '',
    ㄈ: 'f',
    ㄏ: null,
    ㄖ: null,
  },
  ...{ ㄐ: 'ch', ㄑ: 'ch', ㄒ: 'sh', ㄓ: 'ch', ㄔ: 'ch', ㄕ: 'sh', ㄗ: 'ts', ㄘ: 'ts', ㄙ: 's' },
};
/** Initials that are no syllable without a vowel. */
const BARE = /^[ㄅㄆㄇㄈㄉㄊㄋㄌㄍㄎㄐㄑㄒ]$/;

/**
 * The sounds of a letter's name or of a syllable, in the spelling of bench/lib/phone-map.ts: one `a` for any run of vowels,
 * nasals and l, and the obstruent before, between or behind. Null where the sound is in doubt, or has an r, an h or a glide in it, which
 * are noise in one mouth and voice in another, or a b, d or g, whose release is as weak as a first pulse of voice.
 */
export function spelledPhones({ written, language, isSyllable }: SpelledName): readonly string[] | null {
  const name = written.toLowerCase();
  if (language === 'zh') return mandarin(name);
  if (language.startsWith('en')) return ENGLISH[name] ?? null;
  const latin = latinName(name, language);
  if (latin === null) return null;
  return isSyllable ? syllable(latin, language) : letter(latin, language);
}

function letter(name: string, language: string): readonly string[] | null {
  if (/^[aeiouæølmn]$/.test(name)) return [VOICE];
  const around = VOWEL_AT_BOTH_ENDS.has(language) ? [VOICE] : [];
  if (name === 's' || name === 'f') return [VOICE, name, ...around];
  // In Cyrillic c stands for an affricate here, whose letter has a name of its own.
  if (name === 'c' && !LISPED_C.has(language) && !isCyrillic(language)) return ['s', VOICE];
  return LETTERS[name] ?? null;
}

function syllable(name: string, language: string): readonly string[] | null {
  const [, onset = '', vowels = ''] = /^(\D?)([aeiouyæøå]+)[lmn]*$/.exec(name) ?? [];
  if (vowels === '' || /^[aeiouyæøå]$/.test(onset)) return null;
  if (onset === '' || 'lmn'.includes(onset)) return [VOICE];
  const front = /^[eiy]/.test(vowels);
  if (onset === 'c' && !isCyrillic(language)) {
    if (!front) return ['k', VOICE];
    // A ch here, an s or ts there: a sibilant without voice in all of them.
    return LISPED_C.has(language) ? null : ['ch', VOICE];
  }
  // Before i they may be affricates, and s a sh.
  if ('tk'.includes(onset) && front && vowels !== 'e') return null;
  if (onset === 's') return [VOICED_S.has(language) ? 'z' : 's', VOICE];
  const sound = ONSETS[onset];
  return sound === undefined || (onset === 'z' && !isCyrillic(language)) ? null : [sound, VOICE];
}

function mandarin(name: string): readonly string[] | null {
  const plain = name.replace(/[^ㄅ-ㄩ]/g, '');
  if (plain === '' || BARE.test(plain)) return null;
  const initial = BOPOMOFO[plain.charAt(0)];
  if (initial === null) return null;
  return initial === undefined || initial === '' ? [VOICE] : [initial, VOICE];
}

const isCyrillic = (language: string): boolean => language === 'ru' || language === 'uk';

/** In Latin letters without accents; null where a letter has a mark that makes another sound of it. */
function latinName(name: string, language: string): string | null {
  const letters = isCyrillic(language) ? [...name].map((each) => CYRILLIC[each] ?? '?').join('') : name;
  const plain = letters.normalize('NFD').replace(/\p{M}/gu, '');
  // An accent on a consonant makes another one of it; Lithuanian vowels with a tail are spelled with a word.
  const isOther = /[bcdfghjklmnpqrstvwxz]\p{M}/u.test(letters.normalize('NFD'));
  return isOther || /[^a-zæøåʃʒц]/.test(plain) || (language === 'lt' && plain !== letters) ? null : plain;
}
