import type { SpokenVoice } from './spoken-voices.js';

/** ISO 8859-2 where it differs from ISO 8859-1, as far as the sentences need it. */
const LATIN2: ReadonlyMap<string, number> = new Map([
  ['Š', 0xa9],
  ['š', 0xb9],
  ['Ť', 0xab],
  ['ť', 0xbb],
  ['Ž', 0xae],
  ['ž', 0xbe],
  ['č', 0xe8],
  ['Č', 0xc8],
  ['ě', 0xec],
  ['ň', 0xf2],
  ['ř', 0xf8],
  ['ů', 0xf9],
]);

/** Text as the bytes that a voice reads. Node knows no ISO 8859-2. */
export function encodeText(text: string, encoding: SpokenVoice['encoding']): Buffer {
  if (encoding !== 'latin2') return Buffer.from(text, encoding);
  return Buffer.from([...text].map((letter) => LATIN2.get(letter) ?? letter.charCodeAt(0) & 0xff));
}
