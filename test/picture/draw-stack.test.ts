import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { drawStack } from '../../src/picture/draw-stack.js';
import { MOST_PICTURE_BYTES } from '../../src/picture/draw-take.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { holdSum } from '../../src/takes/hold-sum.js';
import { measureGroups } from '../../src/takes/measure-groups.js';
import type { Take } from '../../src/takes/take.js';
import { evenNoise, silentTake, takeOf } from '../takes/stacks.js';

const LENGTH = 48_000;
const draft = (startSample: number, endSample: number) => ({
  kind: 'sibilant' as const,
  startSample,
  endSample,
});

/** A lead and two others: one ragged by 40 ms, one that lacks the second s. */
function stack(): readonly Take[] {
  return [
    takeOf('lead', evenNoise(1, LENGTH), [draft(9600, 14_400), draft(33_600, 38_400)]),
    takeOf('high', evenNoise(2, LENGTH), [draft(11_520, 16_320), draft(33_600, 38_400)]),
    takeOf('low', evenNoise(3, LENGTH), [draft(9600, 14_400)]),
  ];
}

/** Every text of the picture, as written. */
const texts = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((match) => match[1]!);

/** Left edge and width of the boxes of a colour. */
function boxes(svg: string, colour: string): { x: number; width: number; height: number }[] {
  const pattern = new RegExp(
    `<rect x="([-\\d.]+)" y="[-\\d.]+" width="([-\\d.]+)" height="([-\\d.]+)" fill="${colour}" stroke="${colour}" stroke-width="0.6"/>`,
    'g',
  );
  return [...svg.matchAll(pattern)].map((match) => ({
    x: Number(match[1]),
    width: Number(match[2]),
    height: Number(match[3]),
  }));
}

describe('drawStack', () => {
  const takes = stack();
  const groups = groupEvents(takes);

  it('is well-formed, titled, described, and the same every time', () => {
    const svg = drawStack(takes, groups, { name: 'Chorus' });
    expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
    expect(svg).toContain('<title>Chorus</title>');
    expect(svg).toContain('role="img"');
    expect(svg).toContain('Group 2 at 0.70: onset spread 0 ms, end spread 0 ms');
    expect(svg).toContain('missing: low');
    expect(drawStack(takes, groups, { name: 'Chorus' })).toBe(svg);
  });

  it('writes names, spread, missing takes, and the sum that measureGroups finds', () => {
    const svg = drawStack(takes, groups);
    const all = texts(svg);
    for (const { id } of takes) expect(all).toContain(id);
    expect(all).toContain('onset spread 40 ms · end spread 40 ms');
    expect(all.filter((text) => text === 'missing')).toHaveLength(1);
    for (const { overLeadDb } of measureGroups(takes, groups))
      expect(all).toContain(`+${overLeadDb!.toFixed(1)} dB`);
  });

  it('draws a member as far from the lead as it sings, on the panel’s own scale', () => {
    const svg = drawStack(takes, groups);
    const [lead, high, low] = boxes(svg, '#a8123e');
    // Each noise lasts 4800 samples; high begins 1920 later. Coordinates have two decimals.
    expect((high!.x - lead!.x) / lead!.width).toBeCloseTo(1920 / 4800, 2);
    expect(low!.x).toBe(lead!.x);
    expect(high!.width).toBeCloseTo(lead!.width, 1);
  });

  it('draws a cut member lower, outlined as high as it was', () => {
    const before = boxes(drawStack(takes, groups), '#a8123e');
    const svg = drawStack(holdSum(takes, groups, { targetDb: 1 }), groups);
    const after = boxes(svg, '#a8123e');
    expect(after[0]!.height).toBe(before[0]!.height);
    expect(after[1]!.height).toBeLessThan(before[1]!.height - 2);
    expect(svg).toContain(
      `width="${after[1]!.width}" height="${before[1]!.height}" fill="#fff" stroke="#211c28"`,
    );
  });

  it('escapes ids and names', () => {
    const hostile = takes.map((take, t) => (t === 1 ? { ...take, id: '<script>&"' } : take));
    const svg = drawStack(hostile, groupEvents(hostile), { name: '</svg><b>' });
    expect(svg).not.toContain('<script');
    expect(svg).not.toContain('<b>');
    expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
  });

  it('draws takes without groups, silent ones, and takes before the zero of the time line', () => {
    expect(texts(drawStack(takes, []))).toContain('No groups.');
    const silent = [
      silentTake('lead', [[4800, 9600]], LENGTH),
      { ...silentTake('high', [[4800, 9600]], LENGTH), offsetSamples: -24_000 },
    ];
    const svg = drawStack(silent, groupEvents(silent));
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    expect(texts(svg)).toContain('silent');
  });

  it('stays within its size for 24 takes of 400 events, with every panel asked for', () => {
    const spans = Array.from({ length: 400 }, (_, i): [number, number] => [i * 1200, i * 1200 + 1000]);
    const many = Array.from({ length: 24 }, (_, t) => silentTake(t, spans));
    const svg = drawStack(many, groupEvents(many), { detailCount: 60 });
    expect(new TextEncoder().encode(svg).length).toBeLessThanOrEqual(MOST_PICTURE_BYTES);
  });

  it('refuses options out of range and audio that is not finite, by take and sample', () => {
    expect(() => drawStack(takes, groups, { detailCount: 61 })).toThrow(RangeError);
    expect(() => drawStack(takes, groups, { name: 7 as never })).toThrow(TypeError);
    const channels = evenNoise(2, LENGTH);
    channels[5] = Number.NaN;
    const broken = takes.map((take) => (take.id === 'high' ? { ...take, channels } : take));
    expect(() => drawStack(broken, groups)).toThrow(/take "high": channels\[0\]\[5\] must be finite/);
  });
});
