import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import webvtt from 'webvtt-parser';
import entities from 'webvtt-parser/html-entities.json' with { type: 'json' };
import { regionsFromWebVtt } from '../../src/exchange/regions-from-webvtt.js';
import { type CuePayload, regionsToWebVtt } from '../../src/exchange/regions-to-webvtt.js';
import type { Result } from '../../src/exchange/result.js';
import type { RegionList } from '../../src/regions/region.js';
import { setLabel, setLocked } from '../../src/regions/set-flags.js';
import { damaged } from '../lib/damage.js';
import { regionLists } from '../regions/arbitraries.js';
import { checkReading, FILED_LIST, framedList, problemsOf } from './text-form-checks.js';

const PAYLOADS: readonly CuePayload[] = ['text', 'metadata'];
const clip = { sampleRateHz: 48000, lengthSamples: 480000 };
const text = regionsToWebVtt(FILED_LIST);
const paths = (result: Result<RegionList>): string[] => problemsOf(result).map((p) => p.path);

/** The reference parser and validator by W3C people; without errors, a file keeps section 4 of WebVTT. */
function parsed(file: string, payload: CuePayload) {
  const mode = payload === 'text' ? 'subtitles' : 'metadata';
  const { cues, errors } = new webvtt.WebVTTParser(entities).parse(file, mode);
  expect(errors).toEqual([]);
  return cues;
}

