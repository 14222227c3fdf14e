import type { SpokenVoice } from './spoken-voices.js';

/** Spellings of obstruents and pauses that differ from those of bench/lib/phone-map.ts. */
const GENERAL: ReadonlyMap<string, string> = new Map([
  ['#', 'sil'],
  ['_', 'sil'],
  ['S', 'sh'],
  ['Z', 'zh'],
  ['tS', 'ch'],
  ['dZ', 'jh'],
  // A glide and a palatal n, not the sounds that romanised Japanese writes so.
  ['j', 'y'],
  ['J', 'n'],
]);

const CZECH: ReadonlyMap<string, string> = new Map([
  ...GENERAL,
  ['c', 'ts'],
  ['s~', 'sh'],
  ['z~', 'zh'],
  ['c~', 'ch'],
  ['t~', 't'],
  ['d~', 'd'],
  // Written ch, said far back in the mouth: a fricative, no affricate.
  ['ch', 'hh'],
]);

/** Doubled letters are softened consonants. */
const RUSSIAN: ReadonlyMap<string, string> = new Map([
  ...GENERAL,
  ['c', 'ts'],
  ['sch', 'sh'],
  ...['s', 'z', 't', 'd', 'f', 'v', 'p', 'b', 'k', 'g', 'm', 'n', 'l', 'r'].map(
    (letter) => [letter + letter, letter] as const,
  ),
]);

/** A trill with the hiss of a zh in it: nobody could say which of the two a frame is. */
const NEITHER = new Set(['r~']);

/** A synthesiser's phone in the spelling of bench/lib/phone-map.ts; null where it is two sounds at once. */
export function spokenPhone(phone: string, alphabet: SpokenVoice['alphabet']): string | null {
  if (alphabet === 'czech' && NEITHER.has(phone)) return null;
  const table = alphabet === 'czech' ? CZECH : alphabet === 'russian' ? RUSSIAN : GENERAL;
  // A colon is length.
  const plain = phone.replace(/:$/, '');
  return table.get(plain) ?? plain;
}
