import fc from 'fast-check';
import type { PhoneEvent, RegionEvent, SoundEvent } from '../../../src/evaluation/index.js';
import { REGION_KINDS } from '../../../src/regions/region.js';
import { within } from './numbers.js';

const span = fc.tuple(within(0, 20), fc.oneof(within(1e-3, 0.4), within(1e-9, 5)));

/** Events of a few labels, in order of their starts, overlapping or not. */
export function events(
  labels: readonly string[] = ['s', 't', '__proto__'],
  most = 8,
): fc.Arbitrary<readonly SoundEvent[]> {
  return fc
    .array(fc.tuple(span, fc.constantFrom(...labels)), { maxLength: most })
    .map((rows) =>
      inOrder(
        rows.map(([[startSeconds, n], label]) => ({ startSeconds, endSeconds: startSeconds + n, label })),
      ),
    );
}

export const phones: fc.Arbitrary<readonly PhoneEvent[]> = fc
  .array(
    fc.tuple(
      span,
      fc.record({
        label: fc.constantFrom('s', 'z', 't', 'a', 'pau', 'br'),
        phoneClass: fc.constantFrom(
          'sibilant',
          'fricative',
          'stop',
          'sonorant',
          'breath',
          'silence' as const,
        ),
        voiced: fc.boolean(),
        tongueStop: fc.boolean(),
      }),
    ),
    { maxLength: 10 },
  )
  .map((rows) =>
    inOrder(
      rows.map(([[startSeconds, n], facts]) => ({ startSeconds, endSeconds: startSeconds + n, ...facts })),
    ),
  );

export const regionEvents: fc.Arbitrary<readonly RegionEvent[]> = fc
  .array(fc.tuple(span, fc.record({ label: fc.constantFrom(...REGION_KINDS), confidence: within(0, 1) })), {
    maxLength: 8,
  })
  .map((rows) =>
    inOrder(
      rows.map(([[startSeconds, n], rest]) => ({ startSeconds, endSeconds: startSeconds + n, ...rest })),
    ),
  );

function inOrder<T extends SoundEvent>(list: readonly T[]): readonly T[] {
  return [...list]
    .filter((e) => e.endSeconds > e.startSeconds)
    .sort((a, b) => a.startSeconds - b.startSeconds);
}