describe('regions in a WebVTT file', () => {
  test('are the files of version 1, byte for byte', () => {
    for (const payload of PAYLOADS) {
      const file = readFileSync(new URL(`files/version-1-${payload}.vtt`, import.meta.url), 'utf8');
      expect(regionsToWebVtt(FILED_LIST, { payload })).toBe(file);
      expect(regionsFromWebVtt(file)).toStrictEqual({ ok: true, value: FILED_LIST });
    }
    expect(text).toBe(regionsToWebVtt(FILED_LIST, { payload: 'text' }));
  });

  // W3C, WebVTT, sections 4.1 and 4.2 (READ w3c/webvtt): blocks, identifiers, ordered starts, end after start, no arrow and no blank line
  // in payloads and comments. The validator tells each breach.
  test.each(PAYLOADS)('are valid and give back exactly what was written, as %s', (payload) => {
    fc.assert(
      fc.property(regionLists, (list) => {
        const written = regionsToWebVtt(list, { payload });
        expect(regionsFromWebVtt(written)).toStrictEqual({ ok: true, value: list });
        const cues = parsed(written, payload);
        expect(cues).toHaveLength(list.regions.length);
        // By identifier: of cues that start within one millisecond the parser lists the longer one first.
        const byId = new Map(cues.map((cue) => [cue.id, cue]));
        for (const { id, startSample, endSample } of list.regions) {
          const cue = byId.get(String(id))!;
          // Outwards and by less than a millisecond; 1e-4 s is what doubles lose at 2^43 samples of 8 kHz, 1e9 s.
          const before = startSample / list.sampleRateHz - cue.startTime;
          const behind = cue.endTime - endSample / list.sampleRateHz;
          expect(Math.min(before, behind)).toBeGreaterThan(-1e-4);
          expect(Math.max(before, behind)).toBeLessThan(0.001 + 1e-4);
        }
        expect(new TextDecoder().decode(new TextEncoder().encode(written))).toBe(written);
      }),
      { numRuns: 200 },
    );
  });

  test('show label, kind and gain to people, whatever the label holds', () => {
    const free = setLocked(FILED_LIST, 1, false);
    const shown = (label: string): string => {
      const cues = parsed(regionsToWebVtt(setLabel(free, 1, label)), 'text');
      expect(cues).toHaveLength(2);
      expect(cues[0]!.tree.children).toHaveLength(1);
      return cues[0]!.tree.children[0]!.value!;
    };
    // What the reference parser shows: the label itself, with line ends as spaces.
    expect(shown('a --> b')).toBe('a --> b (sibilant, -6 dB)');
    expect(shown('<i>x</i> &amp; <00:00.150>')).toBe('<i>x</i> &amp; <00:00.150> (sibilant, -6 dB)');
    expect(shown('one\n\ntwo\r\n\r\n--> three')).toBe('one two --> three (sibilant, -6 dB)');
    expect(shown('NOTE\0')).toBe('NOTE (sibilant, -6 dB)');
    expect(shown('\ud800')).toBe('\ufffd (sibilant, -6 dB)');
    expect(shown('{"id":1}')).toBe('{"id":1} (sibilant, -6 dB)');
    expect(shown(' \n ')).toBe('sibilant, -6 dB');
  });

  test('hold a JSON object in the cue for scripts', () => {
    const cues = parsed(regionsToWebVtt(FILED_LIST, { payload: 'metadata' }), 'metadata');
    expect(cues.map((cue) => JSON.parse(cue.text))).toEqual(FILED_LIST.regions);
  });

  test('carry samples through frames of 29.97 a second, where milliseconds do not', () => {
    const list = framedList();
    for (const payload of PAYLOADS) {
      const written = regionsToWebVtt(list, { payload });
      expect(regionsFromWebVtt(written)).toStrictEqual({ ok: true, value: list });
      const cues = parsed(written, payload);
      cues.forEach((cue, i) => {
        // A frame begins at 3i · 1001/30000 s (references.md E, computed from its figures); the position is rounded by half a sample, the cue by 1 ms.
        const frameSeconds = (3 * i * 1001) / 30000;
        expect(Math.abs(cue.startTime - frameSeconds)).toBeLessThan(0.001 + 0.5 / 48000 + 1e-9);
      });
      const bare = written.replace(/^NOTE.*\n\n/gm, '');
      const foreign = regionsFromWebVtt(bare, clip);
      // Without the samples, edges are off by up to 48 samples (1 ms), and nearly all of them are off.
      const off = (foreign.ok ? foreign.value.regions : []).map((region, i) =>
        Math.abs(region.startSample - list.regions[i]!.startSample),
      );
      expect(off).toHaveLength(90);
      expect(Math.max(...off)).toBeLessThanOrEqual(48);
      expect(off.filter((samples) => samples > 0).length).toBeGreaterThan(60);
    }
  });

  test('carry halves of surrogate pairs through UTF-8, which has none (RFC 3629, section 3)', () => {
    const list = setLabel(setLocked(FILED_LIST, 1, false), 1, 'a\ud800b\udfff');
    for (const payload of PAYLOADS) {
      const stored = new TextDecoder().decode(new TextEncoder().encode(regionsToWebVtt(list, { payload })));
      expect(regionsFromWebVtt(stored)).toStrictEqual({ ok: true, value: list });
    }
  });

  test('give a valid file where there are none', () => {
    const empty = { ...FILED_LIST, regions: [] };
    expect(parsed(regionsToWebVtt(empty), 'text')).toEqual([]);
    expect(regionsFromWebVtt(regionsToWebVtt(empty))).toStrictEqual({ ok: true, value: empty });
  });

  test('end after they start even where doubles no longer tell samples apart', () => {
    const last = Number.MAX_SAFE_INTEGER;
    const far = {
      ...FILED_LIST,
      lengthSamples: last,
      regions: [
        { ...FILED_LIST.regions[1]!, startSample: last - 500, endSample: last - 499, fadeOutSamples: 0 },
      ],
    };
    expect(parsed(regionsToWebVtt(far), 'text')).toHaveLength(1);
    expect(regionsFromWebVtt(regionsToWebVtt(far))).toStrictEqual({ ok: true, value: far });
  });

  test('are refused at writing where they could not be read again', () => {
    expect(() => regionsToWebVtt({ ...FILED_LIST, nextId: 1 })).toThrow(
      /regionsToWebVtt: list\.regions\[0\]\.id/,
    );
    expect(() => regionsToWebVtt(FILED_LIST, { payload: 'html' as CuePayload })).toThrow(RangeError);
    const long = setLabel(setLocked(FILED_LIST, 1, false), 1, '>'.repeat(2 ** 18));
    expect(() => regionsToWebVtt(long)).toThrow(/list\.regions\[0\] must give at most 1048576 characters/);
  });
});

