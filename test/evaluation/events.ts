import fc from 'fast-check';
import type { PhoneClass, PhoneEvent } from '../../src/evaluation/phone-event.js';
import type { RegionEvent } from '../../src/evaluation/region-events.js';
import type { SoundEvent } from '../../src/evaluation/sound-event.js';
import type { RegionKind } from '../../src/regions/region.js';

/** Events of one label from pairs of seconds. */
export function many(...spans: readonly (readonly [number, number])[]): SoundEvent[] {
  return spans.map(([startSeconds, endSeconds]) => ({ startSeconds, endSeconds, label: 'event' }));
}

/** Points in time. */
export function at(...seconds: readonly number[]): SoundEvent[] {
  return many(...seconds.map((s) => [s, s] as const));
}

/** A labelled phone. */
export function phone(
  startSeconds: number,
  endSeconds: number,
  label: string,
  phoneClass: PhoneClass,
  voiced: boolean = phoneClass === 'sonorant',
): PhoneEvent {
  return { startSeconds, endSeconds, label, phoneClass, voiced, tongueStop: label === 't' || label === 'k' };
}

/** A found region. */
export function region(
  startSeconds: number,
  endSeconds: number,
  label: RegionKind = 'sibilant',
  confidence: number = 0.9,
): RegionEvent {
  return { startSeconds, endSeconds, label, confidence };
}

/** Up to 12 events of two labels within some seconds, on a grid coarse enough that ties occur. */
export const anyEvents: fc.Arbitrary<SoundEvent[]> = fc.array(
  fc
    .tuple(fc.nat(40), fc.integer({ min: 1, max: 12 }), fc.constantFrom('a', 'b'))
    .map(([start, length, label]) => ({
      startSeconds: start / 10,
      endSeconds: (start + length) / 10,
      label,
    })),
  { maxLength: 12 },
);
