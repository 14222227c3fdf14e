import fc from 'fast-check';
import { decode } from 'fast-png';
import { describe, expect, it } from 'vitest';
import { gainAt } from '../../src/gain/gain-at.js';
import { gainBreakpoints } from '../../src/gain/gain-breakpoints.js';
import { renderGain } from '../../src/gain/render-gain.js';
import { gainAxis } from '../../src/picture/draw-gain.js';
import { gainColumns, gainLine } from '../../src/picture/gain-line.js';
import { kindCoverage } from '../../src/picture/kind-coverage.js';
import { peakEnvelope } from '../../src/picture/peak-envelope.js';
import { SHADES, spectrogramImage } from '../../src/picture/spectrogram-image.js';
import { LEAST_LEVEL_DB, spectrogramLevels } from '../../src/picture/spectrogram-levels.js';
import { strongestRegions } from '../../src/picture/strongest-regions.js';
import { list, noise, region } from './material.js';

const decibels = (gain: number): number => 20 * Math.log10(gain);

describe('gainLine', () => {
  it('has the closed-form value in the middle of each fade shape', () => {
    const g = 10 ** (-6 / 20);
    // Both the straight and the raised-cosine fade stand at the mean of the two gains half way; the decibel fade at half the decibels.
    const expected = { linear: decibels((1 + g) / 2), raisedCosine: decibels((1 + g) / 2), decibel: -3 };
    for (const fadeShape of ['linear', 'raisedCosine', 'decibel'] as const) {
      const one = region({
        startSample: 100,
        endSample: 300,
        fadeInSamples: 40,
        fadeOutSamples: 40,
        fadeShape,
      });
      const points = gainBreakpoints(list(400, [one]));
      const at = (sample: number): number => {
        const line = gainLine(points, 0, 400);
        const after = line.findIndex((p) => p.sample > sample);
        const p = line[after - 1] as { sample: number; gainDb: number };
        const q = line[after] as { sample: number; gainDb: number };
        return p.gainDb + ((q.gainDb - p.gainDb) * (sample - p.sample)) / (q.sample - p.sample);
      };
      // To the rounding of doubles: sample 120 is a corner of the line, or on a straight one.
      expect(at(120)).toBeCloseTo(expected[fadeShape], 9);
      expect(at(280)).toBeCloseTo(expected[fadeShape], 9);
      expect(at(50)).toBe(0);
      expect(at(200)).toBe(-6);
    }
  });

  it('follows the rendered gain of a cut within a tenth of a decibel everywhere', () => {
    for (const fadeShape of ['linear', 'raisedCosine', 'decibel'] as const) {
      const one = region({
        startSample: 100,
        endSample: 700,
        fadeInSamples: 200,
        fadeOutSamples: 200,
        fadeShape,
      });
      const clip = list(800, [one]);
      const line = gainLine(gainBreakpoints(clip), 0, 800);
      for (let sample = 0; sample < 800; sample++) {
        const after = line.findIndex((p) => p.sample > sample);
        const p = line[after - 1] as { sample: number; gainDb: number };
        const q = line[after] as { sample: number; gainDb: number };
        const drawn = p.gainDb + ((q.gainDb - p.gainDb) * (sample - p.sample)) / (q.sample - p.sample);
        expect(Math.abs(drawn - decibels(gainAt(clip, sample)))).toBeLessThan(0.1);
      }
    }
  });

  it('begins and ends exactly at the range, also inside a region', () => {
    const clip = list(400, [region({ startSample: 100, endSample: 300 })]);
    const line = gainLine(gainBreakpoints(clip), 150, 350);
    expect(line).toEqual([
      { sample: 150, gainDb: -6 },
      { sample: 300, gainDb: -6 },
      { sample: 300, gainDb: 0 },
      { sample: 350, gainDb: 0 },
    ]);
  });
});

