import { describe, expect, it } from 'vitest';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import { encodeText } from '../../bench/voices/encode-text.js';
import { spokenPhone } from '../../bench/voices/spoken-phones.js';
import { SPOKEN_VOICES } from '../../bench/voices/spoken-voices.js';

const classOf = (phone: string, alphabet: 'general' | 'czech' | 'russian'): string =>
  phoneFacts(spokenPhone(phone, alphabet) as string, 'latin').phoneClass;

describe('spokenPhone', () => {
  it('spells what the synthesiser writes as the phone map reads it', () => {
    expect(['S', 'tS', 'dZ', 's', 'ts'].map((phone) => classOf(phone, 'general'))).toEqual(
      Array(5).fill('sibilant'),
    );
    expect(classOf('j', 'general')).toBe('sonorant');
    expect(classOf('#', 'general')).toBe('silence');
    expect(spokenPhone('s:', 'general')).toBe('s');
  });

  it('knows what Czech and Russian write otherwise', () => {
    expect([classOf('c', 'czech'), classOf('ch', 'czech'), classOf('t~', 'czech')]).toEqual([
      'sibilant',
      'fricative',
      'stop',
    ]);
    expect([classOf('ss', 'russian'), classOf('tt', 'russian'), classOf('sch', 'russian')]).toEqual([
      'sibilant',
      'stop',
      'sibilant',
    ]);
    expect(spokenPhone('r~', 'czech')).toBeNull();
  });
});

describe('encodeText', () => {
  it('writes ISO 8859-2: š is B9, ř is F8, plain letters are ASCII', () => {
    expect([...encodeText('šař', 'latin2')]).toEqual([0xb9, 0x61, 0xf8]);
  });

  it('has a byte for every letter of the Czech sentences', () => {
    for (const { encoding, sentences } of SPOKEN_VOICES)
      if (encoding === 'latin2')
        // ISO 8859-1 and -2 agree on these; any other letter beyond ASCII must be in the table.
        for (const letter of sentences.join(''))
          if (letter.charCodeAt(0) > 0x7f && !'áéíóúýÁÉÍÓÚÝ'.includes(letter))
            expect(encodeText(letter, 'latin2')[0]).not.toBe(letter.charCodeAt(0) & 0xff);
  });
});
