import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PhoneEvent } from '../../src/evaluation/phone-event.js';
import { type PhoneFigures, phoneFigures } from '../../src/evaluation/phone-figures.js';
import { phoneTally } from '../../src/evaluation/phone-tally.js';
import { type RegionEvent, regionEvents } from '../../src/evaluation/region-events.js';
import { phone, region } from './events.js';

// Every expected value in this file is worked out by hand from the definitions; no published source scores this way.

const score = (phones: PhoneEvent[], regions: RegionEvent[], seconds = 60): PhoneFigures =>
  phoneFigures([phoneTally(phones, regions, seconds)]);

describe('phoneTally and phoneFigures', () => {
  it('score sibilant regions strictly: two hits, a miss and a false one of three labels and three regions', () => {
    const figures = score(
      [
        phone(1, 1.1, 's', 'sibilant'),
        phone(2, 2.1, 'sh', 'sibilant'),
        phone(3, 3.1, 'z', 'sibilant', true),
        phone(4, 4.1, 'f', 'fricative'),
      ],
      [region(1.02, 1.12), region(2, 2.1), region(3, 3.1, 'fricative'), region(4, 4.1)],
    );
    expect(figures).toMatchObject({ sibilantLabels: 3, sibilantRegions: 3, harshRegions: 4 });
    expect(figures.strictF1).toBeCloseTo((2 * 2) / (3 + 3), 12);
    expect(figures.strictPrecision).toBeCloseTo(2 / 3, 12);
    expect(figures.strictRecall).toBeCloseTo(2 / 3, 12);
    expect(figures.falseByPhone).toEqual([{ phone: 'f', count: 1 }]);
    expect(figures.missedByPhone).toEqual([{ phone: 'z', count: 1 }]);
  });

  it('join sibilant labels with less than 5 ms between them, and no others', () => {
    const regions = [region(1, 1.3)];
    const joined = score([phone(1, 1.1, 't+s', 'sibilant'), phone(1.104, 1.3, 's', 'sibilant')], regions);
    expect(joined).toMatchObject({ sibilantLabels: 1, strictF1: 1 });
    const apart = score([phone(1, 1.1, 's', 'sibilant'), phone(1.106, 1.3, 's', 'sibilant')], regions);
    expect(apart.sibilantLabels).toBe(2);
    expect(apart.strictF1).toBeCloseTo(2 / 3, 12);
  });

  it('count an unvoiced sibilant as found by a region of any harsh kind, but not by a breath', () => {
    const phones = [1, 2, 3, 4].map((t) => phone(t, t + 0.1, 's', 'sibilant'));
    const kinds = ['sibilant', 'fricative', 'burst', 'breath'] as const;
    const regions = kinds.map((kind, i) => region(i + 1, i + 1.1, kind));
    const figures = score([...phones, phone(6, 6.1, 'z', 'sibilant', true)], regions);
    expect(figures).toMatchObject({ unvoicedLabels: 4, unvoicedRecall: 0.75, strictRecall: 0.2 });
  });

  it('count a joined label as unvoiced when any part of it is', () => {
    const figures = score(
      [phone(1, 1.1, 'z', 'sibilant', true), phone(1.1, 1.2, 's', 'sibilant')],
      [region(1, 1.2)],
    );
    expect(figures).toMatchObject({ unvoicedLabels: 1, unvoicedRecall: 1 });
  });

  it('call a place wrong where less than 30 % lies within 20 ms of an obstruent, and say what is there', () => {
    const phones = [
      phone(0, 1, 'a', 'sonorant'),
      phone(1, 1.1, 's', 'sibilant'),
      phone(1.1, 2, 'pau', 'silence'),
      phone(2, 3, 'br', 'breath'),
    ];
    // 1.1 + 20 ms margin ends at 1.12: 30 ms of 100 is right, 29 is wrong.
    const place = (start: number, end: number) => {
      const { wrongPlace, ...rest } = score(phones, [region(start, end)]);
      const { wrongPlaceSonorant: sonorant, wrongPlaceSilence: silence, wrongPlaceBreath: breath } = rest;
      return wrongPlace === 0 ? 'right' : { sonorant, silence, breath };
    };
    expect(place(1.09, 1.19)).toBe('right');
    expect(place(1.091, 1.191)).toEqual({ sonorant: 0, silence: 1, breath: 0 });
    expect(place(0.91, 1.01)).toBe('right');
    expect(place(0.4, 0.5)).toEqual({ sonorant: 1, silence: 0, breath: 0 });
    expect(place(2.4, 2.5)).toEqual({ sonorant: 0, silence: 0, breath: 1 });
    // Beyond the last label nothing is known to sound.
    expect(place(5, 5.1)).toEqual({ sonorant: 0, silence: 1, breath: 0 });
  });

  it('do not call breath and noise regions harsh, so they are never in the wrong place', () => {
    const figures = score(
      [phone(0, 1, 'a', 'sonorant')],
      [region(0, 0.5, 'breath'), region(0.5, 1, 'noise')],
    );
    expect(figures).toMatchObject({ harshRegions: 0, wrongPlace: null, voicedCutMsPerMinute: 0 });
  });

  it('count voiced sound as cut only where a region reaches more than 20 ms into a run of it', () => {
    const phones = [
      phone(0, 0.99, 'a', 'sonorant'),
      phone(0.99, 1, 'n', 'sonorant'),
      phone(1, 1.1, 's', 'sibilant'),
      phone(1.1, 2, 'i', 'sonorant'),
    ];
    const cut = (start: number, end: number, seconds: number) =>
      score(phones, [region(start, end)], seconds).voicedCutMsPerMinute;
    expect(cut(0.98, 1.12, 60)).toBe(0);
    // 25 ms before (across two labels of one run) and 20 ms after: the 25 count.
    expect(cut(0.975, 1.12, 60)).toBeCloseTo(25, 9);
    expect(cut(0.975, 1.15, 60)).toBeCloseTo(75, 9);
    expect(cut(0.975, 1.15, 30)).toBeCloseTo(150, 9);
  });

  it('look for the release of t and k up to 30 ms after the label, and ask what it was called', () => {
    const phones = [
      phone(1, 1.06, 't', 'stop'),
      phone(2, 2.06, 'k', 'stop'),
      phone(3, 3.06, 't', 'stop'),
      phone(4, 4.06, 'p', 'stop'),
    ];
    const figures = score(phones, [
      // 20 of its 40 ms lie before 1.09: half.
      region(1.07, 1.11, 'burst'),
      region(2.04, 2.08, 'sibilant'),
      // 19 of 40 ms.
      region(3.071, 3.111, 'burst'),
      region(4.04, 4.08, 'burst'),
    ]);
    expect(figures.tongueStopLabels).toBe(3);
    expect(figures.tongueStopsFound).toBeCloseTo(2 / 3, 12);
    expect(figures.tongueStopsTold).toBe(0.5);
  });

  it('do not blame the region of an s for a t before it that has none of its own', () => {
    const figures = score(
      [phone(1, 1.06, 't', 'stop'), phone(1.06, 1.2, 's', 'sibilant'), phone(3, 3.06, 'k', 'stop')],
      [region(1.04, 1.2), region(3.02, 3.06, 'burst')],
    );
    // 50 of 90 ms of the widened t lie in the region of the s.
    expect(figures).toMatchObject({ tongueStopsFound: 1, tongueStopsTold: 0.5, tongueStopsToldApart: 1 });
  });

  it('tell breaths called breath from breaths called harsh', () => {
    const phones = [1, 2, 3, 4].map((t) => phone(t, t + 0.5, 'br', 'breath'));
    const figures = score(phones, [
      region(1, 1.5, 'breath'),
      region(2, 2.5, 'breath'),
      region(3, 3.5, 'fricative'),
    ]);
    expect(figures).toMatchObject({ breathLabels: 4, breathsTold: 0.5, breathsHarsh: 0.25 });
  });

  it('measure the edges of matched sibilants: median and 90th percentile of the error, late above 0', () => {
    const phones = [1, 2, 3].map((t) => phone(t, t + 0.2, 's', 'sibilant'));
    const { edges } = score(phones, [region(1.01, 1.19), region(2.02, 2.205), region(2.99, 3.23)]);
    // Starts +10, +20, −10 ms; ends −10, +5, +30 ms. 90th percentile of 10, 10, 20 lies at position 1.8: 18 ms; of 5, 10, 30: 26 ms.
    expect(edges?.start.medianSeconds).toBeCloseTo(0.01, 9);
    expect(edges?.start.p90Seconds).toBeCloseTo(0.018, 9);
    expect(edges?.start.biasSeconds).toBeCloseTo(0.01, 9);
    expect(edges?.end.medianSeconds).toBeCloseTo(0.01, 9);
    expect(edges?.end.p90Seconds).toBeCloseTo(0.026, 9);
    expect(edges?.end.biasSeconds).toBeCloseTo(0.005, 9);
  });

  it('sum counts over clips before making rates, and clips never meet in time', () => {
    const hit = phoneTally([phone(1, 1.1, 's', 'sibilant')], [region(1, 1.1)], 30);
    const miss = phoneTally([phone(1, 1.1, 's', 'sibilant')], [], 30);
    const invented = phoneTally([], [region(1, 1.1)], 60);
    const figures = phoneFigures([hit, miss, invented]);
    expect(figures).toMatchObject({ strictF1: 0.5, strictRecall: 0.5, strictPrecision: 0.5 });
    expect(figures.durationSeconds).toBe(120);
    expect(figures.falseByPhone).toEqual([{ phone: '-', count: 1 }]);
  });

  it('judge each region by the labels of its own kind, for calibration', () => {
    const tally = phoneTally(
      [phone(1, 1.1, 's', 'sibilant'), phone(2, 2.06, 't', 'stop'), phone(3, 3.1, 'f', 'fricative')],
      [region(1, 1.1), region(2, 2.06), region(3, 3.1, 'fricative', 0.4), region(4, 4.1, 'noise')],
      60,
    );
    expect(tally.decisions).toEqual([
      { kind: 'sibilant', confidence: 0.9, right: true },
      { kind: 'sibilant', confidence: 0.9, right: false },
      { kind: 'fricative', confidence: 0.4, right: true },
    ]);
  });

  it('have nothing to say of nothing', () => {
    expect(phoneFigures([])).toMatchObject({
      strictF1: null,
      unvoicedRecall: null,
      voicedCutMsPerMinute: null,
      edges: null,
    });
  });

  it('are perfect where every obstruent and breath is a region of its kind with its edges', () => {
    const kinds = { sibilant: 'sibilant', fricative: 'fricative', stop: 'burst', breath: 'breath' } as const;
    const classes = fc.constantFrom('sibilant', 'fricative', 'stop', 'breath', 'sonorant', 'silence');
    const steps = fc.array(fc.tuple(classes, fc.integer({ min: 30, max: 300 })), {
      minLength: 1,
      maxLength: 20,
    });
    fc.assert(
      fc.property(steps, (list) => {
        let time = 0;
        const phones = list.map(([phoneClass, ms]) => {
          const start = time;
          time += ms + 40;
          return phone(start / 1000, (start + ms) / 1000, phoneClass === 'stop' ? 't' : 'x', phoneClass);
        });
        const regions = phones.flatMap((p) =>
          p.phoneClass in kinds
            ? [region(p.startSeconds, p.endSeconds, kinds[p.phoneClass as keyof typeof kinds])]
            : [],
        );
        const figures = score(phones, regions, time / 1000);
        for (const rate of [
          figures.strictF1,
          figures.unvoicedRecall,
          figures.tongueStopsFound,
          figures.tongueStopsTold,
          figures.breathsTold,
        ])
          expect(rate ?? 1).toBe(1);
        expect(figures.wrongPlace ?? 0).toBe(0);
        expect(figures.voicedCutMsPerMinute).toBe(0);
        expect(figures.edges?.end.p90Seconds ?? 0).toBe(0);
      }),
    );
  });
});

describe('regionEvents', () => {
  it('takes the measured edges where there are any and the reach of the gain where there are none', () => {
    const common = { startSample: 900, endSample: 3100, confidence: 1 };
    const events = regionEvents(
      [
        { ...common, kind: 'sibilant', onsetSample: 1000, offsetSample: 3000 },
        { ...common, kind: 'custom', onsetSample: null, offsetSample: null },
      ],
      10_000,
    );
    expect(events.map((e) => [e.startSeconds, e.endSeconds, e.label])).toEqual([
      [0.1, 0.3, 'sibilant'],
      [0.09, 0.31, 'custom'],
    ]);
  });

  it('refuses a region without edges, and one that ends where it starts', () => {
    const region = { kind: 'sibilant', confidence: 1 } as const;
    expect(() => regionEvents([{ ...region, onsetSample: null, offsetSample: 5 }], 8000)).toThrow(TypeError);
    expect(() => regionEvents([{ ...region, onsetSample: 5, offsetSample: 5 }], 8000)).toThrow(RangeError);
  });
});
