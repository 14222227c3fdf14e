import { describe, expect, test } from 'vitest';
import { shortNames } from '../../examples/lib/short-names.js';

describe('shortNames', () => {
  test('drops endings and the shared beginning up to a separator', () => {
    expect(shortNames(['song-lead.wav', 'song-low.wav'])).toEqual(['lead', 'low']);
    expect(shortNames(['take 1.wav', 'take 12.WAV'])).toEqual(['1', '12']);
    expect(shortNames(['lead.wav', 'leap.wave'])).toEqual(['lead', 'leap']);
  });

  test('keeps names whole that would be empty or equal', () => {
    expect(shortNames(['a-.wav', 'a-b.wav'])).toEqual(['a-.wav', 'a-b.wav']);
    expect(shortNames(['a.wav', 'a.wave'])).toEqual(['a.wav', 'a.wave']);
    expect(shortNames([])).toEqual([]);
    expect(shortNames(['vocal-lead.wav'])).toEqual(['lead']);
  });
});
