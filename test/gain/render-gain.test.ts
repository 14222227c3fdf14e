import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gainAt } from '../../src/gain/gain-at.js';
import { renderGain, renderGainInto } from '../../src/gain/render-gain.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { anyList, bits, listOf, noise, region } from './lists.js';

const amplitude = (db: number): number => 10 ** (db / 20);
const acts = (r: Region | undefined): r is Region => r !== undefined && !r.bypassed && r.gainDb !== 0;

/** Samples between the fades of a region, where the gain is the region's own. */
function held(list: RegionList, i: number): [number, number] {
  const r = list.regions[i] as Region;
  return [r.startSample + r.fadeInSamples, r.endSample - r.fadeOutSamples];
}

const listAndAudio = (mostDb?: number) =>
  anyList(mostDb).chain((list) =>
    fc.record({ list: fc.constant(list), seed: fc.nat(1e6) }).map(({ seed }) => ({
      list,
      samples: noise(list.lengthSamples, seed),
    })),
  );

describe('renderGain', () => {
  it('leaves everything outside regions, and in bypassed and 0 dB ones, as it is to the bit', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const before = bits(samples);
        const out = bits(renderGain(samples, list));
        expect(bits(samples)).toEqual(before);
        const touched = new Uint8Array(list.lengthSamples);
        for (const r of list.regions) if (acts(r)) touched.fill(1, r.startSample, r.endSample);
        for (let i = 0; i < before.length; i++) if (!touched[i]) expect(out[i]).toBe(before[i]);
      }),
    );
  });

  it('gives exactly the stated gain between the fades: the double product, rounded to the nearest float', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const out = renderGain(samples, list);
        list.regions.forEach((r, index) => {
          if (!acts(r)) return;
          const [start, end] = held(list, index);
          for (let i = start; i < end; i++)
            expect(out[i]).toBe(Math.fround(amplitude(r.gainDb) * (samples[i] as number)));
        });
      }),
    );
  });

  it('passes NaN, infinities and negative zeros outside active regions with their bits', () => {
    const samples = noise(6);
    new Uint32Array(samples.buffer).set([0x7fc01234, 0x80000000, 0x7f800000], 0);
    const list = listOf(
      6,
      region({ startSample: 0, endSample: 2, bypassed: true }),
      region({ startSample: 4, endSample: 6 }),
    );
    expect(bits(renderGain(samples, list)).slice(0, 4)).toEqual(bits(samples).slice(0, 4));
  });

  // Common practice, no source: one press of -6 dB is x0.50119; computed from its figures: 10^(-6/20) = 0.501187...
  it('makes 0.50119 of 1 at -6 dB and 0.25119 at -12 dB', () => {
    const ones = new Float32Array(2).fill(1);
    const list = listOf(
      2,
      region({ startSample: 0, endSample: 1 }),
      region({ startSample: 1, endSample: 2, gainDb: -12 }),
    );
    const [six, twelve] = renderGain(ones, list) as unknown as [number, number];
    // Half a unit of the fifth decimal, as printed.
    expect(Math.abs(six - 0.50119)).toBeLessThan(5e-6);
    expect(Math.abs(twelve - 0.25119)).toBeLessThan(5e-6);
  });

  // Common practice, no source; computed from its figures: 20 log10(1 - 10^(-6/20)) = -6.0412 dB.
  it('takes away, with a cut of 6 dB, a signal that lies 6.04 dB below the input', () => {
    const samples = noise(10000);
    const out = renderGain(samples, listOf(10000, region({ startSample: 0, endSample: 10000 })));
    let removed = 0;
    let all = 0;
    for (let i = 0; i < samples.length; i++) {
      removed += ((samples[i] as number) - (out[i] as number)) ** 2;
      all += (samples[i] as number) ** 2;
    }
    // Two decimals as printed; float rounding is 1e-6 dB here.
    expect(Math.abs(10 * Math.log10(removed / all) + 6.04)).toBeLessThan(0.005);
  });

  it('mutes by a finite gain: -120 dB is one millionth', () => {
    const out = renderGain(
      Float32Array.of(1),
      listOf(1, region({ startSample: 0, endSample: 1, gainDb: -120 })),
    );
    expect(out[0]).toBe(Math.fround(1e-6));
  });

  it('runs a fade-in of n samples through x = i/n and a fade-out likewise', () => {
    const ones = new Float32Array(12).fill(1);
    const r = region({
      startSample: 2,
      endSample: 10,
      gainDb: 20 * Math.log10(0.5),
      fadeInSamples: 4,
      fadeOutSamples: 2,
    });
    const out = Array.from(renderGain(ones, listOf(12, r)));
    const expected = [1, 1, 1, 0.875, 0.75, 0.625, 0.5, 0.5, 0.5, 0.75, 1, 1];
    // 20 log10 and back cost a rounding or two of a float.
    out.forEach((x, i) => {
      expect(Math.abs(x - (expected[i] as number))).toBeLessThan(1e-7);
    });
  });

  it('never raises a sample where no region asks for a boost', () => {
    fc.assert(
      fc.property(listAndAudio(0), ({ list, samples }) => {
        const out = renderGain(samples, list);
        for (let i = 0; i < out.length; i++)
          expect(Math.abs(out[i] as number)).toBeLessThanOrEqual(Math.abs(samples[i] as number));
      }),
    );
  });

  it('does not care for polarity', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const flipped = renderGain(
          samples.map((x) => -x),
          list,
        );
        expect(bits(flipped)).toEqual(bits(renderGain(samples, list).map((x) => -x)));
      }),
    );
  });

  it('is linear: exactly for powers of two, for sums within the rounding of floats', () => {
    fc.assert(
      fc.property(listAndAudio(), fc.integer({ min: -20, max: 20 }), ({ list, samples }, exponent) => {
        const factor = 2 ** exponent;
        const scaled = renderGain(
          samples.map((x) => x * factor),
          list,
        );
        expect(bits(scaled)).toEqual(bits(renderGain(samples, list).map((x) => x * factor)));
        const other = noise(samples.length, 99);
        const sum = renderGain(
          samples.map((x, i) => x + (other[i] as number)),
          list,
        );
        const a = renderGain(samples, list);
        const b = renderGain(other, list);
        for (let i = 0; i < sum.length; i++) {
          const [x, y] = [samples[i] as number, other[i] as number];
          // Four roundings (x + y, and three products), each half of 2^-23 of at most |x| + |y| times the gain.
          const bound = 4 * 2 ** -24 * gainAt(list, i) * (Math.abs(x) + Math.abs(y));
          expect(Math.abs((sum[i] as number) - (a[i] as number) - (b[i] as number))).toBeLessThanOrEqual(
            bound,
          );
        }
      }),
    );
  });

  it('treats all channels alike and gives back the shape that it got', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const other = noise(samples.length, 7);
        const [left, right] = renderGain([samples, other], list) as [Float32Array, Float32Array];
        expect(bits(left)).toEqual(bits(renderGain(samples, list)));
        expect(bits(right)).toEqual(bits(renderGain(other, list)));
      }),
    );
    expect(renderGain(new Float32Array(0), listOf(0))).toEqual(new Float32Array(0));
  });

  it('refuses a clip of another length, lists that break the rules, and audio of another kind', () => {
    expect(() => renderGain(noise(5), listOf(6))).toThrow(/must equal list.lengthSamples \(6\); received 5/);
    const overlapping = listOf(
      9,
      region({ startSample: 0, endSample: 5 }),
      region({ startSample: 4, endSample: 9 }),
    );
    expect(() => renderGain(noise(9), overlapping)).toThrow(RangeError);
    expect(() => renderGain([1, 2] as unknown as Float32Array<ArrayBuffer>, listOf(2))).toThrow(TypeError);
  });

  it('refuses NaN and infinity where a region touches, with the index', () => {
    const list = listOf(9, region({ startSample: 3, endSample: 6 }));
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      const samples = noise(9);
      samples[5] = bad;
      expect(() => renderGain(samples, list)).toThrow(/samples\[5\] must be finite/);
      expect(() => renderGain([noise(9), samples], list)).toThrow(/channels\[1\]\[5\] must be finite/);
      samples[5] = 0;
      samples[6] = bad;
      expect(renderGain(samples, list)[6]).toBe(bad);
    }
  });
});