describe('gainColumns', () => {
  it('holds the gain of every sample of its column between its least and its most', () => {
    const clip = list(1000, [
      region({ startSample: 90, endSample: 200, fadeInSamples: 30, fadeOutSamples: 30 }),
      region({ startSample: 200, endSample: 230, gainDb: -12, fadeShape: 'decibel', fadeInSamples: 9 }),
      region({ startSample: 500, endSample: 501, gainDb: -20 }),
    ]);
    for (const columns of [1, 7, 100, 1000]) {
      const { leastDb, mostDb } = gainColumns(gainBreakpoints(clip), 0, 1000, columns);
      for (let s = 0; s < 1000; s++) {
        const c = Math.floor((s * columns) / 1000);
        const db = decibels(gainAt(clip, s));
        expect(db).toBeGreaterThanOrEqual((leastDb[c] as number) - 1e-9);
        expect(db).toBeLessThanOrEqual((mostDb[c] as number) + 1e-9);
      }
      expect(Math.min(...leastDb)).toBeCloseTo(-20, 9);
    }
  });
});

describe('gainAxis', () => {
  it('always holds 0 dB and never more ticks than asked for', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1200, max: 0 }).map((tenths) => tenths / 10),
        fc.integer({ min: 0, max: 240 }).map((tenths) => tenths / 10),
        (least, most) => {
          const axis = gainAxis(least, most, 4);
          expect(axis.ticksDb).toContain(0);
          expect(axis.ticksDb.length).toBeLessThanOrEqual(4);
          expect(axis.mostDb).toBeGreaterThanOrEqual(most);
          expect(axis.leastDb).toBeLessThanOrEqual(Math.max(-24, least));
        },
      ),
    );
  });
});

describe('peakEnvelope', () => {
  it('equals a plain search over the recording and over renderGain, for any range and number of columns', () => {
    const left = noise(40_000, 1);
    const right = noise(40_000, 2);
    const clip = list(40_000, [
      region({ startSample: 300, endSample: 900, fadeInSamples: 100, fadeOutSamples: 50 }),
      region({ startSample: 16_380, endSample: 16_400, gainDb: -18 }),
      region({ startSample: 30_000, endSample: 39_999, gainDb: 6, fadeInSamples: 1000 }),
    ]);
    const rendered = renderGain([left, right], clip);
    const span = fc.tuple(
      fc.nat(39_999),
      fc.integer({ min: 1, max: 40_000 }),
      fc.integer({ min: 1, max: 300 }),
    );
    fc.assert(
      fc.property(span, ([start, length, columns]) => {
        const end = Math.min(40_000, start + length);
        const found = peakEnvelope([left, right], clip, start, end, columns);
        for (let c = 0; c < columns; c++) {
          const from = start + Math.floor(((end - start) * c) / columns);
          const to = Math.min(end - 1, start + Math.floor(((end - start) * (c + 1)) / columns));
          const search = (channels: readonly Float32Array[]): [number, number] => {
            let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
            for (const channel of channels)
              for (let i = from; i <= to; i++) {
                low = Math.min(low, channel[i] as number);
                high = Math.max(high, channel[i] as number);
              }
            return [low, high];
          };
          const before = [found.beforeLeast[c], found.beforeMost[c]];
          const after = [found.afterLeast[c], found.afterMost[c]];
          if (JSON.stringify(before) !== JSON.stringify(search([left, right])))
            expect(before).toEqual(search([left, right]));
          if (JSON.stringify(after) !== JSON.stringify(search(rendered)))
            expect(after).toEqual(search(rendered));
        }
      }),
      { numRuns: 60, examples: [[[0, 40_000, 1]], [[39_999, 1, 300]], [[16_383, 2, 2]]] },
    );
  });
});

