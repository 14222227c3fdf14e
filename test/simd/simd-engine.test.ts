import fc from 'fast-check';
import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { createConsonantDetector } from '../../src/detection/create-consonant-detector.js';
import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { analyse } from '../../src/features/analyse.js';
import { FEATURE_NAMES } from '../../src/features/feature-table.js';
import type { Region } from '../../src/regions/region.js';
import type { Engine } from '../../src/signal/engine.js';
import type { Samples } from '../../src/signal/samples.js';
import { simdEngine } from '../../src/simd/simd-engine.js';
import { blocksOf } from '../lib/blocks.js';
import { demoLead, excerpt } from '../lib/demo-lead.js';
import { jumble } from '../lib/jumble.js';
import { gaussian, mulberry32 } from '../lib/random.js';
import { platformWebAssembly } from '../lib/web-assembly.js';

const RATE = 48_000;
const engine = simdEngine();
let phrase: Samples;
beforeAll(() => {
  phrase = excerpt(demoLead(RATE), 5, 11.5);
});
afterEach(() => {
  vi.unstubAllGlobals();
});

/** What must not differ: kind and edges. */
const outline = ({ kind, startSample, endSample, onsetSample, offsetSample }: Region) => ({
  kind,
  startSample,
  endSample,
  onsetSample,
  offsetSample,
});

function expectSame(own: readonly Region[], other: readonly Region[]): void {
  expect(own.map(outline)).toEqual(other.map(outline));
  own.forEach(({ confidence }, i) => {
    // What docs/promises.md allows between platforms. Two frames share a transform, so a soft one carries rounding of the loud one beside it:
    // amplitudes of doubles to 1e-16 of the loudest, which is up to 2^24 times what the soft one, rounded to float samples, has in a band.
    // That is 2e-8 dB; a level enters as tens of dB, and a network turns no input into a hundred times its change.
    expect(Math.abs(confidence - other[i]!.confidence)).toBeLessThan(1e-6);
  });
}

describe('finding with an engine', () => {
  it('finds in a sung phrase what it finds without, at several rates and in two channels', () => {
    for (const sampleRateHz of [RATE, 44_100, 16_000, 96_000, 8000]) {
      const options = { sampleRateHz, minConfidence: 0 };
      for (const channels of [phrase, [phrase, phrase.map((x) => 0.3 * x)]]) {
        const own = detectConsonants(channels, { ...options, engine }).regions;
        const other = detectConsonants(channels, options).regions;
        expectSame(own, other);
      }
    }
    expect(detectConsonants(phrase, { sampleRateHz: RATE, engine }).regions.length).toBeGreaterThan(8);
  });

  it('finds in any signal what it finds without', () => {
    let found = 0;
    fc.assert(
      fc.property(
        fc.nat(),
        fc.constantFrom(8000, 11_025, 16_000, 44_100, 192_000),
        fc.integer({ min: 1, max: 2 }),
        fc.integer({ min: 0, max: 60_000 }),
        (seed, sampleRateHz, channelCount, length) => {
          const channels = jumble(seed, length, channelCount);
          const options = { sampleRateHz, minConfidence: 0 };
          const other = detectConsonants(channels, options).regions;
          found += other.length;
          expectSame(detectConsonants(channels, { ...options, engine }).regions, other);
        },
      ),
      // The case that differs most of 18,000: by 1.03e-9.
      { numRuns: 40, examples: [[1829095386, 44_100, 1, 55_590]] },
    );
    expect(found).toBeGreaterThan(40);
  });

  it('finds in the blocks of a stream what it finds in the whole, every bit of it, also where streams take turns', () => {
    const options = { sampleRateHz: RATE, minConfidence: 0.1, engine };
    const other = phrase.map((x, i) => 0.5 * x + (i % 7 === 0 ? 0.01 : 0));
    const whole = [phrase, other].map((samples) => detectConsonants(samples, options).regions);
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 30_000 }), { minLength: 1, maxLength: 10 }),
        (lengths) => {
          const detectors = [phrase, other].map(() => createConsonantDetector(options));
          const found: Region[][] = [[], []];
          const blocks = blocksOf([phrase, other], lengths);
          for (const pair of blocks)
            for (const [i, detector] of detectors.entries()) found[i]!.push(...detector.push(pair[i]!));
          for (const [i, detector] of detectors.entries()) found[i]!.push(...detector.flush());
          expect(found).toEqual(whole);
        },
      ),
      { numRuns: 12 },
    );
  });
});

