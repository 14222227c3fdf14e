import { describe, expect, it } from 'vitest';
import { edgeClicks } from '../../src/gain/edge-clicks.js';
import { evenedCut } from '../../src/gain/evened-cut.js';
import { excerpt } from '../../src/gain/excerpt.js';
import { fadeGain } from '../../src/gain/fade-gain.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { gainAt } from '../../src/gain/gain-at.js';
import { gainAtDepth } from '../../src/gain/gain-at-depth.js';
import { gainCurveInto } from '../../src/gain/gain-curve.js';
import { defaultCuts } from '../../src/gain/kind-cuts.js';
import { levelledCut } from '../../src/gain/levelled-cut.js';
import { lowerNoise } from '../../src/gain/lower-noise.js';
import { markAndCut } from '../../src/gain/mark-and-cut.js';
import { phraseGain } from '../../src/gain/phrase-gain.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { shortenedFlags } from '../../src/gain/shortened-flags.js';
import { softenBreaths } from '../../src/gain/soften-breaths.js';
import { stepGain } from '../../src/gain/step-gain.js';
import { summariseTake } from '../../src/gain/summarise-take.js';
import { tameCymbals } from '../../src/gain/tame-cymbals.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegion } from '../../src/regions/insert-region.js';
import { messageOf } from '../lib/message-of.js';

const wrong = (value: unknown): never => value as never;
const list = insertRegion(createRegionList({ sampleRateHz: 48_000, lengthSamples: 4800 }), {
  kind: 'sibilant',
  startSample: 960,
  endSample: 1920,
});
const samples = new Float32Array(4800);
const levels = { sampleRateHz: 48_000, voiceDbfs: null, byId: new Map() };

