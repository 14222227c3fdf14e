import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { base64 } from '../../src/picture/base64.js';
import { escapeXml } from '../../src/picture/escape-xml.js';
import { coordinate, fitText, gainText, textWidth, timeText } from '../../src/picture/numbers.js';
import { timeTicks } from '../../src/picture/time-ticks.js';

describe('base64', () => {
  // RFC 4648 (2006), section 10, from memory.
  it.each([
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foo', 'Zm9v'],
    ['foob', 'Zm9vYg=='],
    ['fooba', 'Zm9vYmE='],
    ['foobar', 'Zm9vYmFy'],
  ])('gives the test vector of RFC 4648 for "%s"', (plain, encoded) => {
    expect(base64(new TextEncoder().encode(plain))).toBe(encoded);
  });

  it('agrees with the encoder of Node on any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 20_000 }), (bytes) => {
        expect(base64(bytes)).toBe(Buffer.from(bytes).toString('base64'));
      }),
      { numRuns: 30 },
    );
  });
});

describe('escapeXml', () => {
  it('makes any text safe in an element and in an attribute, so that a strict parser accepts it', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
        const safe = escapeXml(text);
        const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><text id="${safe}">${safe}</text></svg>`;
        expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
      }),
      { numRuns: 120 },
    );
  });

  it('is needed: the same parser refuses the text as it is', () => {
    for (const text of ['a < b', 'a & b', '\u0001'])
      expect(() => new Resvg(`<svg xmlns="http://www.w3.org/2000/svg"><text>${text}</text></svg>`)).toThrow();
  });

  it('replaces what XML forbids: control characters and lone surrogates', () => {
    expect(escapeXml('a\u0000b\ud800c\uffff')).toBe('a\ufffdb\ufffdc\ufffd');
    expect(escapeXml('two\nlines\tand a \u{1f3a4}')).toBe('two lines and a \u{1f3a4}');
  });
});

describe('numbers in text', () => {
  it('writes coordinates with two decimals at most and no negative zero', () => {
    expect([0, -0, -0.004, 1.005, 2.34567, 1200].map(coordinate)).toEqual([
      '0',
      '0',
      '0',
      '1',
      '2.35',
      '1200',
    ]);
  });

  it('writes a gain with a true minus sign', () => {
    expect([-6, 0, -0.04, 3, -4.55].map(gainText)).toEqual(['−6', '0', '0', '+3', '−4.5']);
  });

  it('carries into minutes and hours when it rounds', () => {
    expect(timeText(59.996, 2, 60)).toBe('1:00.00');
    expect(timeText(3599.9999, 3, 4000)).toBe('1:00:00.000');
    expect(timeText(59.996, 2, 10)).toBe('60.00');
    expect(timeText(3725.5, 1, 4000)).toBe('1:02:05.5');
  });

  /** Width as drawn in DejaVu Sans; undefined where that font is absent. A full stop at each end makes spaces there count. */
  function drawnWidth(text: string, bold: boolean): number | undefined {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="999" height="99"><text y="50" font-size="12"' +
      ` font-weight="${bold ? 700 : 400}" font-family="DejaVu Sans">${escapeXml(`.${text}.`)}</text></svg>`;
    return new Resvg(svg, { font: { loadSystemFonts: true } }).getBBox()?.width;
  }

  it('never says that a label is narrower than DejaVu Sans draws it', () => {
    for (const text of [
      'S −6',
      'S? −12.5 dB',
      'T off',
      'U? mute',
      'C +24 dB',
      '+12 unlabelled',
      '1:02:03.5',
      '−7.4 dBFS',
    ])
      for (const bold of [false, true])
        expect(textWidth(`.${text}.`, 12, bold)).toBeGreaterThanOrEqual(drawnWidth(text, bold) ?? 0);
  });

  it('is at most a tenth too narrow for any line of ASCII, which shortened names can bear', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme-ascii', minLength: 8, maxLength: 30 }),
        fc.boolean(),
        (text, bold) => {
          expect(textWidth(`.${text}.`, 12, bold)).toBeGreaterThan(0.9 * (drawnWidth(text, bold) ?? 0));
        },
      ),
      { numRuns: 30 },
    );
  });

  it('shortens to the room there is, with an ellipsis', () => {
    const short = fitText('a very long name of a very long take', 12, 80);
    expect(short.endsWith('…')).toBe(true);
    expect(textWidth(short, 12)).toBeLessThanOrEqual(80);
    expect(fitText('short', 12, 80)).toBe('short');
    expect(fitText('abc', 12, 1)).toBe('');
  });
});

describe('timeTicks', () => {
  it('takes steps of 1, 2 or 5 in seconds and of whole minutes beyond', () => {
    expect(timeTicks(0.2, 3.1, 4).seconds).toEqual([1, 2, 3]);
    expect(timeTicks(0, 180, 4).seconds).toEqual([0, 60, 120, 180]);
  });

  it('gives round times inside the range, evenly spaced and not too many', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 40_000, noNaN: true }),
        fc.double({ min: 0.01, max: 40_000, noNaN: true }),
        fc.integer({ min: 2, max: 20 }),
        (from, length, most) => {
          const { seconds, decimals } = timeTicks(from, from + length, most);
          expect(seconds.length).toBeLessThanOrEqual(most + 1);
          for (const s of seconds) {
            // Rounding to `decimals` moves a tick by less than a millionth of the range's own size.
            expect(s).toBeGreaterThanOrEqual(from - 1e-6 * length);
            expect(s).toBeLessThanOrEqual(from + length * (1 + 1e-6));
          }
          const texts = seconds.map((s) => timeText(s, decimals, 1e9));
          expect(new Set(texts).size).toBe(texts.length);
        },
      ),
    );
  });
});