describe('spectrogramLevels', () => {
  const range = {
    startSample: 0,
    endSample: 48_000,
    topFrequencyHz: 12_000,
    columns: 100,
    rows: 120,
    tiltDbPerOctave: 0,
  };
  const tone = (hz: number, rateHz = 48_000, length = 48_000): Float32Array<ArrayBuffer> =>
    Float32Array.from({ length }, (_, i) => Math.sin((2 * Math.PI * hz * i) / rateHz));
  const row = (hz: number): number => 119 - Math.floor(hz / 100);

  it('reads 0 dB for a full-scale sine, in the row of its frequency', () => {
    for (const hz of [1050, 4050, 10_050]) {
      const { levelsDb, columns } = spectrogramLevels([tone(hz)], 48_000, range);
      const column = Array.from({ length: 120 }, (_, r) => levelsDb[r * columns + 50] as number);
      expect(column.indexOf(Math.max(...column))).toBe(row(hz));
      // Padded to twice the frame, a Hann window's scalloping is at most 0.36 dB (closed form).
      expect(column[row(hz)]).toBeLessThan(0.01);
      expect(column[row(hz)]).toBeGreaterThan(-0.4);
      // Five main-lobe widths away the Hann side lobes lie below −31 dB (Harris 1978, from memory).
      expect(column[row(hz) - 10]).toBeLessThan(-31);
    }
  });

  it('averages powers over channels: one silent channel of two costs 3.01 dB, whatever the polarity of the other', () => {
    const a = tone(4050);
    const alone = spectrogramLevels([a], 48_000, range).levelsDb[row(4050) * 100 + 50] as number;
    const half = spectrogramLevels([a, new Float32Array(48_000)], 48_000, range).levelsDb[
      row(4050) * 100 + 50
    ] as number;
    const opposed = spectrogramLevels([a, a.map((x) => -x)], 48_000, range).levelsDb[
      row(4050) * 100 + 50
    ] as number;
    // 10·log10(1/2); levels are stored as 32-bit floats.
    expect(half - alone).toBeCloseTo(-3.0103, 4);
    expect(opposed).toBeCloseTo(alone, 5);
  });

  it('lifts by the tilt: 12 dB at 4 kHz for 6 dB per octave, −6 dB at 500 Hz', () => {
    const flat = spectrogramLevels([noise(48_000, 3)], 48_000, range).levelsDb;
    const tilted = spectrogramLevels([noise(48_000, 3)], 48_000, { ...range, tiltDbPerOctave: 6 }).levelsDb;
    const lift = (hz: number): number =>
      (tilted[row(hz) * 100 + 9] as number) - (flat[row(hz) * 100 + 9] as number);
    // The row's middle is 50 Hz above the row's foot.
    expect(lift(4000)).toBeCloseTo(6 * Math.log2(4.05), 4);
    expect(lift(500)).toBeCloseTo(6 * Math.log2(0.55), 4);
  });

  it('puts a click into its column alone, give or take a frame', () => {
    const click = new Float32Array(48_000);
    click[24_000] = 1;
    const { levelsDb, columns, frameSamples } = spectrogramLevels([click], 48_000, range);
    const reach = Math.ceil(frameSamples / 2 / 480) + 1;
    for (let c = 0; c < columns; c++)
      if (Math.abs(c - 50) > reach) expect(levelsDb[60 * columns + c]).toBe(LEAST_LEVEL_DB);
    expect(Math.max(...levelsDb.subarray(60 * columns, 61 * columns))).toBeGreaterThan(-70);
  });

  it('looks at no more than four frames for each column, however long the clip', () => {
    const long = spectrogramLevels([new Float32Array(8000 * 600)], 8000, {
      ...range,
      endSample: 8000 * 600,
      topFrequencyHz: 4000,
    });
    expect(long.framesPerColumn).toBe(4);
    expect(spectrogramLevels([tone(100)], 48_000, range).framesPerColumn).toBe(1);
  });

  it('reads silence as the least level', () => {
    expect(Math.max(...spectrogramLevels([new Float32Array(48_000)], 48_000, range).levelsDb)).toBe(
      LEAST_LEVEL_DB,
    );
  });

  it('becomes a PNG with even steps in dB', () => {
    const levelsDb = Float32Array.from({ length: SHADES }, (_, i) => -70 + (60 * i) / (SHADES - 1));
    const uri = spectrogramImage(
      { columns: SHADES, rows: 1, levelsDb, frameSamples: 1, framesPerColumn: 1 },
      -70,
      -10,
    );
    const png = decode(Buffer.from(uri.replace('data:image/png;base64,', ''), 'base64'));
    expect([png.width, png.height]).toEqual([SHADES, 1]);
    expect(Array.from(png.data)).toEqual(Array.from({ length: SHADES }, (_, i) => i));
  });
});