/** Function, option, its limits as the doc blocks state them, and a call with a value for it. */
const NUMBERS: readonly (readonly [string, string, number, number, (value: number) => unknown])[] = [
  ['fixedCut', 'gainDb', -120, 0, (gainDb) => fixedCut(list, { gainDb })],
  ['stepGain', 'stepDb', -144, 144, (stepDb) => stepGain(list, { stepDb })],
  ['stepGain', 'mostGainDb', -120, 24, (mostGainDb) => stepGain(list, { stepDb: -1, mostGainDb })],
  ['evenedCut', 'share', 0, 1, (share) => evenedCut(list, levels, { share })],
  [
    'evenedCut',
    'referencePercentile',
    0,
    100,
    (referencePercentile) => evenedCut(list, levels, { referencePercentile }),
  ],
  ['evenedCut', 'maxCutDb', 0, 120, (maxCutDb) => evenedCut(list, levels, { maxCutDb })],
  ['levelledCut', 'targetDb', -100, 100, (targetDb) => levelledCut(list, levels, { targetDb })],
  [
    'levelledCut',
    'targetPercentile',
    0,
    100,
    (targetPercentile) => levelledCut(list, levels, { targetPercentile }),
  ],
  ['levelledCut', 'maxCutDb', 0, 120, (maxCutDb) => levelledCut(list, levels, { maxCutDb })],
  ['gainAtDepth', 'depth', 0, Number.POSITIVE_INFINITY, (depth) => gainAtDepth(list, { depth })],
  ['gainAtDepth', 'maxCutDb', 0, 120, (maxCutDb) => gainAtDepth(list, { depth: 1, maxCutDb })],
  ['defaultCuts', 'gainsDb.breath', -120, 0, (breath) => defaultCuts(list, { gainsDb: { breath } })],
  ['lowerNoise', 'cutDb', 0, 120, (cutDb) => lowerNoise(list, { cutDb })],
  ['lowerNoise', 'fadeSeconds', 0, 1, (fadeSeconds) => lowerNoise(list, { fadeSeconds })],
  ['lowerNoise', 'bandFadeSeconds', 0, 1, (bandFadeSeconds) => lowerNoise(list, { bandFadeSeconds })],
  ['lowerNoise', 'clickFadeSeconds', 0, 1, (clickFadeSeconds) => lowerNoise(list, { clickFadeSeconds })],
  ['markAndCut', 'stepDb', -144, 0, (stepDb) => markAndCut(list, 0, 96, null, { stepDb })],
  ['markAndCut', 'fadeSeconds', 0, 0.1, (fadeSeconds) => markAndCut(list, 0, 96, null, { fadeSeconds })],
  ['markAndCut', 'snapSeconds', 0, 0.001, (snapSeconds) => markAndCut(list, 0, 96, null, { snapSeconds })],
  [
    'phraseGain',
    'gainDb',
    -144,
    144,
    (gainDb) => phraseGain(list, { startSample: 2400, endSample: 3600 }, { gainDb }),
  ],
  [
    'phraseGain',
    'fadeSeconds',
    0,
    1,
    (fadeSeconds) => phraseGain(list, { startSample: 2400, endSample: 3600 }, { gainDb: 0, fadeSeconds }),
  ],
  ['softenBreaths', 'cutDb', 0, 120, (cutDb) => softenBreaths(list, null, { cutDb })],
  ['softenBreaths', 'fadeSeconds', 0, 1, (fadeSeconds) => softenBreaths(list, null, { fadeSeconds })],
  ['softenBreaths', 'reachSeconds', 0, 0.5, (reachSeconds) => softenBreaths(list, null, { reachSeconds })],
  ['shortenedFlags', 'sKeptSeconds', 0, 1, (sKeptSeconds) => shortenedFlags(list, levels, { sKeptSeconds })],
  [
    'shortenedFlags',
    'shKeptSeconds',
    0,
    1,
    (shKeptSeconds) => shortenedFlags(list, levels, { shKeptSeconds }),
  ],
  ['tameCymbals', 'targetDb', -60, 60, (targetDb) => tameCymbals(list, samples, { targetDb })],
  [
    'tameCymbals',
    'mostCutDb',
    0,
    120,
    (mostCutDb) => tameCymbals(list, samples, { mostCutDb, leastCutDb: 0 }),
  ],
  [
    'tameCymbals',
    'leastCutDb',
    0,
    9,
    (leastCutDb) => tameCymbals(list, samples, { leastCutDb, mostCutDb: 9 }),
  ],
  ['tameCymbals', 'fadeInSeconds', 0, 0.1, (fadeInSeconds) => tameCymbals(list, samples, { fadeInSeconds })],
  ['tameCymbals', 'holdSeconds', 0, 1, (holdSeconds) => tameCymbals(list, samples, { holdSeconds })],
  ['tameCymbals', 'returnShare', 0.1, 1, (returnShare) => tameCymbals(list, samples, { returnShare })],
  [
    'edgeClicks',
    'leastRatioDb',
    -40,
    120,
    (leastRatioDb) => edgeClicks(samples, samples, list, { leastRatioDb }),
  ],
  [
    'edgeClicks',
    'nearSeconds',
    0.002,
    0.05,
    (nearSeconds) => edgeClicks(samples, samples, list, { nearSeconds }),
  ],
  [
    'edgeClicks',
    'sameEventSeconds',
    0,
    0.002,
    (sameEventSeconds) => edgeClicks(samples, samples, list, { sameEventSeconds }),
  ],
  ['excerpt', 'preSeconds', 0, 60, (preSeconds) => excerpt(samples, list, [1], { preSeconds })],
  ['excerpt', 'postSeconds', 0, 60, (postSeconds) => excerpt(samples, list, [1], { postSeconds })],
  ...(
    [
      ['abuttingFadeSeconds', 0, 0.02],
      ['quietSeconds', 0.002, 0.1],
      ['skirtSeconds', 0, 0.1],
      ['quietBelowDb', 3, 60],
      ['snapSeconds', 0, 0.001],
    ] as const
  ).map(
    ([name, least, most]) =>
      [
        'placeEdges',
        name,
        least,
        most,
        (value: number) => placeEdges(list, samples, { [name]: value }),
      ] as const,
  ),
  [
    'placeEdges',
    'fadeSeconds.burst',
    0,
    0.1,
    (burst) => placeEdges(list, samples, { fadeSeconds: { burst } }),
  ],
];

describe.each(NUMBERS)('%s, of its %s', (name, parameter, least, most, run) => {
  it('takes both limits and refuses what lies beyond, by name, rule and value', () => {
    const beyond = Number.isFinite(most) ? [least - 0.001, most + 0.001] : [least - 0.001];
    for (const value of beyond)
      expect(messageOf(() => run(value))).toBe(
        `${name}: ${parameter} must lie within [${least}, ${most}]; received ${value}`,
      );
    for (const value of Number.isFinite(most) ? [least, most] : [least])
      expect(messageOf(() => run(value))).toBe('nothing was thrown');
    expect(messageOf(() => run(Number.NaN))).toBe(`${name}: ${parameter} must be finite; received NaN`);
    expect(messageOf(() => run(wrong('1')))).toBe(`${name}: ${parameter} must be a number; received "1"`);
  });
});

