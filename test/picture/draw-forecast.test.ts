import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import type { Forecast, RegionRise } from '../../src/forecast/forecast-rise.js';
import { forecastRise } from '../../src/forecast/forecast-rise.js';
import { drawForecast } from '../../src/picture/draw-forecast.js';
import { REGION_KINDS, type RegionList } from '../../src/regions/region.js';
import { list, random, region } from './material.js';

const RATE = 8000;

/** A forecast of our own making: for each region the level into the chain and what each stage adds; null: no rise. */
function made(
  regions: RegionList,
  figures: readonly (readonly [number, ...number[]] | null)[],
  statements: readonly string[],
): Forecast {
  const rises = regions.regions.map(({ id, kind }, i): RegionRise => {
    const [beforeDb, ...stages] = figures[i] ?? [null];
    const sum = stages.reduce((a, b) => a + b, 0);
    return {
      id,
      kind,
      beforeDb: beforeDb ?? null,
      afterDb: beforeDb === null || beforeDb === undefined ? null : beforeDb + sum,
      riseDb: beforeDb === null ? null : sum,
      byStage: statements.map((_, stage) => {
        const riseDb = stages[stage] ?? null;
        return { stage, noiseChangeDb: riseDb, voiceChangeDb: 0, riseDb, effect: null };
      }),
    };
  });
  return {
    sampleRateHz: RATE,
    byId: new Map(rises.map((rise) => [rise.id, rise])),
    medianRiseDb: null,
    stages: statements.map((statement, index) => ({
      index,
      kind: 'equaliser',
      name: 'x',
      medianRiseDb: null,
      effects: null,
      statement,
    })),
  };
}

/** Regions of a tenth of their slot, in slots of equal length. */
function evenly(count: number, seconds: number): RegionList {
  const slot = (seconds * RATE) / count;
  return list(
    seconds * RATE,
    Array.from({ length: count }, (_, i) =>
      region({
        startSample: Math.floor(i * slot),
        endSample: Math.floor(i * slot + slot / 10) + 1,
        kind: REGION_KINDS[i % 8] as (typeof REGION_KINDS)[number],
      }),
    ),
    RATE,
  );
}

/** Fails unless a strict XML parser and an SVG renderer take the text; gives the pixels. */
function render(svg: string): { at: (x: number, y: number) => number[]; width: number; height: number } {
  const picture = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  const { pixels, width, height } = picture;
  return { at: (x, y) => [...pixels.subarray(4 * (y * width + x), 4 * (y * width + x) + 3)], width, height };
}

interface Mark {
  readonly x: number;
  readonly y: number;
  readonly hollow: boolean;
}

interface Column {
  readonly bars: readonly { x: number; y: number; width: number; height: number; fill: string }[];
  readonly marks: readonly Mark[];
}

function numbersOf(markup: string, names: readonly string[]): number[] {
  return names.map((name) => Number(new RegExp(` ${name}="([^"]*)"`).exec(markup)?.[1]));
}

function columns(svg: string): readonly Column[] {
  return [...svg.matchAll(/<g>(.*?)<\/g>/g)].map(([, inside = '']) => ({
    bars: [...inside.matchAll(/<rect[^>]*>/g)].map(([markup]) => {
      const [x = 0, y = 0, width = 0, height = 0] = numbersOf(markup, ['x', 'y', 'width', 'height']);
      return { x: x + width / 2, y, width, height, fill: /fill="([^"]*)"/.exec(markup)?.[1] ?? '' };
    }),
    marks: [...inside.matchAll(/<circle[^>]*>/g)].map(([markup]) => {
      const [x = 0, y = 0] = numbersOf(markup, ['cx', 'cy']);
      return { x, y, hollow: markup.includes('fill="#fcfaf5"') };
    }),
  }));
}

/** Height of the line at 0 dB and of the dashed target. */
function lineAt(svg: string, stroke: string): number {
  return Number(new RegExp(`<path d="M84 ([0-9.]+)L1172 \\1" stroke="${stroke}`).exec(svg)?.[1]);
}

