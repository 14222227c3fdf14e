import fc from 'fast-check';
import { createRegionList } from '../../src/regions/create-region-list.js';
import type { RegionDraft } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { FADE_SHAPES, REGION_KINDS, type RegionList, type RegionReason } from '../../src/regions/region.js';

/** Reasons with any finite numbers, −0 and names such as `__proto__` included. */
export const reasons: fc.Arbitrary<RegionReason> = fc.record({
  rule: fc.string({ unit: 'binary' }),
  numbers: fc
    .array(
      fc.tuple(
        fc.oneof(fc.string(), fc.constantFrom('__proto__', 'constructor', '7')),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
      ),
      { maxLength: 3 },
    )
    .map((entries) => Object.fromEntries(entries)),
});

/** A sound region list with every field drawn; regions may touch. */
export const regionLists: fc.Arbitrary<RegionList> = fc
  .record({
    sampleRateHz: fc.constantFrom(8000, 44100, 48000, 192000),
    tail: fc.integer({ min: 0, max: 1000 }),
    rows: fc.array(
      fc.record({
        gap: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 2 ** 40 })),
        length: fc.integer({ min: 1, max: 5000 }),
        fadeIn: fc.double({ min: 0, max: 0.5, noNaN: true }),
        fadeOut: fc.double({ min: 0, max: 0.5, noNaN: true }),
        onset: fc.option(fc.integer({ min: 0, max: 3 })),
        offset: fc.option(fc.integer({ min: 4, max: 9 })),
        kind: fc.constantFrom(...REGION_KINDS),
        gainDb: fc.double({ min: -120, max: 24, noNaN: true }),
        confidence: fc.double({ min: 0, max: 1, noNaN: true }),
        bypassed: fc.boolean(),
        locked: fc.boolean(),
        fadeShape: fc.constantFrom(...FADE_SHAPES),
        band: fc.option(
          fc.record({
            lowHz: fc.double({ min: 0, max: 3980, noNaN: true }),
            // 4000 Hz is half the least rate drawn below.
            highHz: fc.constantFrom(4000),
          }),
          { nil: undefined },
        ),
        label: fc.string({ unit: 'binary' }),
        reason: reasons,
      }),
      { maxLength: 12 },
    ),
  })
  .map(({ sampleRateHz, tail, rows }) => {
    let at = 0;
    const drafts: RegionDraft[] = rows.map(
      ({ gap, length, fadeIn, fadeOut, onset, offset, band, ...rest }) => {
        const startSample = at + gap;
        at = startSample + length;
        return {
          ...rest,
          ...(band === undefined ? {} : { band }),
          startSample,
          endSample: at,
          fadeInSamples: Math.floor(length * fadeIn),
          fadeOutSamples: Math.floor(length * fadeOut),
          onsetSample: onset === null ? null : startSample + onset,
          offsetSample: offset === null ? null : startSample + offset,
        };
      },
    );
    const empty = createRegionList({ sampleRateHz, lengthSamples: at + 10 + tail });
    return insertRegions(empty, drafts);
  });