describe('what else gain refuses', () => {
  const out = new Float64Array(10);

  it.each<readonly [() => unknown, string]>([
    [
      () => gainCurveInto(wrong(new Float32Array(1)), list, 0),
      'gainCurveInto: out must be a Float64Array; received a Float32Array',
    ],
    [() => gainCurveInto(out, list, -1), 'gainCurveInto: startSample must lie within [0, 4800]; received -1'],
    [
      () => gainAtDepth(list, { depth: 1, kinds: wrong('sibilant') }),
      'gainAtDepth: kinds must be an array; received "sibilant"',
    ],
    [
      () => defaultCuts(list, { gainsDb: wrong(null) }),
      'defaultCuts: gainsDb must be an object; received null',
    ],
    [
      () => defaultCuts(list, { part: wrong('choir') }),
      'defaultCuts: part must be one of lead, backing; received "choir"',
    ],
    [
      () => softenBreaths(list, null, { part: wrong('choir') }),
      'softenBreaths: part must be one of lead, backing; received "choir"',
    ],
    [
      () => softenBreaths(list, null, { keepRoomTone: wrong(1) }),
      'softenBreaths: keepRoomTone must be a boolean; received 1',
    ],
    [() => fixedCut(list, { kinds: wrong('all') }), 'fixedCut: kinds must be an array; received "all"'],
    [() => fixedCut(list, { ids: wrong(1) }), 'fixedCut: ids must be an array; received 1'],
    [() => fixedCut(list, { between: wrong(5) }), 'fixedCut: between must be an object; received 5'],
    [() => fixedCut(list, { between: wrong(null) }), 'fixedCut: between must be an object; received null'],
    [
      () => fixedCut(list, { minConfidence: 1.1 }),
      'fixedCut: minConfidence must lie within [0, 1]; received 1.1',
    ],
    [
      () => gainAt(list, list.lengthSamples),
      `gainAt: sample must lie within [0, ${list.lengthSamples - 1}]; received ${list.lengthSamples}`,
    ],
    [
      () => summariseTake(list, levels, { flags: wrong({}) }),
      'summariseTake: flags must be an array; received an object',
    ],
    [
      () => summariseTake(list, levels, { flags: [{ id: wrong('1') }] }),
      'summariseTake: flags[0].id must be a number; received "1"',
    ],
    [
      () => summariseTake(list, levels, { flags: [{ id: 1 }, { id: 9 }] }),
      'summariseTake: flags[1].id must be the id of a region of the list; received 9',
    ],
    [
      () => summariseTake(list, levels, { levelsAfter: wrong({}) }),
      'summariseTake: levelsAfter must be a table of measureLevels; received an object',
    ],
    [
      () => excerpt(samples, list, []),
      'excerpt: ids must be ids of regions of the list, at least one; received an array of 0',
    ],
  ])('says function, parameter, rule and value: %#', (call, message) => {
    expect(messageOf(call)).toBe(message);
  });

  it('are positions and gains of a fade that there are not', () => {
    const said = (...args: Parameters<typeof fadeGain>): string => messageOf(() => fadeGain(...args));
    expect(said(1, 0, 1, 1, 'linear')).toMatch(
      /^fadeGain: n must be at least 1; received 0$|^fadeGain: n must lie/,
    );
    expect(said(1, 1.5, 1, 1, 'linear')).toMatch(/^fadeGain: n must be a whole number.*1\.5$/);
    expect(said(-0.1, 4, 1, 1, 'linear')).toBe('fadeGain: i must lie within [0, 4]; received -0.1');
    expect(said(4.1, 4, 1, 1, 'linear')).toBe('fadeGain: i must lie within [0, 4]; received 4.1');
    for (const gain of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(said(1, 4, gain, 1, 'linear')).toMatch(new RegExp(`^fadeGain: fromGain .*received ${gain}$`));
      expect(said(1, 4, 1, gain, 'linear')).toMatch(new RegExp(`^fadeGain: toGain .*received ${gain}$`));
    }
    expect(said(1, 4, 1, 0.5, wrong('round'))).toContain('fadeGain: shape must be one of');
    for (const i of [0, 4]) expect(said(i, 4, 1, 0.5, 'linear')).toBe('nothing was thrown');
  });
});