describe('kindCoverage', () => {
  it('adds up, over all columns, to the time that the regions cover', () => {
    const clip = list(1000, [
      region({ startSample: 10, endSample: 60 }),
      region({ startSample: 60, endSample: 200, confidence: 0.2 }),
      region({ startSample: 300, endSample: 301, kind: 'click' }),
    ]);
    for (const columns of [3, 40, 999]) {
      const found = kindCoverage(clip, 0, 1000, columns, 0.5);
      expect(found.map((f) => f.kind)).toEqual(['sibilant', 'click']);
      const time = (shares: Float64Array | undefined = new Float64Array(0)): number =>
        shares.reduce((a, b) => a + b, 0) * (1000 / columns);
      expect(time(found[0]?.all)).toBeCloseTo(190, 6);
      expect(time(found[0]?.certain)).toBeCloseTo(50, 6);
      expect(time(found[1]?.all)).toBeCloseTo(1, 6);
    }
  });
});

describe('strongestRegions', () => {
  it('takes the cuts that remove the most hiss, in time order, and none beside a stronger one', () => {
    const samples = noise(100_000, 4);
    // A loud one at 20,000, a weaker one right beside it, a middling one at 60,000, a louder but untouched one at 90,000.
    const scale = (from: number, to: number, by: number): void => {
      for (let i = from; i < to; i++) samples[i] = (samples[i] as number) * by;
    };
    scale(0, 100_000, 0.01);
    scale(20_000, 22_000, 50);
    scale(60_000, 62_000, 20);
    scale(90_000, 92_000, 90);
    const clip = list(100_000, [
      region({ startSample: 20_000, endSample: 22_000 }),
      region({ startSample: 22_500, endSample: 24_000 }),
      region({ startSample: 60_000, endSample: 62_000 }),
      region({ startSample: 90_000, endSample: 92_000, gainDb: 0 }),
    ]);
    const starts = (count: number): number[] =>
      strongestRegions([samples], clip, count, 1000).map((d) => d.region.startSample);
    expect(starts(1)).toEqual([20_000]);
    expect(starts(2)).toEqual([20_000, 60_000]);
    expect(starts(9)).toEqual([20_000, 60_000, 90_000]);
    expect(starts(0)).toEqual([]);
  });

  it('takes the deeper of two cuts of the same sound', () => {
    const once = noise(2000, 5);
    const samples = new Float32Array(50_000);
    samples.set(once, 10_000);
    samples.set(once, 30_000);
    const [shallow, deep] = [
      region({ startSample: 10_000, endSample: 12_000, gainDb: -3 }),
      region({ startSample: 30_000, endSample: 32_000, gainDb: -12 }),
    ];
    const [first] = strongestRegions([samples], list(50_000, [shallow, deep]), 1, 100);
    expect(first?.region.gainDb).toBe(-12);
  });

  it('keeps the stretches inside the clip', () => {
    const [detail] = strongestRegions(
      [noise(500, 1)],
      list(500, [region({ startSample: 10, endSample: 490 })]),
      1,
      1000,
    );
    expect([detail?.startSample, detail?.endSample]).toEqual([0, 500]);
  });
});
