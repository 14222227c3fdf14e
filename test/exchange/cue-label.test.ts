import { describe, expect, it } from 'vitest';
import { cueLabel, readCueLabel } from '../../src/exchange/cue-label.js';
import { region } from '../lib/region.js';

describe('the text of a cue', () => {
  const full = region({
    startSample: 0,
    endSample: 900,
    gainDb: -6.5,
    fadeInSamples: 10,
    fadeOutSamples: 0,
    fadeShape: 'decibel',
    band: { lowHz: 4000, highHz: 9000 },
    bypassed: true,
    locked: true,
    confidence: 0.87654,
    label: 'é: \\ x',
  });
  const { startSample: _, endSample: __, ...rest } = full;
  const written =
    'sibilant -6.5 dB, fades 10/0 decibel, band 4000 to 9000 Hz, bypassed, locked, confidence 0.877: \\u00e9: \\\\ x';

  it('says what differs from a plain region, in printable ASCII, and is read back', () => {
    expect(cueLabel(full)).toBe(written);
    const { kind, gainDb, fadeInSamples, fadeOutSamples, fadeShape, band, bypassed, locked, label } = rest;
    expect(readCueLabel(written)).toEqual({
      ...{ kind, gainDb, fadeInSamples, fadeOutSamples, fadeShape, band, bypassed, locked, label },
      confidence: 0.877,
    });
    const plain = region({ startSample: 0, endSample: 9, kind: 'breath', gainDb: 0 });
    expect(cueLabel(plain)).toBe('breath 0 dB');
    expect(readCueLabel('breath 0 dB')).toEqual({ kind: 'breath', gainDb: 0, label: '' });
    expect(cueLabel({ ...plain, fadeOutSamples: 1, confidence: 0.9996 })).toBe(
      'breath 0 dB, fades 0/1 linear',
    );
  });

  it.each([
    'sibilant',
    'sibilant -6 dB, ',
    'hiss -6 dB',
    'sibilant x dB',
    'sibilant -6 dB ',
    'x sibilant -6 dB',
    'sibilant -120.5 dB',
    'sibilant 24.5 dB',
    'sibilant -6 dB, muted',
    'sibilant -6 dB, bypassed now',
    'sibilant -6 dB, fades 1/2',
    'sibilant -6 dB, fades 1/2 round',
    'sibilant -6 dB, fades 1/2 linear x',
    'sibilant -6 dB, fades -1/2 linear',
    'sibilant -6 dB, fades fades 1/2 linear',
    'sibilant -6 dB, fades 9007199254740992/0 linear',
    'sibilant -6 dB, fades 0/9007199254740992 linear',
    'sibilant -6 dB, band 4000 to 9000',
    'sibilant -6 dB, band 4000 to 9000 kHz',
    'sibilant -6 dB, band 4000 to 9000 Hz x',
    'sibilant -6 dB, band 4000 - 9000 Hz',
    'sibilant -6 dB, band 9000 to 9000 Hz',
    'sibilant -6 dB, band low to 9000 Hz',
    'sibilant -6 dB, confidence',
    'sibilant -6 dB, confidence 0.5 x',
    'sibilant -6 dB, confidence -0.1',
    'sibilant -6 dB, confidence 1.1',
  ])('of another form is a label: "%s"', (text) => {
    expect(readCueLabel(text)).toEqual({ label: text });
  });

  it('takes values at their limits', () => {
    for (const gainDb of [-120, 24]) expect(readCueLabel(`sibilant ${gainDb} dB`)).toMatchObject({ gainDb });
    for (const confidence of [0, 1])
      expect(readCueLabel(`sibilant 0 dB, confidence ${confidence}`)).toMatchObject({ confidence });
    expect(readCueLabel(`sibilant 0 dB, fades ${2 ** 53 - 1}/0 linear`)).toMatchObject({
      fadeInSamples: 2 ** 53 - 1,
    });
    // A head of 300 characters is read, one more is not.
    const head = (length: number): string => `sibilant 0${'.'.padEnd(length - 13, '0')} dB`;
    expect(head(300)).toHaveLength(300);
    expect(readCueLabel(head(300))).toMatchObject({ kind: 'sibilant' });
    expect(readCueLabel(head(301))).toEqual({ label: head(301) });
  });
});
