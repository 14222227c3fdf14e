import { describe, expect, it } from 'vitest';
import { lowBurstEdges } from '../../src/detection/low-burst-edges.js';
import type { Samples } from '../../src/signal/samples.js';

const RATE = 8000;
const at = (seconds: number): number => Math.round(seconds * RATE);

/** Bursts of 100 Hz: from, to in seconds, and amplitude. */
function bursts(...parts: readonly (readonly [number, number, number])[]): Samples {
  return Float32Array.from({ length: RATE }, (_, i) => {
    const [, , amplitude = 0] = parts.find(([from, to]) => i >= at(from) && i < at(to)) ?? [];
    return amplitude * Math.sin((2 * Math.PI * 100 * i) / RATE);
  });
}

/** How far, in seconds, the edges lie outside of a stretch. */
function outside(samples: readonly Samples[], from: number, to: number): readonly [number, number] {
  const span = { startSample: at(from), endSample: at(to) };
  const { startSample, endSample } = lowBurstEdges(samples, RATE, span, 300);
  return [from - startSample / RATE, endSample / RATE - to];
}

/**
 * The mean over 18 ms falls to a sixteenth 7.9 ms outside of a burst that ends at once. One block of 2 ms beside it, a few for the waves of 5 ms in
 * the power of 100 Hz and for the filter: 0 to 14 ms.
 */
function near([before, after]: readonly [number, number]): void {
  for (const edge of [before, after]) {
    expect(edge).toBeGreaterThan(0);
    expect(edge).toBeLessThan(0.014);
  }
}

describe('the edges of a low burst', () => {
  it('lie just outside of it, at any level and over an offset', () => {
    const alone = bursts([0.4, 0.5, 0.1]);
    near(outside([alone], 0.4, 0.5));
    near(outside([alone.map((x) => x / 64)], 0.4, 0.5));
    near(outside([alone.map((x) => x + 0.5)], 0.4, 0.5));
  });

  it('are those of the burst in the stretch, not of a louder one after or before it', () => {
    near(outside([bursts([0.4, 0.46, 0.1], [0.51, 0.6, 0.8])], 0.4, 0.46).map((x) => x) as [number, number]);
    near(outside([bursts([0.3, 0.35, 0.8], [0.4, 0.46, 0.1])], 0.4, 0.46));
  });

  it('come from the power of all channels', () => {
    const first = bursts([0.4, 0.45, 0.1]);
    const second = bursts([0.45, 0.5, -0.1]);
    near(outside([first, second], 0.4, 0.5));
    near(outside([second, first], 0.4, 0.5));
  });

  it('stay within the clip', () => {
    const whole = bursts([0, 1, 0.1]).subarray(0, 801) as Samples;
    expect(lowBurstEdges([whole], RATE, { startSample: 0, endSample: 801 }, 300)).toEqual({
      startSample: 0,
      endSample: 801,
    });
  });
});
