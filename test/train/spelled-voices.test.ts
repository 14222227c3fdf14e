import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import { createRandom } from '../../bench/train/random.js';
import { labelSpelled } from '../../bench/voices/label-spelled.js';
import { spelledPhones } from '../../bench/voices/spelled-phones.js';
import { spelledRecordings } from '../../bench/voices/spelled-recordings.js';

const letter = (written: string, language: string): string | undefined =>
  spelledPhones({ written, language, isSyllable: false })?.join(' ');
const syllable = (written: string, language: string): string | undefined =>
  spelledPhones({ written, language, isSyllable: true })?.join(' ');

// How letters are called and syllables said is common knowledge of these languages, from memory.
describe('spelledPhones', () => {
  it('knows the names of letters', () => {
    expect(letter('E', 'de')).toBe('a');
    expect(letter('Ü', 'de')).toBe('a');
    expect(letter('M', 'hu')).toBe('a');
    expect(letter('T', 'nl')).toBe('t a');
    expect(letter('Q', 'nds')).toBe('k a');
    expect(letter('S', 'fr')).toBe('a s');
    expect(letter('S', 'it')).toBe('a s a');
    expect(letter('F', 'pt_BR')).toBe('a f a');
    expect(letter('C', 'fr')).toBe('s a');
    expect(letter('С', 'ru')).toBe('a s');
    expect(letter('К', 'uk')).toBe('k a');
  });

  it('knows English letters by their own names', () => {
    expect(letter('R', 'en')).toBe('a');
    expect(letter('Y', 'en_GB')).toBe('a');
    expect(letter('C', 'en')).toBe('s a');
    expect(syllable('SAW', 'en')).toBe('s a');
    expect(syllable('SKY', 'en')).toBeUndefined();
  });

  it('knows syllables', () => {
    expect(syllable('LOM', 'cs')).toBe('a');
    expect(syllable('CU', 'es')).toBe('k a');
    expect(syllable('CI', 'it')).toBe('ch a');
    expect(syllable('SE', 'de')).toBe('z a');
    expect(syllable('ЧА', 'ru')).toBe('ch a');
    expect(syllable('ЦО', 'uk')).toBe('ts a');
  });

  it('knows Mandarin by its letters for sounds', () => {
    expect(syllable('ㄇㄚ3', 'zh')).toBe('a');
    expect(syllable('ㄧㄤ', 'zh')).toBe('a');
    expect(syllable('ㄊㄚ', 'zh')).toBe('t a');
    expect(syllable('ㄕ', 'zh')).toBe('sh a');
    expect(syllable('ㄘㄞ', 'zh')).toBe('ts a');
  });

  it('leaves out what is in doubt', () => {
    for (const written of ['R', 'H', 'X', 'B', 'Š', 'G', 'W']) expect(letter(written, 'cs')).toBeUndefined();
    expect(letter('C', 'es')).toBeUndefined();
    expect(letter('Ą', 'lt')).toBeUndefined();
    expect(letter('Я', 'ru')).toBeUndefined();
    for (const written of ['TI', 'KI', 'CE', 'RA', 'HA', 'BA', 'STA'])
      expect(syllable(written, 'es')).toBeUndefined();
    for (const written of ['ㄏㄚ', 'ㄖㄨ', 'ㄅㄚ', 'ㄊ', '']) expect(syllable(written, 'zh')).toBeUndefined();
  });

  it('gives only phones that the map of phones knows as what they are', () => {
    expect(phoneFacts('ch', 'latin')).toMatchObject({ phoneClass: 'sibilant', voiced: false });
    expect(phoneFacts('a', 'latin').phoneClass).toBe('sonorant');
    expect(phoneFacts('k', 'latin')).toMatchObject({ phoneClass: 'stop', tongueStop: true });
  });
});

const RATE = 44_100;

/** Stillness, noise of 0.1, voice of 0.5 at 150 Hz with a fifth harmonic, in the order and for the seconds given. */
function sound(...parts: readonly (readonly ['still' | 'noise' | 'voice', number])[]): Float32Array {
  const random = createRandom(5);
  return Float32Array.from(
    parts.flatMap(([kind, seconds]) =>
      Array.from({ length: Math.round(seconds * RATE) }, (_, i) => {
        const t = (2 * Math.PI * 150 * i) / RATE;
        if (kind === 'voice') return 0.5 * Math.sin(t) + 0.1 * Math.sin(5 * t);
        // White noise holds 2 % of its power below 900 Hz at most: 17 dB below the whole, 37 dB below the voice.
        return (kind === 'noise' ? 0.1 : 1e-5) * (2 * random.uniform() - 1);
      }),
    ),
  );
}

