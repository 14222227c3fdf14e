import { describe, expect, it } from 'vitest';
import { checkAgreement, regionFromTimes } from '../../src/exchange/region-from-times.js';
import { isWebVtt, webVttBlocks } from '../../src/exchange/webvtt-blocks.js';
import { cueText, plainCueText } from '../../src/exchange/webvtt-text.js';
import { readCueTimes, webVttTimestamp } from '../../src/exchange/webvtt-time.js';

/** What is noted, as "path: rule; received". */
function notes() {
  const all: string[] = [];
  const note = (path: string, rule: string, received: string): void => {
    all.push(`${path}: ${rule}; ${received}`);
  };
  return { all, note };
}

describe('WebVTT', () => {
  const blocks = (text: string) => {
    const { all, note } = notes();
    const found = [...webVttBlocks(text, note)].map(({ times, line, body }) => [times?.number, line, body]);
    return { found, all };
  };

  it('is told by its first line', () => {
    for (const text of ['WEBVTT', 'WEBVTT ', 'WEBVTT\tx', 'WEBVTT\n', 'WEBVTT\r\n', '\uFEFFWEBVTT\n'])
      expect(isWebVtt(text)).toBe(true);
    for (const text of ['', ' WEBVTT', 'WEBVTTX', 'webvtt', '\uFEFFWEBVTTX'])
      expect(isWebVtt(text)).toBe(false);
  });

  it('has blocks parted by empty lines and arrows; what stands above an arrow names the cue', () => {
    const text = 'WEBVTT\nhead\n\nNOTE a\nb\n\nid\n1 --> 2\ntext\nmore\n3 --> 4\n\n\n5 --> 6\n\0';
    expect(blocks(text)).toEqual({
      found: [
        [undefined, 4, ['NOTE a', 'b']],
        [8, 7, ['text', 'more']],
        [11, 11, []],
        [14, 14, ['\uFFFD']],
      ],
      all: [],
    });
    // Two lines above an arrow are a block of their own.
    expect(blocks('WEBVTT\n\na\nb\n1 --> 2').found).toEqual([
      [undefined, 3, ['a', 'b']],
      [5, 5, []],
    ]);
    // An arrow ends the header.
    expect(blocks('WEBVTT\n1 --> 2\nx').found).toEqual([[2, 2, ['x']]]);
  });

  it('has blocks of at most 2^20 characters', () => {
    const line = 'x'.repeat(2 ** 10 - 1);
    const full = Array<string>(2 ** 10)
      .fill(line)
      .join('\n');
    expect(blocks(`WEBVTT\n\n1 --> 2\n${full}`).found).toHaveLength(1);
    expect(blocks(`WEBVTT\n\n1 --> 2\n${full}\nxx`)).toEqual({
      found: [],
      all: ['line 3: must have at most 1048576 characters in its block; more'],
    });
  });

  it('has times with or without hours', () => {
    expect(readCueTimes('00:01.000 --> 100:59:59.999 line:0')).toEqual({
      startSeconds: 1,
      endSeconds: 363_599.999,
    });
    expect(readCueTimes('\t\f01:02:03.040-->02:00.102')).toEqual({
      startSeconds: 3723.04,
      endSeconds: 120.102,
    });
    for (const line of [
      'x 00:01.000 --> 00:02.000',
      '00:60.000 --> 00:61.000',
      '60:00.000 --> 61:00.000',
      '00:01.00 --> 00:02.000',
      '00:01.0000 --> 00:02.000',
      '00:01,000 --> 00:02,000',
      '00:01.000 -> 00:02.000',
      '00:01.000 --> ',
    ])
      expect(readCueTimes(line)).toBe(undefined);
    expect(webVttTimestamp(0)).toBe('00:00:00.000');
    expect(webVttTimestamp(360_059_007)).toBe('100:00:59.007');
    expect(webVttTimestamp(3_599_999)).toBe('00:59:59.999');
  });

  it('shows texts as they are, without what it would take for marks', () => {
    expect(cueText('a\n\u2028b & <c> \uD800')).toBe('a b &amp; &lt;c&gt; \uFFFD');
    expect(plainCueText('<v Anna>a</v> &amp;&lt;&gt;&nbsp;&lrm;&rlm;&x; <b')).toBe(
      'a &<>\u00A0\u200E\u200F&x; ',
    );
    expect(plainCueText('')).toBe('');
  });
});

describe('times of regions', () => {
  const clip = { sampleRateHz: 48_000, lengthSamples: 4800 };
  const made = (start: unknown, end: unknown, label = '') =>
    regionFromTimes(start, end, label, clip, { rule: 'r', numbers: {} });

  it('are rounded to samples, and an end a millisecond behind the clip is that of the clip', () => {
    expect(made(0.00001, 0.05)).toMatchObject({ startSample: 0, endSample: 2400, kind: 'custom', label: '' });
    expect(made(0, 0.101)).toMatchObject({ endSample: 4800 });
    expect(made(0, 0.10103)).toMatchObject({ endSample: 4849 });
    expect(made(0, 0.1)).toMatchObject({ endSample: 4800 });
    expect(made(0, 'x')).toMatchObject({ endSample: Number.NaN });
    expect(made(2 ** 53, 1)).toMatchObject({ startSample: Number.NaN });
    expect(made(0, 1, 'breath')).toMatchObject({ kind: 'breath', label: 'breath' });
    expect(made(0, 1, 'Breath')).toMatchObject({ kind: 'custom', label: 'Breath' });
  });

  it('agree with positions within the tolerance', () => {
    const said = (seconds: unknown, position: unknown): string[] => {
      const { all, note } = notes();
      checkAgreement(seconds, position, 48_000, 0.001, 'p', note);
      return all;
    };
    expect(said(1.0009, 48_000)).toEqual([]);
    expect(said(0.9991, 48_000)).toEqual([]);
    for (const seconds of [1.0011, 0.9989])
      expect(said(seconds, 48_000)).toEqual([
        `p: must agree with its position in samples (1.000000 s) within 0.001 s; ${seconds}`,
      ]);
    expect(said('x', 48_000)).toEqual(['p: must be a number; x']);
    expect(said(1, 'x')).toEqual([]);
  });
});
