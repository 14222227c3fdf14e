import { describe, expect, it } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { editRegions } from '../../src/regions/edit-regions.js';
import { recordEdit, startHistory } from '../../src/regions/history.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import { joinAcrossGaps } from '../../src/regions/join-across-gaps.js';
import { markRange } from '../../src/regions/mark-range.js';
import { mergeRegions } from '../../src/regions/merge-regions.js';
import { moveEdges } from '../../src/regions/move-edges.js';
import { nextRegion, previousRegion } from '../../src/regions/neighbour-regions.js';
import { nudgeByFrames } from '../../src/regions/nudge-by-frames.js';
import { nudgeEdges } from '../../src/regions/nudge-edges.js';
import { REGION_KINDS } from '../../src/regions/region.js';
import { regionsOfKind } from '../../src/regions/regions-of-kind.js';
import { removeRegion } from '../../src/regions/remove-region.js';
import { selectRegions } from '../../src/regions/select-regions.js';
import { setBand } from '../../src/regions/set-band.js';
import { setFades } from '../../src/regions/set-fades.js';
import { setBypassed, setKind, setLabel, setLocked } from '../../src/regions/set-flags.js';
import { setGain } from '../../src/regions/set-gain.js';
import { shiftRegions } from '../../src/regions/shift-regions.js';
import { snapRegion } from '../../src/regions/snap-region.js';
import { snapToZeroCrossing } from '../../src/regions/snap-to-zero-crossing.js';
import { splitRegion } from '../../src/regions/split-region.js';
import { stretchRegions } from '../../src/regions/stretch-regions.js';
import { samplesToSeconds, secondsToSamples } from '../../src/regions/time.js';
import { framesToSamples, timecodeToSamples } from '../../src/regions/timecode.js';
import { trimRegion } from '../../src/regions/trim-region.js';
import { messageOf } from '../lib/message-of.js';

const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 1000 });
const list = insertRegions(empty, [
  { startSample: 100, endSample: 200 },
  { startSample: 300, endSample: 400, locked: true },
  { startSample: 500, endSample: 600 },
]);
/** A list that has given away its last id. */
const full = { ...list, nextId: Number.MAX_SAFE_INTEGER };
const samples = new Float32Array(1000);
const wrong = (value: unknown): never => value as never;

/**
 * A message names the function, the parameter, the rule and what was received: `src/signal/check.ts`. Ranges here are those of the doc blocks.
 * Each rule comes with the value beside its limit, so that a limit moved by one shows.
 */