describe('analysing with an engine', () => {
  it('gives every column as without, to 1e-9 of the frame’s power', () => {
    fc.assert(
      fc.property(
        fc.nat(),
        fc.constantFrom(8000, 44_100, 48_000, 192_000),
        fc.constantFrom(0.004, 0.02, 0.1),
        fc.integer({ min: 1, max: 2 }),
        (seed, sampleRateHz, frameSeconds, channelCount) => {
          const normal = gaussian(mulberry32(seed));
          const channels = jumble(seed, 9000, channelCount);
          // A floor of noise, or the bins beside a tone are rounding, and so is what is computed from them.
          for (const samples of channels)
            for (let i = 0; i < samples.length; i++) samples[i]! += 1e-3 * normal();
          const options = { sampleRateHz, frameSeconds, hopSeconds: frameSeconds / 3 };
          const own = analyse(channels, { ...options, engine });
          const other = analyse(channels, options);
          expect(own.settings).toEqual(other.settings);
          for (const name of FEATURE_NAMES) {
            const columns = (table: typeof own) => [table.columns[name]].flat() as readonly Float64Array[];
            columns(own).forEach((column, b) => {
              column.forEach((value, k) => {
                const expected = columns(other)[b]![k]!;
                if (value === expected) return;
                // 1e-9 of the value, for numbers that the noise keeps away from 0; a peak or roll-off is a bin or another one as strong.
                expect(Math.abs(value - expected), name).toBeLessThanOrEqual(
                  1e-9 * Math.max(1, Math.abs(expected)),
                );
              });
            });
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});

describe('without WebAssembly', () => {
  const refusals: readonly [string, () => unknown, RegExp][] = [
    ['it is absent', () => undefined, /^There is no WebAssembly here\.$/],
    [
      'a policy forbids it',
      () => ({
        Memory: platformWebAssembly().Memory,
        Module: class {
          constructor() {
            throw new EvalError("Refused to compile because 'wasm-unsafe-eval' is not an allowed source");
          }
        },
      }),
      /^WebAssembly may not be used here: Refused to compile/,
    ],
  ];
  for (const [where, stand, problem] of refusals)
    it(`says so where ${where}, and gives the same bits`, () => {
      const options = { sampleRateHz: RATE, minConfidence: 0.1 };
      const expected = detectConsonants(phrase, { ...options, engine });
      const columns = analyse(phrase, { sampleRateHz: RATE, engine }).columns;
      vi.stubGlobal('WebAssembly', stand());
      const plain = simdEngine();
      expect(plain.name).toBe('javascript');
      expect(plain.problem).toMatch(problem);
      expect(detectConsonants(phrase, { ...options, engine: plain })).toEqual(expected);
      expect(analyse(phrase, { sampleRateHz: RATE, engine: plain }).columns).toEqual(columns);
    });

  it('refuses what is no engine', () => {
    for (const wrong of [{}, { createPairMeter: () => {} }, 5, 'webassembly']) {
      const given = { sampleRateHz: RATE, engine: wrong as unknown as Engine };
      expect(() => detectConsonants(phrase, given)).toThrow(
        /detectConsonants: engine must come from simdEngine/,
      );
      expect(() => createConsonantDetector(given)).toThrow(TypeError);
      expect(() => analyse(phrase, given)).toThrow(/analyse: engine must/);
    }
    expect(detectConsonants(phrase, { sampleRateHz: RATE, engine: null })).toEqual(
      detectConsonants(phrase, { sampleRateHz: RATE }),
    );
  });
});
