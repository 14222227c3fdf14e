import { japanesePhones, sentencePhones } from './line-phones.js';
import { ENGLISH, ITALIAN, JAPANESE } from './sentences.js';

/** Fifty-four voices by the synthesiser's names: the first letter is the language, the second f or m. */
export const NEURAL_VOICES: readonly string[] = [
  ...names('af', 'alloy aoede bella heart jessica kore nicole nova river sarah sky'),
  ...names('am', 'adam echo eric fenrir liam michael onyx puck santa'),
  ...names('bf', 'alice emma isabella lily'),
  ...names('bm', 'daniel fable george lewis'),
  ...names('ef', 'dora'),
  ...names('em', 'alex santa'),
  ...names('ff', 'siwis'),
  ...names('hf', 'alpha beta'),
  ...names('hm', 'omega psi'),
  ...names('if', 'sara'),
  ...names('im', 'nicola'),
  ...names('jf', 'alpha gongitsune nezumi tebukuro'),
  ...names('jm', 'kumo'),
  ...names('pf', 'dora'),
  ...names('pm', 'alex santa'),
  ...names('zf', 'xiaobei xiaoni xiaoxiao xiaoyi'),
  ...names('zm', 'yunjian yunxi yunxia yunyang'),
];

const LINES_PER_VOICE = 5;

const american = (sentence: string): string => sentencePhones(sentence, 'american');
const british = (sentence: string): string => sentencePhones(sentence, 'british');
const italian = (sentence: string): string => sentencePhones(sentence, 'italian');

type Reading = readonly [count: number, sentences: readonly string[], phones: (text: string) => string];

/** What a voice of a language reads: its own language where we have sentences of it, and how many of each. */
const READINGS: ReadonlyMap<string, readonly Reading[]> = new Map<string, readonly Reading[]>([
  ['a', [[LINES_PER_VOICE, ENGLISH, american]]],
  ['b', [[LINES_PER_VOICE, ENGLISH, british]]],
  ['h', [[LINES_PER_VOICE, ENGLISH, american]]],
  ['i', [[LINES_PER_VOICE, ITALIAN, italian]]],
  ['j', [[LINES_PER_VOICE, JAPANESE, japanesePhones]]],
  [
    'z',
    [
      [3, JAPANESE, japanesePhones],
      [2, ENGLISH, american],
    ],
  ],
]);
const OTHER_READINGS: readonly Reading[] = [
  [3, ITALIAN, italian],
  [2, ENGLISH, american],
];

const FOLDERS: ReadonlyMap<string, string> = new Map([
  ['a', 'neural_en_us'],
  ['b', 'neural_en_gb'],
  ['j', 'neural_ja'],
  ['z', 'neural_zh'],
]);

/** The folder of a voice: one a language, and one for the languages of a few voices (Spanish, French, Hindi, Italian, Portuguese). */
export function neuralFolder(voice: string): string {
  return FOLDERS.get(voice.slice(0, 1)) ?? 'neural_others';
}

/** Five lines in phones for one of NEURAL_VOICES, others for each voice. */
export function neuralLines(voice: string): readonly string[] {
  const place = NEURAL_VOICES.indexOf(voice) + 1;
  const readings = READINGS.get(voice.slice(0, 1)) ?? OTHER_READINGS;
  return readings.flatMap(([count, sentences, phones], k) =>
    Array.from({ length: count }, (_, i) =>
      phones(sentences[(5 * place + 7 * i + 3 * k) % sentences.length] as string),
    ),
  );
}

function names(prefix: string, list: string): readonly string[] {
  return list.split(' ').map((name) => `${prefix}_${name}`);
}
