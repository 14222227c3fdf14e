import fc from 'fast-check';
import { freezeList, freezeRegion } from '../../../src/regions/freeze-region.js';
import {
  FADE_SHAPES,
  REGION_KINDS,
  type Region,
  type RegionKind,
  type RegionList,
} from '../../../src/regions/region.js';
import { type Clip, type ClipLimits, clips } from './clips.js';
import { within } from './numbers.js';

/** What a region is made from, all but its place and its id. */
interface Piece {
  readonly gap: number;
  readonly length: number;
  readonly fadeIn: number;
  readonly fadeOut: number;
  readonly measured: number;
  readonly band: number | null;
  readonly rest: Pick<
    Region,
    'kind' | 'gainDb' | 'confidence' | 'bypassed' | 'locked' | 'fadeShape' | 'label' | 'reason'
  >;
}

export interface ListLimits {
  readonly kinds?: readonly RegionKind[];
  readonly mostGainDb?: number;
  readonly bands?: boolean;
  readonly mostRegions?: number;
}

/** Labels that have tripped programs: marks of every form that a list is written in, controls, lone surrogates. */
export const labels: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(
    '',
    'ss',
    '__proto__',
    '-->',
    'a\tb\r\nc',
    '=1+1',
    '\uD800',
    '\u2028',
    '<b>&amp;',
    '"a""b"',
  ),
  fc.string({ unit: 'binary', maxLength: 12 }),
);

function pieces({
  kinds = REGION_KINDS,
  mostGainDb = 24,
  bands = true,
  mostRegions = 6,
}: ListLimits): fc.Arbitrary<Piece[]> {
  const share = fc.oneof(fc.constantFrom(0, 1), within(0, 1));
  return fc.array(
    fc.record({
      gap: fc.oneof(fc.constant(0), within(0, 0.3)),
      length: fc.oneof(fc.constant(0), within(0, 0.4)),
      fadeIn: share,
      fadeOut: share,
      measured: fc.nat(3),
      band: bands ? fc.option(fc.nat(3), { freq: 3 }) : fc.constant(null),
      rest: fc.record({
        kind: fc.constantFrom(...kinds),
        gainDb: fc.oneof(fc.constantFrom(-120, -6, 0), within(-40, 0), within(-120, mostGainDb)),
        confidence: within(0, 1),
        bypassed: fc.nat(9).map((n) => n === 0),
        locked: fc.nat(9).map((n) => n === 0),
        fadeShape: fc.constantFrom(...FADE_SHAPES),
        label: labels,
        reason: fc.constantFrom(
          { rule: 'test', numbers: {} },
          { rule: 'by hand', numbers: { cutDb: 6, x: -0 } },
        ),
      }),
    }),
    { maxLength: mostRegions },
  );
}

/** A sound list over a clip: regions touch or not, are long or one sample short, with every field in use. */
function listFor(sampleRateHz: number, lengthSamples: number, drawn: readonly Piece[]): RegionList {
  const regions: Region[] = [];
  let at = 0;
  for (const { gap, length, fadeIn, fadeOut, measured, band, rest } of drawn) {
    const startSample = at + Math.floor(gap * lengthSamples);
    const endSample = Math.min(startSample + Math.max(1, Math.floor(length * lengthSamples)), lengthSamples);
    if (startSample >= endSample) continue;
    const samples = endSample - startSample;
    const fadeInSamples = Math.floor(fadeIn * samples);
    const half = sampleRateHz / 2;
    const bands = [
      { lowHz: 0, highHz: half },
      { lowHz: 0.3 * half, highHz: 0.6 * half },
      { lowHz: 0, highHz: 20 },
      { lowHz: half - 20, highHz: half },
    ];
    regions.push(
      freezeRegion({
        ...rest,
        id: regions.length + 1,
        startSample,
        endSample,
        // Measured edges inside, outside, half known or unknown.
        onsetSample: measured === 0 ? null : measured === 1 ? Math.max(0, startSample - 3) : startSample,
        offsetSample:
          measured === 3 ? null : measured === 1 ? Math.min(endSample + 3, lengthSamples) : endSample,
        fadeInSamples,
        fadeOutSamples: Math.floor(fadeOut * (samples - fadeInSamples)),
        ...(band === null ? {} : { band: Object.freeze(bands[band]!) }),
      } as Region),
    );
    at = endSample;
  }
  return freezeList({ sampleRateHz, lengthSamples, nextId: regions.length + 1, regions });
}

/** A clip and a list over it. */
export function clipsWithLists(
  clip: ClipLimits = {},
  list: ListLimits = {},
): fc.Arbitrary<Clip & { readonly list: RegionList }> {
  return fc
    .tuple(clips(clip), pieces(list))
    .map(([drawn, parts]) => ({ ...drawn, list: listFor(drawn.sampleRateHz, drawn.lengthSamples, parts) }));
}

/** Lists without audio: short clips where edits collide, or clips so long that positions need more than 32 bits. */
export function lists(limits: ListLimits = {}, shortOnly = false): fc.Arbitrary<RegionList> {
  const length = shortOnly
    ? fc.integer({ min: 0, max: 2000 })
    : fc.oneof(
        fc.integer({ min: 0, max: 300 }),
        fc.integer({ min: 0, max: 1e6 }),
        fc.integer({ min: 0, max: 2 ** 50 }),
      );
  return fc
    .tuple(fc.constantFrom(8000, 44100, 47952.047952, 48000, 192000), length, pieces(limits))
    .map(([rate, lengthSamples, parts]) => listFor(rate, lengthSamples, parts));
}

/** An id of the list, or 1 where it has none, from a number that was drawn before the list was known. */
export function idOf(list: RegionList, pick: number): number {
  return list.regions[pick % Math.max(1, list.regions.length)]?.id ?? 1;
}

/** A position of the list's clip or just outside: edges of regions often. */
export function positionOf(list: RegionList, pick: number): number {
  const region = list.regions[pick % Math.max(1, list.regions.length)];
  const by = (pick >> 3) % 3;
  if (pick % 5 === 0 || region === undefined) return pick % (list.lengthSamples + 3);
  return (pick % 2 === 0 ? region.startSample : region.endSample) + by - 1;
}