describe('labelSpelled', () => {
  const spoken = (samples: Float32Array, ...phones: string[]) => labelSpelled(samples, RATE, phones);
  // Windows of 5 and 10 ms a step of 2.5 ms apart, and 5 ms allowed before and 10 ms behind.
  const NEAR_SECONDS = 0.0151;
  // The high pass at 70 Hz rings for 14 ms until it is 38 dB down, where sound ends without a fade.
  const NEAR_END_SECONDS = NEAR_SECONDS + 0.014;
  const near = (value: number | undefined, expected: number, within = NEAR_SECONDS): void => {
    expect(Math.abs((value ?? Number.NaN) - expected)).toBeLessThan(within);
  };

  it('ends an obstruent where the voice begins', () => {
    const found = spoken(sound(['still', 0.5], ['noise', 0.12], ['voice', 0.3], ['still', 0.5]), 's', 'a');
    expect(found?.labels.map(({ phone }) => phone)).toEqual(['sil', 's', 'a', 'sil']);
    const from = (found?.from ?? 0) / RATE;
    near(from, 0.2);
    near((found?.labels[1]?.startSeconds ?? 0) + from, 0.5);
    near((found?.labels[1]?.endSeconds ?? 0) + from, 0.62);
    near((found?.labels[2]?.endSeconds ?? 0) + from, 0.92, NEAR_END_SECONDS);
    expect(found?.labels[3]?.endSeconds).toBeCloseTo(((found?.to ?? 0) - (found?.from ?? 0)) / RATE, 9);
  });

  it('begins it where the voice ends', () => {
    const found = spoken(sound(['still', 0.5], ['voice', 0.3], ['noise', 0.2], ['still', 0.5]), 'a', 'f');
    near((found?.labels[2]?.startSeconds ?? 0) + (found?.from ?? 0) / RATE, 0.8);
    expect(found?.labels[2]?.phone).toBe('f');
  });

  it('finds it between two vowels', () => {
    const found = spoken(
      sound(['still', 0.5], ['voice', 0.2], ['noise', 0.1], ['voice', 0.3], ['still', 0.5]),
      ...['a', 's', 'a'],
    );
    near((found?.labels[2]?.startSeconds ?? 0) + (found?.from ?? 0) / RATE, 0.7);
    near((found?.labels[2]?.endSeconds ?? 0) + (found?.from ?? 0) / RATE, 0.8);
  });

  it('keeps the letter and leaves a knock before it', () => {
    const found = spoken(sound(['noise', 0.02], ['still', 0.6], ['voice', 0.4], ['still', 0.5]), 'a');
    near((found?.labels[1]?.startSeconds ?? 0) + (found?.from ?? 0) / RATE, 0.62);
    expect(found?.labels.map(({ phone }) => phone)).toEqual(['sil', 'a', 'sil']);
  });

  it('gives nothing where the recording does not look like it', () => {
    expect(spoken(sound(['still', 0.5], ['voice', 0.3], ['still', 0.5]), 's', 'a')).toBeNull();
    expect(spoken(sound(['still', 0.5], ['voice', 0.3], ['still', 0.5]), 'a', 's')).toBeNull();
    expect(spoken(sound(['still', 0.5], ['voice', 0.3], ['still', 0.5]), 'a', 's', 'a')).toBeNull();
    expect(
      spoken(sound(['still', 0.5], ['noise', 0.3], ['voice', 0.3], ['still', 0.5]), 't', 'a'),
    ).toBeNull();
    expect(spoken(sound(['still', 0.5]), 'a')).toBeNull();
    expect(spoken(new Float32Array(1), 'a')).toBeNull();
  });
});

describe('spelledRecordings', () => {
  it('reads what a collection says of its files, and leaves out what is not there', () => {
    const root = mkdtempSync(join(tmpdir(), 'spelled-'));
    try {
      const put = (path: string, text = ''): void => {
        mkdirSync(dirname(join(root, path)), { recursive: true });
        writeFileSync(join(root, path), text);
      };
      const letters = 'usr/share/klettres';
      put(
        `${letters}/de/sounds.xml`,
        '<!-- <sound name="Z" file="de/alpha/z.ogg" /> --><sound name="A" file="de/alpha/a.ogg" />\n<sound name="EIN" file="de/syllab/ein.ogg" /><sound name="B" file="de/alpha/b.ogg" />',
      );
      for (const name of ['alpha/a', 'alpha/z', 'syllab/ein']) put(`${letters}/de/${name}.ogg`);
      put(`${letters}/da/sounds.xml`, '<sound name="A" file="da/alpha/a.ogg" />');
      put(`${letters}/da/alpha/a.ogg`);
      for (const name of ['ㄇㄚ', 'ㄋㄚ']) put(`usr/share/gcin-voice/ogg/${name}/3.ogg`);
      expect(
        spelledRecordings(root).map(({ written, language, isSyllable, speaker, folder }) => [
          ...[written, language, isSyllable, speaker, folder],
        ]),
      ).toEqual([
        ['A', 'de', false, 'de', 'spelled_letters'],
        ['EIN', 'de', true, 'de', 'spelled_letters'],
        ['ㄇㄚ', 'zh', true, 'zh_3', 'spelled_mandarin'],
      ]);
      expect(spelledRecordings(join(root, 'nowhere'))).toEqual([]);
    } finally {
      rmSync(root, { recursive: true });
    }
  });
});
