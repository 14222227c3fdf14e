import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DrawTakeOptions, drawTake, MOST_PICTURE_BYTES } from '../../src/picture/draw-take.js';
import { KIND_STYLES } from '../../src/picture/kind-style.js';
import { textWidth } from '../../src/picture/numbers.js';
import { REGION_KINDS, type Region } from '../../src/regions/region.js';
import { list, noise, random, region } from './material.js';

/** Fails unless a strict XML parser and an SVG renderer take the text; gives the size of the picture. */
function render(svg: string): { width: number; height: number } {
  const picture = new Resvg(svg, { font: { loadSystemFonts: false } });
  return { width: picture.width, height: picture.height };
}

function unescapeXml(text: string): string {
  const named: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };
  return text.replace(/&(#39|\w+);/g, (_, name: string) => named[name] ?? '?');
}

interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Every line of text of a picture with the box that it takes. */
function textBoxes(svg: string): readonly TextBox[] {
  return [...svg.matchAll(/<text ([^>]*)>([^<]*)<\/text>/g)].map((match) => {
    const attributes = match[1] as string;
    const text = unescapeXml(match[2] as string);
    const of = (name: string): string | undefined =>
      new RegExp(`(?:^| )${name}="([^"]*)"`).exec(attributes)?.[1];
    const size = Number(of('font-size'));
    const width = textWidth(text, size, of('font-weight') === '700');
    const anchor = of('text-anchor') ?? 'start';
    const left = Number(of('x')) - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
    const y = Number(of('y'));
    // Digits and capitals rise to about 0.73 em and have no descender to speak of.
    return { text, left, right: left + width, top: y - 0.73 * size, bottom: y + 0.05 * size };
  });
}

function overlaps(svg: string): readonly string[] {
  const boxes = textBoxes(svg);
  const found: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1))
      if (a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
        found.push(`"${a.text}" and "${b.text}"`);
  });
  return found;
}

/** Random regions of every kind, some of them touching, in a clip of noise. */
function take(
  lengthSamples: number,
  count: number,
  seed: number,
  rateHz = 8000,
): { samples: Float32Array<ArrayBuffer>; regions: Region[] } {
  const next = random(seed);
  const regions: Region[] = [];
  const slot = Math.floor(lengthSamples / count);
  for (let i = 0; i < count; i++) {
    const startSample = i * slot + Math.floor(next() * 0.4 * slot);
    const endSample = startSample + 1 + Math.floor(next() * 0.6 * (slot - 1));
    regions.push(
      region({
        startSample,
        endSample,
        kind: REGION_KINDS[Math.floor(next() * 8)] as Region['kind'],
        gainDb: [0, -6, -3.5, -120, -14, 12][Math.floor(next() * 6)] as number,
        confidence: next(),
        bypassed: next() < 0.1,
        label: next() < 0.2 ? `<b>&"'${i}]]>` : '',
      }),
    );
  }
  // One second of noise over and over: an hour of it should not take longer to make than to draw.
  const second = noise(Math.min(lengthSamples, rateHz), seed);
  const samples = new Float32Array(lengthSamples);
  for (let at = 0; at < lengthSamples; at += second.length)
    samples.set(second.subarray(0, lengthSamples - at), at);
  return { samples, regions };
}