const REFUSALS: readonly (readonly [() => unknown, string])[] = [
  [
    () => selectRegions(list, wrong({ kind: 'breath' })),
    'selectRegions: criteria.kind is not a field of criteria: those are kinds, ids, startSample, endSample, minConfidence, belowConfidence, label, locked, bypassed, where; received "breath"',
  ],
  [
    () => insertRegion(empty, { startSample: 10, endSample: 10 }),
    'insertRegion: draft.endSample must be greater than startSample (10); received 10',
  ],
  [
    () => insertRegion(empty, { startSample: 10, endSample: 1001 }),
    'insertRegion: draft.endSample must lie within [0, 1000]; received 1001',
  ],
  [
    () => insertRegion(full, { startSample: 0, endSample: 10 }),
    'insertRegion: list.nextId must be a whole number; received 9007199254740992',
  ],
  [
    () => insertRegions(empty, [{ startSample: 0, endSample: 5, gainDb: 25 }]),
    'insertRegions: drafts[0].gainDb must lie within [-120, 24]; received 25',
  ],
  [() => splitRegion(list, 1, 100), 'splitRegion: atSample must lie within [101, 199]; received 100'],
  [() => splitRegion(list, 1, 200), 'splitRegion: atSample must lie within [101, 199]; received 200'],
  [() => splitRegion(list, 9, 150), 'splitRegion: id must be the id of a region of the list; received 9'],
  [() => splitRegion(list, 2, 350), 'splitRegion: id must not be that of a locked region; received 2'],
  [
    () => splitRegion(full, 1, 150),
    'splitRegion: list.nextId must be a whole number; received 9007199254740992',
  ],
  [() => trimRegion(list, 9, 0, 1), 'trimRegion: id must be the id of a region of the list; received 9'],
  [() => trimRegion(list, 2, 300, 350), 'trimRegion: id must not be that of a locked region; received 2'],
  [() => trimRegion(list, 1, 0.5, 1), 'trimRegion: startSample must be a whole number; received 0.5'],
  [
    () => trimRegion(list, 1, 150, 150),
    'trimRegion: endSample must lie within [151, 9007199254740991]; received 150',
  ],
  [() => trimRegion(list, 1, 200, 210), 'trimRegion: range must share a sample with the region; received 1'],
  [() => moveEdges(list, 9, {}), 'moveEdges: id must be the id of a region of the list; received 9'],
  [() => moveEdges(list, 2, {}), 'moveEdges: id must not be that of a locked region; received 2'],
  [
    () => moveEdges(list, 1, { startSample: -1 }),
    'moveEdges: startSample must lie within [0, 9007199254740991]; received -1',
  ],
  [
    () => moveEdges(list, 1, { endSample: 100 }),
    'moveEdges: endSample must lie within [101, 1000]; received 100',
  ],
  [
    () => moveEdges(list, 3, { endSample: 1001 }),
    'moveEdges: endSample must lie within [501, 1000]; received 1001',
  ],
  [
    () => moveEdges(list, 1, { endSample: 301 }),
    'moveEdges: region must not overlap another; received [100, 301) against region 2 at [300, 400)',
  ],
  [
    () => moveEdges(list, 3, { startSample: 399 }),
    'moveEdges: region must not overlap another; received [399, 600) against region 2 at [300, 400)',
  ],
  [
    () => mergeRegions(list, [1, 1]),
    'mergeRegions: ids must be at least two different ids; received an array of 2',
  ],
  [() => mergeRegions(list, [1, 2]), 'mergeRegions: id must not be that of a locked region; received 2'],
  [() => mergeRegions(list, [1, 9]), 'mergeRegions: id must be the id of a region of the list; received 9'],
  [
    () => mergeRegions(list, [1, 3]),
    'mergeRegions: ids must leave out no region between the first and the last; received 2',
  ],
  [() => removeRegion(list, 2), 'removeRegion: ids must not name a locked region; received 2'],
  [() => removeRegion(list, 9), 'removeRegion: ids must be ids of regions of the list; received 9'],
  [
    () => markRange(list, -1, 10),
    'markRange: startSample must lie within [0, 9007199254740991]; received -1',
  ],
  [() => markRange(list, 10, 10), 'markRange: endSample must lie within [11, 1000]; received 10'],
  [() => markRange(list, 10, 1001), 'markRange: endSample must lie within [11, 1000]; received 1001'],
  [() => markRange(list, 390, 410), 'markRange: range must not overlap a locked region; received 2'],
  [
    () => markRange(list, 0, 50, { gainDb: 25 }),
    'markRange: fields.gainDb must lie within [-120, 24]; received 25',
  ],
  [
    () => setBand(list, 1, wrong(undefined)),
    'setBand: band must be { lowHz, highHz } or null; received undefined',
  ],
  [() => setFades(list, 1, { shorten: wrong(1) }), 'setFades: shorten must be a boolean; received 1'],
  [
    () => setFades(list, 1, { shorten: true, fadeInSamples: -1 }),
    'setFades: fadeInSamples must lie within [0, 9007199254740991]; received -1',
  ],
  [
    () => setFades(list, 1, { shorten: true, fadeOutSamples: -1 }),
    'setFades: fadeOutSamples must lie within [0, 9007199254740991]; received -1',
  ],
  [() => setGain(list, 1, 24.5), 'setGain: gainDb must lie within [-120, 24]; received 24.5'],
  [() => setGain(list, 1, -121), 'setGain: gainDb must lie within [-120, 24]; received -121'],
  [
    () => nudgeEdges(list, 1, { bySamples: 1, edges: wrong('middle') }),
    'nudgeEdges: edges must be one of both, start, end; received "middle"',
  ],
  [
    () => nudgeEdges(list, 1, {}),
    'nudgeEdges: nudge must give either bySamples or bySeconds; received an object',
  ],
  [
    () => nudgeEdges(list, 1, { bySamples: 1, bySeconds: 1 }),
    'nudgeEdges: nudge must give either bySamples or bySeconds; received an object',
  ],
  [
    () => nudgeEdges(list, 1, { bySamples: 0.5 }),
    'nudgeEdges: bySamples must be a whole number; received 0.5',
  ],
  [
    () => nudgeByFrames(list, 1, '25', { lengthSamples: -1 }),
    'nudgeByFrames: lengthSamples must lie within [0, 9007199254740991]; received -1',
  ],
  [() => shiftRegions(list, 0.5), 'shiftRegions: bySamples must be a whole number; received 0.5'],
  [
    () => shiftRegions(list, 1, { lengthSamples: -1 }),
    'shiftRegions: lengthSamples must lie within [0, 9007199254740991]; received -1',
  ],
  [() => stretchRegions(list, 0.009), 'stretchRegions: ratio must lie within [0.01, 100]; received 0.009'],
  [() => stretchRegions(list, 101), 'stretchRegions: ratio must lie within [0.01, 100]; received 101'],
  [
    () => stretchRegions(list, 1, { lengthSamples: -1 }),
    'stretchRegions: lengthSamples must lie within [0, 9007199254740991]; received -1',
  ],
  [
    () => joinAcrossGaps(list, { maxGapSeconds: -1 }),
    `joinAcrossGaps: maxGapSeconds must lie within [0, Infinity]; received -1`,
  ],
  [
    () => joinAcrossGaps(list, { maxGapSeconds: 1, kinds: wrong('breath') }),
    'joinAcrossGaps: kinds must be an array; received "breath"',
  ],
  [
    () => joinAcrossGaps(list, { maxGapSeconds: 1, kinds: ['breath', wrong('hum')] }),
    `joinAcrossGaps: kinds must be one of ${REGION_KINDS.join(', ')}; received "hum"`,
  ],
  [() => editRegions(list, wrong(null)), 'editRegions: decide must be a function; received null'],
  [
    () => regionsOfKind(list, wrong(3)),
    'regionsOfKind: kinds must be a kind or an array of them; received 3',
  ],
  [() => nextRegion(list, wrong('0')), 'nextRegion: sample must be a number; received "0"'],
  [() => previousRegion(list, Number.NaN), 'previousRegion: sample must be finite; received NaN'],
  [
    () => snapRegion(list, 1, samples, { withinSeconds: 0.0011 }),
    'snapRegion: withinSeconds must lie within [0, 0.001]; received 0.0011',
  ],
  [
    () => snapRegion(list, 1, samples, { edges: wrong('middle') }),
    'snapRegion: edges must be one of both, start, end; received "middle"',
  ],
  [
    () => snapRegion(list, 1, new Float32Array(999)),
    'snapRegion: channels must be 1000 samples long; received 999',
  ],
  [() => snapRegion(list, 9, samples), 'snapRegion: id must be the id of a region of the list; received 9'],
  [() => snapRegion(list, 2, samples), 'snapRegion: id must not be that of a locked region; received 2'],
  [
    () => recordEdit(startHistory(list), wrong({}), 'cut'),
    'recordEdit: list must be a region list; received an object',
  ],
  [() => samplesToSeconds(1, 0), 'samplesToSeconds: sampleRateHz must lie within [8000, 192000]; received 0'],
  [() => secondsToSamples(1, 0), 'secondsToSamples: sampleRateHz must lie within [8000, 192000]; received 0'],
  [() => framesToSamples(0.5, 48000, '25'), 'framesToSamples: frames must be a whole number; received 0.5'],
  [
    () => framesToSamples(2 ** 52, 48000, '25'),
    'framesToSamples: frames must give a length within ±(2^53 − 1) samples; received 4503599627370496',
  ],
  [
    () => timecodeToSamples(wrong(5), 48000, '25'),
    'timecodeToSamples: timecode must be a text or a Timecode; received 5',
  ],
  [
    () => timecodeToSamples(wrong(null), 48000, '25'),
    'timecodeToSamples: timecode must be a text or a Timecode; received null',
  ],
  [
    () => selectRegions(list, wrong('sibilant')),
    'selectRegions: criteria must be an object; received "sibilant"',
  ],
  [() => selectRegions(list, wrong(null)), 'selectRegions: criteria must be an object; received null'],
  [
    () => snapToZeroCrossing(wrong([0]), 0, { withinSamples: 1 }),
    'snapToZeroCrossing: samples must be a Float32Array; received an array of 1',
  ],
  [
    () => snapToZeroCrossing(samples, 1001, { withinSamples: 1 }),
    'snapToZeroCrossing: sample must lie within [0, 1000]; received 1001',
  ],
  [
    () => snapToZeroCrossing(samples, 0, { withinSamples: -1 }),
    'snapToZeroCrossing: withinSamples must lie within [0, 9007199254740991]; received -1',
  ],
  [
    () => snapToZeroCrossing(samples, 0, { withinSamples: 1, direction: wrong('up') }),
    'snapToZeroCrossing: direction must be one of earlier, later, nearest; received "up"',
  ],
  [
    () => createRegionList({ sampleRateHz: 7999, lengthSamples: 0 }),
    'createRegionList: sampleRateHz must lie within [8000, 192000]; received 7999',
  ],
  [
    () => createRegionList({ sampleRateHz: 48000, lengthSamples: -1 }),
    'createRegionList: lengthSamples must lie within [0, 9007199254740991]; received -1',
  ],
];