describe('a WebVTT file of ours that went through an editor', () => {
  test('reads the same: byte-order mark, CR LF, CR, added comments, settings, blank lines, changed text', () => {
    const same = { ok: true, value: FILED_LIST };
    expect(regionsFromWebVtt(`\uFEFF${text}`)).toStrictEqual(same);
    expect(regionsFromWebVtt(text.replaceAll('\n', '\r\n'))).toStrictEqual(same);
    expect(regionsFromWebVtt(text.replaceAll('\n', '\r'))).toStrictEqual(same);
    expect(regionsFromWebVtt(text.trimEnd())).toStrictEqual(same);
    expect(regionsFromWebVtt(text.replace('WEBVTT\n', 'WEBVTT - mine\n\nNOTE\nof mine\n\n\n'))).toStrictEqual(
      same,
    );
    expect(regionsFromWebVtt(text.replace('00.200', '00.200 align:start'))).toStrictEqual(same);
    expect(regionsFromWebVtt(text.replace('sun and moon', 'anything'))).toStrictEqual(same);
    expect(regionsFromWebVtt(text.replace('00:00:00.100', '00:00.101'))).toStrictEqual(same);
    // A comment of mine between a region and its cue is not taken for the region.
    expect(regionsFromWebVtt(text.replace('\n\n1\n', '\n\nNOTE mine\n\n1\n'))).toStrictEqual(same);
  });

  test('is refused where times were changed and samples were not, and where a region is missing', () => {
    expect(paths(regionsFromWebVtt(text.replace('00.100', '00.103')))).toEqual(['line 8, start']);
    expect(paths(regionsFromWebVtt(text.replace('00.200', '00.203')))).toEqual(['line 8, end']);
    expect(paths(regionsFromWebVtt(text.replace('00.100 -->', '00.1 -->')))).toEqual(['line 8']);
    expect(paths(regionsFromWebVtt(text.replace(/NOTE \{.*\n\n/, '')))).toEqual(['line 7']);
    expect(paths(regionsFromWebVtt(text.replace('"startSample": 9599', '"startSample": 9598')))).toEqual([
      'line 11, startSample',
    ]);
    expect(paths(regionsFromWebVtt(text.replace('"gainDb": -6', '"gainDb": "-6"')))).toEqual([
      'line 5, gainDb',
    ]);
    expect(paths(regionsFromWebVtt(text.replace('"gainDb": -6', '"gainDb": NaN')))).toEqual(['line 5']);
    expect(paths(regionsFromWebVtt(text.replace('"id": 3', '"id": 1')))).toEqual(['line 11, id']);
  });

  test('is told by its head', () => {
    const head = (comment: string): string[] =>
      paths(regionsFromWebVtt(text.replace(/NOTE lenition.*/, () => comment)));
    expect(head('NOTE lenition.regions.webvtt 2')).toEqual(['line 3, version']);
    expect(head('NOTE lenition.regions.webvtt 1')).toEqual([
      'line 3, sampleRateHz',
      'line 3, lengthSamples',
      'line 3, nextId',
    ]);
    expect(head('NOTE other')).toEqual(['line 1']);
    for (const input of [
      '',
      'WEBVT',
      'WEBVTTX\n',
      ' WEBVTT',
      'webvtt',
      'WEBVTT',
      'WEBVTT\n\n00:00.000 --> 00:01.000',
      null,
      7,
      {},
    ])
      expect(paths(regionsFromWebVtt(input))).toHaveLength(1);
  });

  test('names of prototypes do nothing', () => {
    const poisoned = text
      .replace('"id": 1', '"__proto__": { "polluted": 1, "locked": false }, "constructor": 5, "id": 1')
      .replace('"cutDb": 6', '"__proto__": 6');
    const result = regionsFromWebVtt(poisoned);
    const region = result.ok ? result.value.regions[0]! : undefined;
    expect(Object.keys(region!)).toEqual(Object.keys(FILED_LIST.regions[0]!));
    expect(region!.locked).toBe(true);
    expect(Object.keys(region!.reason.numbers)).toContain('__proto__');
    expect(({} as { polluted?: unknown }).polluted).toBeUndefined();
  });
});

describe('a WebVTT file of another program', () => {
  // Invented, in the forms that W3C, WebVTT, sections 4.1 and 4.2, allow: hours or none, identifiers, settings, styles, comments, spans.
  const foreign = `WEBVTT - a take
Kind: metadata

STYLE
::cue { color: lime }

NOTE a comment

first
00:01.500 --> 00:01.620 align:start position:10%
<v Singer>sun <c.loud>&amp; moon</c> <00:00:01.550>&lt;3

00:02.000\t-->\t00:02.100
sibilant

100:00:00.000 --> 100:00:00.500
far
away
`;
  const far = { sampleRateHz: 48000, lengthSamples: 48000 * 400_000 };

  test('gives regions to the millisecond, of the kind that the text names', () => {
    expect(parsed(foreign.replace('Kind: metadata\n', ''), 'text')).toHaveLength(3);
    const result = regionsFromWebVtt(foreign, far);
    const regions = result.ok ? result.value.regions : [];
    // Seconds times 48000 (closed form); 100 hours are 360,000 s.
    expect(regions.map((r) => [r.id, r.startSample, r.endSample, r.kind, r.label])).toEqual([
      [1, 72000, 77760, 'custom', 'sun & moon <3'],
      [2, 96000, 100800, 'sibilant', 'sibilant'],
      [3, 17280000000, 17280024000, 'custom', 'far\naway'],
    ]);
    expect(regions[0]).toMatchObject({ gainDb: 0, reason: { rule: 'from a WebVTT cue' } });
  });

  test('agrees with the reference parser on where blocks begin, times and plain text', () => {
    const line = fc.constantFrom(
      ...[
        '',
        '',
        'x',
        'NOTE',
        'NOTE y',
        '00:01.000 --> 00:02.000',
        '00:00:03.000 --> 00:00:04.500 align:end',
        '-->',
      ],
      ...[
        '1:00:05.000 --> 1:00:06.000',
        '00:00.000 --> 00:99.000',
        '00:1.000 --> 00:02.000',
        'a <i>b</i> &amp; c',
        '<b',
        'id',
      ],
      ...[
        '00:01.000-->00:02.000',
        '00:01.0000 --> 00:02.000',
        '60:00.000 --> 61:00.000',
        '\0',
        '0:00:07.000 --> 00:08.000',
      ],
    );
    const read = { times: 0 };
    fc.assert(
      fc.property(fc.array(line, { maxLength: 8 }), (lines) => {
        // Against section 6.1 the parser takes an arrow below NOTE for part of a comment.
        fc.pre(!/NOTE[^\n]*(\n[^\n]+)*-->/.test(lines.join('\n')));
        const file = ['WEBVTT', '', ...lines].join('\n');
        const { cues } = new webvtt.WebVTTParser(entities).parse(file, 'metadata');
        const ours = regionsFromWebVtt(file, far);
        // The parser drops a cue whose times it cannot read, and keeps one that overlaps; we refuse the file.
        const refusable = !ours.ok;
        const sorted = [...cues].sort((a, b) => a.startTime - b.startTime);
        const overlap = sorted.some((cue, i) => i > 0 && cue.startTime < sorted[i - 1]!.endTime);
        const odd = cues.some((cue) => cue.endTime <= cue.startTime);
        if (ours.ok) {
          read.times += cues.length;
          expect(ours.value.regions.map((r) => [r.startSample / 48000, r.endSample / 48000])).toEqual(
            sorted.map((cue) => [cue.startTime, cue.endTime]),
          );
        } else if (!overlap && !odd) {
          const timesRule = ours.problems.every((p) => p.rule.startsWith('must be the times of a cue'));
          expect(refusable && timesRule).toBe(true);
        }
      }),
      { numRuns: 2000, seed: 81 },
    );
    expect(read.times).toBeGreaterThan(200);
  });

  test('is refused with broken or overlapping cues, and where it leaves the clip by more than a millisecond', () => {
    const cue = (times: string): Result<RegionList> => regionsFromWebVtt(`WEBVTT\n\n${times}\nx\n`, clip);
    expect(cue('00:09.000 --> 00:10.001').ok).toBe(true);
    expect(paths(cue('00:09.000 --> 00:10.002'))).toEqual(['line 3, endSample']);
    for (const times of [
      '00:01.000 --> 00:02',
      '-00:01.000 --> 00:02.000',
      '00:01,000 --> 00:02,000',
      '--> 00:01.000',
      '00:01.000 -->',
    ])
      expect(paths(cue(times))).toEqual(['line 3']);
    expect(paths(cue('00:02.000 --> 00:01.000'))).toEqual(['line 3, endSample']);
    expect(paths(cue('00:01.000 --> 00:01.000'))).toEqual(['line 3, endSample']);
    expect(paths(cue(`${'9'.repeat(400)}:00:00.000 --> 00:01.000`))).toContain('line 3, startSample');
    expect(paths(cue('00:01.000 --> 00:02.000\n00:01.500 --> 00:03.000'))).toEqual(['line 4, startSample']);
    expect(() => regionsFromWebVtt(foreign, { sampleRateHz: 4, lengthSamples: 1 })).toThrow(RangeError);
  });

  test('that is huge in any way ends in a problem, not in an exhausted memory', () => {
    const most = 2 ** 20;
    const cue = 'WEBVTT\n\n00:00.000 --> 00:00.001\n';
    expect(regionsFromWebVtt(cue + '<'.repeat(most), clip).ok).toBe(true);
    expect(regionsFromWebVtt(cue + '&'.repeat(most), clip).ok).toBe(true);
    expect(regionsFromWebVtt(cue + 'a<b>'.repeat(most / 4), clip).ok).toBe(true);
    expect(paths(regionsFromWebVtt(cue + '<'.repeat(most + 1), clip))).toEqual(['line 4']);
    expect(paths(regionsFromWebVtt(cue + 'x\n'.repeat(most), clip))).toEqual(['line 3']);
    expect(paths(regionsFromWebVtt(`WEBVTT${'\n'.repeat(3_700_000)}x`, clip))).toEqual(['line 3600001']);
    expect(paths(regionsFromWebVtt(`WEBVTT\n\n${'-->\n'.repeat(1000)}`, clip))).toHaveLength(100);
    expect(paths(regionsFromWebVtt(text.replace('{ "id"', `${'['.repeat(most / 2)}{ "id"`)))).toEqual([
      'line 9',
    ]);
    expect(paths(regionsFromWebVtt(text.replace('{ "id"', `{ "x": ${'['.repeat(most / 2)}, "id"`)))).toEqual([
      'line 5',
    ]);
    expect(paths(regionsFromWebVtt(text.replace('{ "id"', `{ "x": [${'{},'.repeat(1000)}0], "id"`)))).toEqual(
      ['line 5'],
    );
  });
});

describe('any text as a WebVTT file', () => {
  const again = (list: RegionList): Result<RegionList> => regionsFromWebVtt(regionsToWebVtt(list));

  test('with damaged bytes is read soundly or refused', () => {
    const counts = { read: 0, refused: 0 };
    for (const payload of PAYLOADS)
      for (const hurt of damaged(regionsToWebVtt(FILED_LIST, { payload }), 82, 1500))
        counts[checkReading(regionsFromWebVtt(hurt, clip), again)]++;
    // Both ways must have been taken often for the test to mean something.
    expect(counts.read).toBeGreaterThan(100);
    expect(counts.refused).toBeGreaterThan(1000);
  });

  test('made of the pieces of such files is read soundly or refused', () => {
    const region = text.split('\n')[4]!;
    const line = fc.constantFrom(
      ...text.split('\n'),
      ...[
        '',
        '-->',
        '{',
        '{}',
        '[]',
        'NOTE',
        'NOTE {',
        'NOTE {}',
        'NOTE null',
        '\ud800',
        '\0',
        '"',
        'REGION',
        'STYLE',
      ],
      ...['gainDb": NaN', 'id": 1e999', 'startSample": 9007199254740992', 'label": "\ud800'].map((value) =>
        region.replace(/gainDb": -6|id": 1|startSample": 4801|label": "sun/, value),
      ),
    );
    const counts = { read: 0, refused: 0 };
    const start = text.split('\n').slice(0, 4);
    fc.assert(
      fc.property(fc.array(line, { maxLength: 12 }), fc.boolean(), (lines, headed) => {
        const file = [...(headed ? start : ['WEBVTT', '']), ...lines].join('\n');
        counts[checkReading(regionsFromWebVtt(file, clip), again)]++;
      }),
      { numRuns: 3000, seed: 83 },
    );
    expect(counts.read).toBeGreaterThan(100);
    expect(counts.refused).toBeGreaterThan(500);
  });
});
