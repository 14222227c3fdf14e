import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { skipSilence } from '../../src/detection/skip-silence.js';
import type { PairMeter } from '../../src/signal/engine.js';
import { createPairMeter } from '../../src/signal/pair-meter.js';
import type { Doubles } from '../../src/signal/samples.js';
import { createWindow } from '../../src/signal/windows.js';
import { simdEngine } from '../../src/simd/simd-engine.js';
import { mulberry32 } from '../lib/random.js';

const engine = simdEngine();
const makers: readonly [string, typeof createPairMeter][] = [
  ['fft.js', createPairMeter],
  ['the engine', engine.createPairMeter],
];

/** Runs of noise, of zeros and of negative zeros, some a lone sample long. */
const clip = fc
  .array(fc.record({ what: fc.constantFrom(0, -0, 1e-40, 0.5), length: fc.integer({ min: 1, max: 300 }) }), {
    minLength: 1,
    maxLength: 12,
  })
  .map((runs) => {
    const uniform = mulberry32(runs.length);
    return Float32Array.from(
      runs.flatMap(({ what, length }) =>
        Array.from({ length }, () => (what === 0 ? what : what * (uniform() - 0.5))),
      ),
    );
  });

/** The bits, so that −0 is not 0. */
const bitsOf = (power: Doubles): readonly bigint[] => [...new BigUint64Array(power.slice().buffer)];

describe('frames of digital silence', () => {
  for (const [name, make] of makers)
    it(`have, without a transform, the bits of one, and so have all others: ${name}`, () => {
      let skipped = 0;
      fc.assert(
        fc.property(clip, fc.constantFrom(100, 128), (samples, frameSamples) => {
          const window = createWindow('hann', frameSamples, 'periodic');
          let transforms = 0;
          const own = make(window, 128, 65);
          const counted: PairMeter = {
            ...own,
            measure(a, b) {
              transforms++;
              own.measure(a, b);
            },
          };
          const gated = skipSilence(counted, frameSamples);
          const plain = make(window, 128, 65);
          gated.begin(samples);
          plain.begin(samples);
          let pairs = 0;
          for (let at = 0; at + 64 + frameSamples <= samples.length; at += 50, pairs++) {
            gated.measure(at, at + 64);
            const measured = [bitsOf(gated.first), bitsOf(gated.second)];
            plain.measure(at, at + 64);
            expect(measured).toEqual([bitsOf(plain.first), bitsOf(plain.second)]);
          }
          skipped += pairs - transforms;
        }),
        { numRuns: 150 },
      );
      expect(skipped).toBeGreaterThan(50);
    });
});