/** What edits by ids have in common; each gives a value that the edit itself would take. */
const BY_IDS: readonly (readonly [string, (ids: never) => unknown])[] = [
  ['setBand', (ids) => setBand(list, ids, null)],
  ['setFades', (ids) => setFades(list, ids, {})],
  ['setBypassed', (ids) => setBypassed(list, ids, true)],
  ['setLabel', (ids) => setLabel(list, ids, 'a')],
  ['setKind', (ids) => setKind(list, ids, 'breath')],
  ['setGain', (ids) => setGain(list, ids, -6)],
  ['nudgeEdges', (ids) => nudgeEdges(list, ids, { bySamples: 1 })],
  ['removeRegion', (ids) => removeRegion(list, ids)],
];

describe('a refusal', () => {
  it.each(REFUSALS)('says function, parameter, rule and value: %#', (call, message) => {
    expect(messageOf(call)).toBe(message);
  });

  it.each(BY_IDS)('of ids names the edit that was called: %s', (name, edit) => {
    expect(messageOf(() => edit(wrong(9)))).toMatch(new RegExp(`^${name}: id.* of the list; received 9$`));
    expect(messageOf(() => edit(wrong(2)))).toMatch(new RegExp(`^${name}: id.* locked region; received 2$`));
  });

  it('of setLocked is for ids alone, since a lock is what it takes off', () => {
    expect(messageOf(() => setLocked(list, 9, false))).toMatch(/^setLocked: id.* of the list; received 9$/);
    expect(setLocked(list, 2, false).regions[1]?.locked).toBe(false);
  });
});