describe('drawTake', () => {
  it('shows a cut within a band: the line of its gain, and a wave that shrinks by what the band held', () => {
    const samples = noise(48_000, 5);
    const whole = region({ startSample: 10_000, endSample: 30_000, gainDb: -60 });
    const banded = { ...whole, band: { lowHz: 0, highHz: 24_000 } };
    const high = { ...whole, band: { lowHz: 20_000, highHz: 24_000 } };
    const [plain, all, little] = [whole, banded, high].map((each) => drawTake(samples, list(48_000, [each])));
    for (const svg of [plain, all, little]) render(svg!);
    // The gain line is the same for all three; a cut of the topmost sixth leaves another wave than one of everything.
    const line = (svg: string): string => /points="[^"]*"| d="M[^"]*"/.exec(svg)![0];
    expect(line(all!)).toBe(line(plain!));
    expect(little).not.toBe(all);
  });

  it('shows the letter, the word and the gain of every kind that occurs', () => {
    const regions = REGION_KINDS.map((kind, i) =>
      region({ kind, startSample: 1000 + i * 5000, endSample: 3000 + i * 5000, gainDb: -i - 1 }),
    );
    const svg = drawTake(noise(48_000, 1), list(48_000, regions));
    render(svg);
    const texts = textBoxes(svg).map((box) => box.text);
    REGION_KINDS.forEach((kind, i) => {
      const { tag, word } = KIND_STYLES[kind];
      expect(texts).toContain(`${tag} −${i + 1}`);
      expect(texts).toContain(`${tag} ${word}`);
    });
  });

  it('names only the kinds that occur', () => {
    const svg = drawTake(
      noise(4800, 1),
      list(4800, [region({ kind: 'breath', startSample: 10, endSample: 900 })]),
    );
    expect(svg).toContain('breath');
    expect(svg).not.toContain('cymbal');
  });

  it('marks an uncertain region by a question mark and a dashed rim, a sure one by neither', () => {
    const sure = region({ startSample: 1000, endSample: 9000, confidence: 0.6 });
    const draw = (minConfidence: number): string =>
      drawTake(noise(48_000, 1), list(48_000, [sure]), { minConfidence });
    expect(textBoxes(draw(0.6)).some((box) => box.text === 'S −6')).toBe(true);
    expect(draw(0.6)).not.toContain('stroke-dasharray="3 2"');
    expect(textBoxes(draw(0.61)).some((box) => box.text === 'S? −6')).toBe(true);
    expect(draw(0.61)).toContain('stroke-dasharray="3 2"');
  });

  it('draws the gain line through the gain of the region', () => {
    const one = region({ startSample: 12_000, endSample: 24_000, fadeShape: 'decibel', fadeInSamples: 480 });
    const svg = drawTake(noise(48_000, 1), list(48_000, [one]));
    const line =
      /<path d="([^"]*)" fill="none" stroke="#211c28" stroke-width="1.6" stroke-linejoin="round"/.exec(
        svg,
      )?.[1] ?? '';
    const corners = [...line.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(
      (m) => [Number(m[1]), Number(m[2])] as const,
    );
    const axis = (text: string): number =>
      (textBoxes(svg).find((box) => box.text === text) as TextBox).top + 0.73 * 12 - 4;
    const x = (sample: number): number => 136 + (1036 * sample) / 48_000;
    // Coordinates have two decimals.
    const expected = [
      [x(0), axis('0 dB')],
      [x(12_000), axis('0 dB')],
      [x(12_480), axis('−6')],
      [x(24_000), axis('−6')],
      [x(24_000), axis('0 dB')],
      [x(48_000), axis('0 dB')],
    ] as const;
    expect(corners.length).toBe(expected.length);
    expected.forEach(([ex, ey], i) => {
      expect(corners[i]?.[0]).toBeCloseTo(ex, 1);
      expect(corners[i]?.[1]).toBeCloseTo(ey, 1);
    });
  });

  it('lets no two lines of text overlap, in close-ups and overviews with any regions', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 120 }),
        fc.integer({ min: 1, max: 400_000 }),
        fc.constantFrom(8000, 16_000, 48_000),
        fc.nat(1e6),
        (count, length, rateHz, seed) => {
          const clipLength = Math.max(length, 2 * count);
          const { samples, regions } = take(clipLength, count, seed);
          const svg = drawTake(samples, list(clipLength, regions, rateHz), { name: 'any', detailCount: 3 });
          expect(overlaps(svg)).toEqual([]);
          for (const box of textBoxes(svg)) {
            expect(box.left).toBeGreaterThanOrEqual(0);
            expect(box.right).toBeLessThanOrEqual(1200);
          }
        },
      ),
      { numRuns: 25, examples: [[120, 90_000, 8000, 1]] },
    );
  });

  it('says how many labels found no room', () => {
    const { samples, regions } = take(96_000, 140, 5);
    const svg = drawTake(samples, list(96_000, regions));
    const texts = textBoxes(svg).map((box) => box.text);
    const labels = texts.filter((text) => /^[SFTHKNCU]\?? (−|\+|0|off|mute)/.test(text)).length;
    const dropped = Number(
      /^(\d+) labels left out/.exec(texts.find((t) => t.includes('left out')) ?? '')?.[1],
    );
    expect(dropped).toBeGreaterThan(0);
    expect(labels + dropped).toBe(140);
    const perRow = texts.map((text) => Number(/^\+(\d+) unlabelled$/.exec(text)?.[1] ?? 0));
    expect(perRow.reduce((a, b) => a + b, 0)).toBe(dropped);
  });

  it('escapes hostile names and labels, in text that shows and text that does not', () => {
    const hostile = `</text><script>alert("1")</script>&amp;'"\u0000\ud800]]>`;
    const regions = [region({ startSample: 100, endSample: 9000, label: hostile })];
    for (const closeUpSeconds of [12, 0]) {
      const svg = drawTake(noise(48_000, 1), list(48_000, regions), { name: hostile, closeUpSeconds });
      expect(svg).not.toContain('<script');
      render(svg);
    }
  });

  it('stays under its limit for an hour with 20,000 regions and draws the strongest in detail', () => {
    const { samples, regions } = take(3600 * 8000, 20_000, 6);
    const svg = drawTake(samples, list(samples.length, regions, 8000), { name: 'an hour' });
    expect(Buffer.byteLength(svg)).toBeLessThanOrEqual(MOST_PICTURE_BYTES);
    expect(svg).toContain('20000 regions; the 6 strongest');
    expect(overlaps(svg)).toEqual([]);
    render(svg);
  });

  it('stays under its limit when everything is against it, by giving up details', () => {
    // White noise does not compress; every detail is full of short regions with long labels of 3-byte characters.
    const { samples } = take(60 * 48_000, 1, 7);
    const regions = Array.from({ length: 9000 }, (_, i) =>
      region({
        startSample: i * 320,
        endSample: i * 320 + 300,
        label: '語'.repeat(5000),
        fadeInSamples: 100,
      }),
    );
    const options: DrawTakeOptions = { detailCount: 12, rollSeconds: 0.45, name: '&'.repeat(100_000) };
    const svg = drawTake(samples, list(samples.length, regions), options);
    expect(Buffer.byteLength(svg)).toBeLessThanOrEqual(MOST_PICTURE_BYTES);
    render(svg);
  });

  it('gives the same text for the same input and leaves the input alone', () => {
    const { samples, regions } = take(200_000, 40, 8);
    const before = samples.slice();
    const clip = list(200_000, regions, 8000);
    expect(drawTake(samples, clip)).toBe(drawTake(samples.slice(), structuredClone(clip)));
    expect(samples).toEqual(before);
  });

  it('has a title, a description with the figures, and the role of an image', () => {
    const svg = drawTake(noise(48_000, 1), list(48_000, [region({ startSample: 0, endSample: 4800 })]), {
      name: 'Lead',
    });
    expect(svg).toMatch(
      /^<svg [^>]*role="img"[^>]*><title>Lead<\/title><desc>1\.00 s · 48 kHz · 1 channel · 1 region/,
    );
    expect(svg).toContain('sibilant: 1, median −6 dB.');
  });

  it('uses no text under 12 pixels at a width of 1200', () => {
    const { samples, regions } = take(200_000, 60, 9);
    const svg = drawTake(samples, list(200_000, regions, 8000));
    expect(render(svg).width).toBe(1200);
    for (const [, size] of svg.matchAll(/font-size="([\d.]+)"/g))
      expect(Number(size)).toBeGreaterThanOrEqual(12);
  });

  it.each([
    ['an empty clip', new Float32Array(0), [], 48_000],
    ['one sample', Float32Array.of(0.5), [], 48_000],
    ['one sample, and that a region', Float32Array.of(-1), [region({ startSample: 0, endSample: 1 })], 8000],
    ['silence', new Float32Array(48_000), [region({ startSample: 0, endSample: 48_000 })], 48_000],
    ['no regions', noise(48_000, 1), [], 44_100],
    ['a long clip without regions', noise(8000 * 20, 1), [], 8000],
    ['192 kHz', noise(192_000, 1), [region({ startSample: 9, endSample: 90_000 })], 192_000],
    [
      'a constant',
      new Float32Array(9000).fill(2),
      [region({ startSample: 5, endSample: 8, gainDb: 24 })],
      22_050,
    ],
  ])('draws %s', (_, samples, regions, rateHz) => {
    const svg = drawTake(samples, list(samples.length, regions, rateHz));
    render(svg);
    // The image is base64 and may hold any letters.
    expect(svg.replace(/href="[^"]*"/g, '')).not.toMatch(/NaN|Infinity|undefined/);
    expect(overlaps(svg)).toEqual([]);
  });

  it('draws many channels: the waveform reaches as far as the loudest', () => {
    const quiet = noise(48_000, 1).map((x) => x / 100);
    const loud = noise(48_000, 2);
    const svg = drawTake([quiet, quiet, loud], list(48_000, []));
    const peakDb = 20 * Math.log10(loud.reduce((most, x) => Math.max(most, Math.abs(x)), 0));
    expect(textBoxes(svg).map((box) => box.text)).toContain(`−${Math.round(-10 * peakDb) / 10} dBFS`);
    expect(svg).toContain('3 channels');
  });

  it('ends the spectrogram at half the sample rate where that is lower than asked', () => {
    const ticks = (rateHz: number): number[] => {
      const texts = textBoxes(drawTake(noise(rateHz, 1), list(rateHz, [], rateHz))).map((box) => box.text);
      const from = texts.indexOf('0 kHz');
      return texts
        .slice(from, texts.indexOf(texts.find((t) => t.endsWith(' s')) ?? ''))
        .map(Number.parseFloat);
    };
    expect(Math.max(...ticks(8000))).toBe(4);
    expect(Math.max(...ticks(48_000))).toBe(12);
  });

  it('refuses what does not fit, and says where', () => {
    const clip = list(100, []);
    expect(() => drawTake(new Float32Array(99), clip)).toThrow(RangeError);
    expect(() => drawTake([], clip)).toThrow(RangeError);
    const broken = new Float32Array(100);
    broken[42] = Number.NaN;
    expect(() => drawTake(broken, clip)).toThrow(/channels\[0\]\[42\]/);
    for (const options of [
      { minConfidence: 2 },
      { detailCount: 1.5 },
      { topFrequencyHz: 0 },
      { rollSeconds: 9 },
    ])
      expect(() => drawTake(new Float32Array(100), clip, options)).toThrow(RangeError);
    expect(() => drawTake(new Float32Array(100), clip, { name: 5 as unknown as string })).toThrow(TypeError);
  });
});
