import { UNIT_SECONDS } from './neural-model.js';

/**
 * The synthesiser's sound comes this much before its durations say: where brightness and the labels of sibilants agreed best,
 * over 294 lines of 54 voices.
 */
export const LEAD_SECONDS = 0.053;

/**
 * Phones in the letters of bench/lib/phone-map.ts: one sign of the phonetic alphabet in a folder would have all of it read as that
 * alphabet, where sh is no sibilant.
 */
const SPELLINGS: Readonly<Record<string, string>> = {
  ʃ: 'sh',
  ɕ: 'sh',
  ʒ: 'zh',
  ʧ: 'ch',
  ʨ: 'ch',
  ʤ: 'jh',
  ʥ: 'jh',
  ʦ: 'ts',
  ʣ: 'dz',
  θ: 'th',
  ð: 'dh',
  h: 'hh',
  x: 'hh',
  ç: 'hy',
  ɸ: 'f',
  β: 'v',
  ɡ: 'g',
  j: 'yy',
  ɾ: 'dx',
  T: 'dx',
  ɹ: 'r',
  ʔ: 'sil',
  A: 'ey',
  I: 'ay',
  O: 'ow',
  Q: 'ow',
  W: 'aw',
  Y: 'oy',
};
/** What has no spelling of its own is a vowel, or as good as one: a nasal. */
const LATIN = /^[a-z]$/;
const SONORANT = 'ah';

const PAUSES = new Set([...'$,.;:!?']);
const BELONGS_TO_LAST = new Set([...'ːʰ']);
/** Marks that take time but are no sound: half goes to the phone before, half to the one after. */
const BETWEEN = new Set([...' ˈˌ']);

/** A label: start and end in seconds, and the phone. */
export type PhoneLabel = [start: number, end: number, phone: string];

/** What is said when: tokens and their durations as labels without gaps. */
export function tokenLabels(tokens: readonly string[], durations: ArrayLike<number>): PhoneLabel[] {
  const labels: PhoneLabel[] = [];
  let at = 0;
  let begun: number | null = null;
  tokens.forEach((token, i) => {
    const start = at;
    at += UNIT_SECONDS * (durations[i] as number);
    const last = labels.at(-1);
    if (BELONGS_TO_LAST.has(token)) {
      if (last) last[1] = at;
    } else if (BETWEEN.has(token)) {
      begun = last?.[2] === 'sil' ? at : (start + at) / 2;
      if (last) last[1] = begun;
    } else {
      const phone = PAUSES.has(token) ? 'sil' : phoneOf(token);
      if (phone === 'sil' && last?.[2] === 'sil') last[1] = at;
      else labels.push([begun ?? start, at, phone]);
      begun = null;
    }
  });
  return labels.map(([start, end, phone], i) => [
    earlier(start, i === 0),
    earlier(end, i === labels.length - 1),
    phone,
  ]);
}

function phoneOf(token: string): string {
  return SPELLINGS[token] ?? (LATIN.test(token) ? token : SONORANT);
}

/** The ends of the file stay where they are. */
function earlier(seconds: number, isEnd: boolean): number {
  return isEnd ? seconds : Math.max(0, seconds - LEAD_SECONDS);
}
