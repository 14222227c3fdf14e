import { describe, expect, it } from 'vitest';
import { colourRamp } from '../../src/picture/colour-ramp.js';
import { INK, KIND_STYLES, kindPattern, PAPER, SOFT_INK } from '../../src/picture/kind-style.js';
import { REGION_KINDS } from '../../src/regions/region.js';

/** Relative luminance of sRGB, W3C WCAG 2.1 (2018) glossary, from memory. */
function luminance(rgb: readonly number[]): number {
  const [r, g, b] = rgb.map((v) => {
    const c = v / 255;
    return c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
/** Lightness L* of CIE 1976, from memory. */
function lightness(rgb: readonly number[]): number {
  const y = luminance(rgb);
  return y > 0.008856 ? 116 * Math.cbrt(y) - 16 : 903.3 * y;
}
const parse = (hex: string): number[] => [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16));
function contrast(a: string, b: string): number {
  const [low, high] = [luminance(parse(a)), luminance(parse(b))].sort((x, y) => x - y) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

describe('colours', () => {
  // WCAG 2.1, success criterion 1.4.3: at least 4.5:1 for text (from memory).
  it('gives every colour that carries text a contrast of 4.5:1 on the paper', () => {
    for (const colour of [INK, SOFT_INK, ...REGION_KINDS.map((k) => KIND_STYLES[k].colour)])
      expect(contrast(colour, PAPER)).toBeGreaterThanOrEqual(4.5);
  });

  it('tells the kinds apart without colour: letters and patterns all differ, one kind alone is solid', () => {
    expect(new Set(REGION_KINDS.map((k) => KIND_STYLES[k].tag)).size).toBe(REGION_KINDS.length);
    expect(new Set(REGION_KINDS.map((k) => KIND_STYLES[k].marks)).size).toBe(REGION_KINDS.length);
    expect(REGION_KINDS.filter((k) => KIND_STYLES[k].solid)).toEqual(['sibilant']);
    for (const kind of REGION_KINDS) expect(kindPattern(kind) === '').toBe(KIND_STYLES[kind].solid);
  });

  it('has a spectrogram ramp that darkens at every step, by even steps of lightness', () => {
    const steps = colourRamp(48).map(lightness);
    const falls = steps.slice(1).map((l, i) => (steps[i] as number) - l);
    const mean = ((steps[0] as number) - (steps[47] as number)) / 47;
    // From near paper to near ink: most of the range that print has.
    expect(steps[0]).toBeGreaterThan(95);
    expect(steps[47]).toBeLessThan(20);
    for (const fall of falls) {
      // Even in Oklab; CIE L* has another curve and the colours are whole numbers: between half and double the mean step.
      expect(fall).toBeGreaterThan(mean / 2);
      expect(fall).toBeLessThan(mean * 2);
    }
  });
});