describe('drawForecast', () => {
  it('puts every mark at the middle of its region in time and at its level in dB', () => {
    const regions = list(
      10 * RATE,
      [
        region({ startSample: RATE, endSample: 2 * RATE }),
        region({ startSample: 5 * RATE, endSample: 6 * RATE, kind: 'burst' }),
      ],
      RATE,
    );
    const svg = drawForecast(
      regions,
      made(
        regions,
        [
          [-9, 4, 2],
          [-6, 5, 4],
        ],
        ['1.', '2.'],
      ),
      { targetDb: -3 },
    );
    const [first, second] = columns(svg) as [Column, Column];
    // The plot runs from x = 84 to 1172, so 1.5 s and 5.5 s of 10 s are 84 + 0.15 and 0.55 of 1088. Coordinates have two
    // decimals: 0.01 is twice their rounding.
    for (const mark of first.marks) expect(Math.abs(mark.x - 247.2)).toBeLessThan(0.01);
    for (const mark of second.marks) expect(Math.abs(mark.x - 682.4)).toBeLessThan(0.01);
    // Levels from −9 to +3 take the 300 pixels of the plot: 25 pixels a dB, downwards.
    const zero = lineAt(svg, '#211c28');
    const dB = (y: number): number => (zero - y) / 25;
    expect(first.marks.map((m) => [dB(m.y), m.hollow])).toEqual([
      [-9, true],
      [-3, false],
    ]);
    expect(second.marks.map((m) => [dB(m.y), m.hollow])).toEqual([
      [-6, true],
      [3, false],
    ]);
    expect(dB(lineAt(svg, '#a8123e'))).toBe(-3);
    // Each part begins where the one before it ends.
    expect(first.bars.map((b) => [dB(b.y + b.height), dB(b.y)])).toEqual([
      [-9, -5],
      [-5, -3],
    ]);
    expect(new Set(first.bars.map((b) => b.fill)).size).toBe(2);
    expect(svg).toMatch(/>S \+6</);
    expect(svg).toMatch(/>T \+9</);
    expect(svg).toContain('1 louder than the voice beside');
    expect(svg).toContain('1 above the target of −3 dB');
  });

  it('lets a stage that goes the other way continue beside the one before it', () => {
    const regions = list(RATE, [region({ startSample: 100, endSample: 900 })], RATE);
    const svg = drawForecast(regions, made(regions, [[-6, 4, -3, 2]], ['1.', '2.', '3.']));
    const [column] = columns(svg) as [Column];
    const { bars, marks } = column;
    expect(bars).toHaveLength(3);
    for (const [i, bar] of bars.entries())
      for (const other of bars.slice(i + 1))
        expect(other.x - other.width / 2).toBeGreaterThan(bar.x + bar.width / 2);
    expect(marks[0]?.x).toBe(bars[0]?.x);
    expect(marks[1]?.x).toBe(bars[2]?.x);
    expect(svg).toContain('the bar goes on to the right');
    // A turn too small to see moves nothing.
    const small = drawForecast(regions, made(regions, [[-6, 4, -0.1, 2]], ['1.', '2.', '3.']));
    expect(new Set((columns(small)[0] as Column).bars.map((bar) => bar.x)).size).toBe(1);
  });

  it('paints a filled mark in ink and a hollow one in paper where the renderer puts them', () => {
    const regions = list(RATE, [region({ startSample: 3000, endSample: 5000 })], RATE);
    const svg = drawForecast(regions, made(regions, [[-12, 8]], ['1.']));
    const [{ marks }] = columns(svg) as [Column];
    const [hollow, filled] = [marks[0] as Mark, marks[1] as Mark];
    const { at } = render(svg);
    expect(at(Math.round(hollow.x), Math.round(hollow.y))).toEqual([0xfc, 0xfa, 0xf5]);
    expect(at(Math.round(filled.x), Math.round(filled.y))).toEqual([0x21, 0x1c, 0x28]);
  });

  it('escapes and shortens every text from outside', () => {
    const regions = evenly(1, 1);
    const evil = `</text><script>alert("1")</script>&'\u0000\ud800`;
    const svg = drawForecast(regions, made(regions, [[-6, 2]], [`1. ${evil} ${'long '.repeat(5000)}`]), {
      name: evil,
      title: `${evil}${'W'.repeat(100_000)}`,
    });
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;script&gt;');
    // A picture of one region is a few thousand characters; neither 100,000 nor 25,000 of text may get in.
    expect(svg.length).toBeLessThan(12_000);
    expect(render(svg).width).toBe(1200);
  });

  it('says so where no region has a rise, and counts those without one', () => {
    const none = list(0, [], RATE);
    const empty = drawForecast(none, made(none, [], ['1. nothing to compare.']));
    expect(empty).toContain('No region has a rise.');
    expect(empty).toContain('>1. nothing to compare.<');
    expect(render(empty).width).toBe(1200);
    const three = evenly(3, 2);
    const silent = drawForecast(three, made(three, [null, null, null], []));
    expect(silent).toContain('No region has a rise.');
    expect(silent).toContain('Not shown: 3 regions');
    const one = drawForecast(three, made(three, [null, [-3, 1], null], ['1.']));
    expect(columns(one)).toHaveLength(1);
    expect(one).toContain('Not shown: 2 regions');
    render(one);
  });

  it('joins the marks by a plain line where a stage has no rise', () => {
    const one = evenly(1, 1);
    const svg = drawForecast(one, made(one, [[-6, 3]], ['1.', '2.']));
    const [column] = columns(svg) as [Column];
    expect(column.bars).toHaveLength(0);
    expect(column.marks).toHaveLength(2);
  });

  it('draws what is beyond the scale at its edge and says so', () => {
    const two = evenly(2, 4);
    const svg = drawForecast(
      two,
      made(
        two,
        [
          [-130, 5],
          [80, 1],
        ],
        ['1.'],
      ),
    );
    const [low, high] = columns(svg) as [Column, Column];
    expect((low.marks[0]?.y as number) - (high.marks[0]?.y as number)).toBe(300);
    expect(svg).toContain('2 regions beyond the scale');
  });

  it('keeps 5,000 regions small and shows the loudest behind the chain of each slot', () => {
    const many = evenly(5000, 600);
    const next = random(3);
    const figures = many.regions.map((): [number, number] => [-20 + 10 * next(), 4 * next()]);
    figures[2500] = [0, 9];
    const svg = drawForecast(many, made(many, figures, ['1.']));
    expect(columns(svg)).toHaveLength(150);
    // 150 columns of about 500 characters, their labels and the axes; a column a region would take 2.5 million.
    expect(svg.length).toBeLessThan(200_000);
    const { id, kind } = many.regions[2500] as RegionList['regions'][number];
    expect(svg).toContain(`<title>${kind} ${id} · `);
    // Every other ends at −10 + 4 dB at most, so only this one is above 0.
    expect(svg).toContain('behind the chain 1 louder than the voice beside');
    expect(svg).toContain('150 columns stand for 5000 regions');
    render(svg);
  });

  it('takes what forecastRise returns, for some of the kinds', () => {
    const samples = Float32Array.from({ length: RATE }, (_, i) =>
      i >= 3000 && i < 3800
        ? 0.1 * Math.sin((2 * Math.PI * 3000 * i) / RATE)
        : 0.2 * Math.sin((2 * Math.PI * 200 * i) / RATE),
    );
    const regions = list(
      RATE,
      [
        region({ startSample: 3000, endSample: 3800, gainDb: 0 }),
        region({ startSample: 5000, endSample: 5500, kind: 'breath' }),
      ],
      RATE,
    );
    const chain = {
      stages: [{ kind: 'equaliser', filters: [{ kind: 'highShelf', frequencyHz: 1000, gainDb: 6 }] }],
    } as const;
    const svg = drawForecast(regions, forecastRise(samples, regions, chain, { kinds: ['sibilant'] }), {
      name: 'x',
    });
    expect(columns(svg)).toHaveLength(1);
    expect(svg).toContain('>1. equaliser: median rise +');
    expect(svg).toBe(
      drawForecast(regions, forecastRise(samples, regions, chain, { kinds: ['sibilant'] }), { name: 'x' }),
    );
  });

  it('refuses a forecast of another list and options out of range', () => {
    const one = evenly(1, 1);
    const good = made(one, [[-6, 3]], ['1.']);
    expect(() => drawForecast(one, { ...good, sampleRateHz: 48_000 })).toThrow(/sampleRateHz.*48000/);
    expect(() => drawForecast(list(RATE, [], RATE), good)).toThrow(/byId must name regions of the list.*1/);
    expect(() => drawForecast(one, made(one, [[Number.NaN, 3]], ['1.']))).toThrow(/beforeDb must be finite/);
    expect(() => drawForecast(one, good, { targetDb: -40 })).toThrow(/targetDb must lie within \[-36, 36\]/);
    expect(() => drawForecast(one, good, { name: 3 as unknown as string })).toThrow(TypeError);
  });
});
