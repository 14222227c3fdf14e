import { spawnSync } from 'node:child_process';

/** What the phonemiser writes, and what the synthesiser reads for it. */
const ENGLISH_LETTERS: readonly (readonly [string, string])[] = [
  ['eɪ', 'A'],
  ['aɪ', 'I'],
  ['aʊ', 'W'],
  ['ɔɪ', 'Y'],
  ['oʊ', 'O'],
  ['əʊ', 'Q'],
  ['dʒ', 'ʤ'],
  ['tʃ', 'ʧ'],
  ['ɜːɹ', 'ɜɹ'],
  ['ɜː', 'ɜɹ'],
  ['ɚ', 'əɹ'],
  ['ɐ', 'ə'],
  ['r', 'ɹ'],
  ['ʲ', ''],
  ['e', 'A'],
  ['\u0329', ''],
  ['ɬ', 'l'],
];
/** American English is written without marks of length. */
const AMERICAN_LETTERS = [...ENGLISH_LETTERS, ['ː', ''], ['o', 'ɔ']] as const;
const ITALIAN_LETTERS = [
  ['tʃ', 'ʧ'],
  ['dʒ', 'ʤ'],
  ['ts', 'ʦ'],
  ['dz', 'ʣ'],
] as const;

const LANGUAGES = {
  american: ['en-us', AMERICAN_LETTERS],
  british: ['en-gb', ENGLISH_LETTERS],
  italian: ['it', ITALIAN_LETTERS],
} as const;

/** A sentence in phones, as the Debian package `espeak-ng` has it. Throws where that is not installed. */
export function sentencePhones(sentence: string, language: keyof typeof LANGUAGES): string {
  const [name, letters] = LANGUAGES[language];
  const { stdout, error } = spawnSync('espeak-ng', ['-q', '--ipa', '-v', name, sentence], {
    encoding: 'utf8',
  });
  if (error) throw new Error(`espeak-ng cannot be run: ${error.message}`);
  let phones = stdout.trim().replaceAll('\n', ', ');
  for (const [from, to] of letters) phones = phones.replaceAll(from, to);
  return `${phones.replace(/\s+/g, ' ')}.`;
}

/** Romanised syllables that are not said as their letters are. */
const SYLLABLES: Readonly<Record<string, string>> = {
  shi: 'ɕi',
  sha: 'ɕa',
  shu: 'ɕɯ',
  sho: 'ɕo',
  chi: 'ʨi',
  cha: 'ʨa',
  chu: 'ʨɯ',
  cho: 'ʨo',
  tsu: 'ʦɨ',
  ji: 'ʥi',
  ja: 'ʥa',
  ju: 'ʥɯ',
  jo: 'ʥo',
  su: 'sɨ',
  zu: 'zɨ',
  fu: 'ɸɯ',
  hi: 'çi',
};
const LETTERS: Readonly<Record<string, string>> = {
  ...Object.fromEntries([...'aieokstnhmwzdbp'].map((letter) => [letter, letter])),
  u: 'ɯ',
  y: 'j',
  r: 'ɾ',
  g: 'ɡ',
};

/** A line of romanised Japanese in phones, with a short pause after the first thirty letters. */
export function japanesePhones(line: string): string {
  const words = line.split(' ').map(wordPhones).join(' ');
  return `${words.replace(/(.{30}\S*) /, '$1, ')}.`;
}

function wordPhones(word: string): string {
  let phones = '';
  for (let i = 0; i < word.length; ) {
    const size = [3, 2].find((letters) => word.slice(i, i + letters) in SYLLABLES) ?? 1;
    const letter = word[i] as string;
    if (size > 1) phones += SYLLABLES[word.slice(i, i + size)];
    else if (/[kstp]/.test(letter) && word[i + 1] === letter) phones += 'ʔ';
    else if (letter === 'n' && !/[aiueoy]/.test(word[i + 1] ?? '')) phones += 'ɴ';
    else phones += LETTERS[letter] ?? '';
    i += size;
  }
  return phones;
}
