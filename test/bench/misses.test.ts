import { describe, expect, it } from 'vitest';
import type { LabelledClip } from '../../bench/lib/corpus.js';
import { errorLines } from '../../bench/lib/list-errors.js';
import { carriedVerdicts } from '../../bench/lib/misses/carried-verdicts.js';
import { listedRows } from '../../bench/lib/misses/listed-rows.js';
import { sectionTable, withTable } from '../../bench/lib/misses/section-table.js';
import { voicedCutPlaces } from '../../bench/lib/misses/voiced-cut-places.js';
import { scoreClips } from '../../bench/lib/score-folder.js';

describe('verdicts of an earlier table', () => {
  it('go to the place of the same clip within 30 ms, each to one, the nearest first', () => {
    const earlier = [
      { clip: 'a', seconds: 1, verdict: 'voice' },
      { clip: 'a', seconds: 2, verdict: 'noise' },
      { clip: 'b', seconds: 3, verdict: 'click' },
    ];
    const places = [
      { clip: 'a', seconds: 1.029 },
      { clip: 'a', seconds: 1.001 },
      { clip: 'a', seconds: 2.04 },
      { clip: 'b', seconds: 2.98 },
      { clip: 'c', seconds: 1 },
    ];
    expect(carriedVerdicts(places, earlier)).toEqual(['?', 'voice', '?', 'click', '?']);
  });
});

describe('a table of a page', () => {
  const page =
    '# P\n\n## One\n\nwords\n\n| clip | at s |\n| --- | --- |\n| a | 1 |\n\nmore\n\n## Two\n\n| clip |\n|---|\n| b |';

  it('is found under its heading, by its first column', () => {
    expect(sectionTable(page, 'One', 'clip').rows).toEqual([['a', '1']]);
    expect(sectionTable(page, 'Two', 'clip').rows).toEqual([['b']]);
  });

  it('is replaced, and nothing else', () => {
    const other = withTable(page, sectionTable(page, 'One', 'clip'), '| clip |\n|---|\n| z |');
    expect(other).toBe(page.replace('| clip | at s |\n| --- | --- |\n| a | 1 |', '| clip |\n|---|\n| z |'));
  });

  it('that is not there is an error that names it', () => {
    expect(() => sectionTable(page, 'Three', 'clip')).toThrow(
      'no table with a column "clip" under "## Three"',
    );
    expect(() => sectionTable(page, 'Two', 'at s')).toThrow('under "## Two"');
  });
});

describe('rows of a list of errors', () => {
  it('are those of one sort, in order of clip and time, as errorLines writes them', () => {
    const error = {
      confidence: 0.9,
      endSeconds: 2,
      kind: 'burst' as const,
      phone: 'voice',
      there: '',
      voiceDb: -12,
    };
    const text = errorLines([
      { ...error, clip: 'b', what: 'wrong place', startSeconds: 1.5, context: 'S _ AH' },
      { ...error, clip: 'a', what: 'wrong place', startSeconds: 10, context: ' _ AH' },
      { ...error, clip: 'a', what: 'miss', startSeconds: 1, context: 'S _ ' },
      { ...error, clip: 'a', what: 'wrong place', startSeconds: 9, context: 'S _ ' },
    ]);
    const rows = listedRows(text, 'wrong place');
    expect(rows.map(({ clip, start }) => `${clip} ${start}`)).toEqual(['a 9.000', 'a 10.000', 'b 1.500']);
    expect(rows.map(({ between }) => between)).toEqual([
      ['S', ''],
      ['', 'AH'],
      ['S', 'AH'],
    ]);
    expect(rows[0]).toMatchObject({ end: '2.000', kind: 'burst', confidence: '0.90', voiceDb: '-12' });
  });
});

describe('places of voiced sound cut', () => {
  it('are the regions that reach over 20 ms into voice, and add up to the figure', () => {
    const rate = 8000;
    const label = (startSeconds: number, endSeconds: number, phoneClass: 'sonorant' | 'sibilant') => ({
      startSeconds,
      endSeconds,
      label: phoneClass === 'sonorant' ? 'a' : 's',
      phone: phoneClass === 'sonorant' ? 'a' : 's',
      phoneClass,
      voiced: phoneClass === 'sonorant',
      tongueStop: false,
    });
    // A voice of 200 Hz that begins 20 ms after its label: in the middle of the 40 ms that are cut.
    const samples = Float32Array.from({ length: 2 * rate }, (_, n) =>
      n / rate < 0.52 ? 0 : Math.sin((2 * Math.PI * 200 * n) / rate),
    );
    const clip: LabelledClip = {
      name: 'clip',
      folder: 'f',
      voice: 'f',
      voices: ['f'],
      recordings: ['f/clip'],
      labels: [label(0, 0.5, 'sibilant'), label(0.5, 1, 'sonorant'), label(1, 2, 'sibilant')],
      channels: [samples],
      sampleRateHz: rate,
      durationSeconds: 2,
    };
    const region = (from: number, to: number) => ({
      onsetSample: from * rate,
      offsetSample: to * rate,
      kind: 'sibilant' as const,
      confidence: 1,
    });
    const score = scoreClips('f', [clip], () => [region(0.2, 0.54), region(0.985, 1.5)]);
    const places = voicedCutPlaces(score);
    expect(places).toHaveLength(1);
    expect(places[0]).toMatchObject({ clip: 'clip', startSeconds: 0.2, kind: 'sibilant' });
    expect(places[0]?.cutSeconds).toBeCloseTo(0.04, 9);
    expect(score.figures.voicedCutMsPerMinute).toBeCloseTo((places[0]?.cutSeconds ?? 0) * 1000 * 30, 6);
    // The 20 ms behind that, and up to half of the 10 ms over which a level is read and a step of 2.5 ms.
    expect(places[0]?.soundingSeconds).toBeGreaterThan(0.0199);
    expect(places[0]?.soundingSeconds).toBeLessThan(0.0276);
  });
});