describe('renderGain where regions touch', () => {
  const ones = new Float32Array(40).fill(1);
  const first = region({ startSample: 4, endSample: 20, gainDb: -6, fadeOutSamples: 8 });
  const second = region({ startSample: 20, endSample: 36, gainDb: -12 });

  it('runs the fade-in of the second from the gain of the first, whose fade-out is not used', () => {
    const out = renderGain(ones, listOf(40, first, { ...second, fadeInSamples: 4 }));
    expect(out.slice(4, 21)).toEqual(new Float32Array(17).fill(amplitude(-6)));
    // Linear, x = 1/2: half way between the two gains.
    expect(out[22]).toBe(Math.fround((amplitude(-6) + amplitude(-12)) / 2));
    expect(out[24]).toBe(Math.fround(amplitude(-12)));
  });

  it('runs the fade-out of the first to the gain of the second where that has no fade-in', () => {
    const out = renderGain(ones, listOf(40, first, second));
    expect(out[12]).toBe(Math.fround(amplitude(-6)));
    expect(out[16]).toBe(Math.fround((amplitude(-6) + amplitude(-12)) / 2));
    expect(out.slice(20, 36)).toEqual(new Float32Array(16).fill(amplitude(-12)));
  });

  it('keeps the fade inside the active region where its neighbour is bypassed or at 0 dB', () => {
    for (const idle of [{ bypassed: true }, { gainDb: 0 }]) {
      const out = renderGain(ones, listOf(40, first, { ...second, ...idle, fadeInSamples: 4 }));
      expect(out[16]).toBe(Math.fround((amplitude(-6) + 1) / 2));
      expect(out.slice(20)).toEqual(ones.slice(20));
    }
  });

  it('never passes through 0 dB between two cuts that have a fade', () => {
    fc.assert(
      fc.property(
        fc.boolean(),
        fc.integer({ min: 1, max: 8 }),
        fc.constantFrom('linear', 'raisedCosine', 'decibel'),
        (side, n, fadeShape) => {
          const list = side
            ? listOf(40, { ...first, fadeShape }, { ...second, fadeInSamples: n, fadeShape })
            : listOf(40, { ...first, fadeOutSamples: n, fadeShape }, { ...second, fadeShape });
          const span = amplitude(-6) - amplitude(-12);
          for (let i = 4; i < 36; i++) expect(gainAt(list, i)).toBeLessThanOrEqual(amplitude(-6) + 1e-15);
          // Continuous: no step is above that of the steepest shape, the raised cosine's pi/2 times the mean slope.
          for (let i = 5; i < 36; i++)
            expect(Math.abs(gainAt(list, i) - gainAt(list, i - 1))).toBeLessThanOrEqual(
              (span * Math.PI) / 2 / n + 1e-12,
            );
        },
      ),
    );
  });
});

describe('renderGainInto', () => {
  it('gives the bits of renderGain, into other arrays and in place', () => {
    fc.assert(
      fc.property(listAndAudio(), ({ list, samples }) => {
        const expected = bits(renderGain(samples, list));
        const out = new Float32Array(samples.length).fill(9);
        renderGainInto(out, samples, list);
        expect(bits(out)).toEqual(expected);
        const own = samples.slice();
        renderGainInto([own], own, list);
        expect(bits(own)).toEqual(expected);
      }),
    );
  });

  it('refuses an output of another shape and changes nothing in place when it refuses a sample', () => {
    const list = listOf(
      9,
      region({ startSample: 1, endSample: 3 }),
      region({ startSample: 3, endSample: 6 }),
    );
    expect(() => renderGainInto(new Float32Array(8), noise(9), list)).toThrow(/out must be as long/);
    expect(() => renderGainInto([noise(9), noise(9)], noise(9), list)).toThrow(
      /out must have as many channels/,
    );
    const samples = noise(9);
    samples[5] = Number.NaN;
    const before = bits(samples);
    expect(() => renderGainInto(samples, samples, list)).toThrow(/samples\[5\]/);
    expect(bits(samples)).toEqual(before);
  });
});
