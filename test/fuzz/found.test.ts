import { describe, expect, it } from 'vitest';
import * as evaluation from '../../src/evaluation/index.js';
import { errorRates, fMeasure, segmentRates, sumErrorCounts } from '../../src/evaluation/index.js';
import { spectralCentroid } from '../../src/features/index.js';
import {
  compress,
  compressionGainAt,
  DEFAULT_SATURATION_SETTINGS,
  equalise,
  filterSections,
  keyedSpread,
  saturate,
} from '../../src/forecast/index.js';
import { bandTransitionHz, fixedCut, summariseTake } from '../../src/gain/index.js';
import { measureLevels } from '../../src/levels/index.js';
import {
  createRegionList,
  editRegions,
  insertRegion,
  insertRegions,
  regionsOfKind,
  totalSamples,
} from '../../src/regions/index.js';
import {
  createFrameGrid,
  frameCentreSample,
  frameStartSample,
  frameTimeSeconds,
} from '../../src/signal/index.js';
import { checkTakes } from '../../src/takes/index.js';

/** Calls with arguments that TypeScript would refuse, as plain JavaScript may. */
const loosely = (call: unknown): ((...args: unknown[]) => unknown) => call as never;
const list = insertRegion(createRegionList({ sampleRateHz: 48000, lengthSamples: 480 }), {
  startSample: 100,
  endSample: 300,
  kind: 'sibilant',
});
const clip = new Float32Array(480).fill(0.25);

describe('an option that is there but undefined', () => {
  const settings = { thresholdDb: -20, ratio: 4, attackSeconds: 0, releaseSeconds: 0.1 };

  // They came out as NaN: the checks took undefined as left out, and what read the settings did not.
  it.each(['kneeDb', 'detector', 'averageSeconds', 'smoothing', 'sidechain', 'makeUpDb', 'wet'])(
    'counts as left out in a compressor: %s',
    (name) => {
      const plain = compress(clip, { ...settings, sampleRateHz: 48000 });
      const out = compress(clip, { ...settings, sampleRateHz: 48000, [name]: undefined });
      expect(out).toEqual(plain);
      expect(loosely(keyedSpread)(clip, list, { ...settings, [name]: undefined })).toEqual(
        keyedSpread(clip, list, settings),
      );
    },
  );

  it.each(Object.keys(DEFAULT_SATURATION_SETTINGS))('counts as left out in a saturation: %s', (name) => {
    const saturation = { curve: 'tanh', driveDb: 6, sampleRateHz: 48000 } as const;
    expect(saturate(clip, { ...saturation, [name]: undefined })).toEqual(saturate(clip, saturation));
  });
});

describe('wrong arguments are refused by name and not answered with NaN', () => {
  const span = { startSeconds: 0, endSeconds: 1, label: 's' };
  const noSpan = { startSeconds: Number.NaN, endSeconds: 1, label: 's' };
  const counts = { reference: 2, estimate: 2, hits: 1, substitutions: 0, deletions: 1, insertions: 1 };
  const grid = createFrameGrid({ sampleRateHz: 48000, frameSeconds: 0.02, hopSeconds: 0.01 }, 480);
  const e = evaluation;
  const rules = { obstruentMarginSeconds: 0.01, leastOnObstruent: 0.3 };

  it.each<[string, unknown, readonly unknown[]]>([
    ['overlapSeconds', e.overlapSeconds, [span, noSpan]],
    ['secondsInside', e.secondsInside, [span, [noSpan]]],
    ['secondsInside', e.secondsInside, [null, []]],
    ['unionOfSpans', e.unionOfSpans, [[span], Number.NaN]],
    ['unionOfSpans', e.unionOfSpans, ['spans']],
    ['mergeTouching', e.mergeTouching, [[span, noSpan]]],
    ['mergeTouching', e.mergeTouching, [[span], Number.NaN]],
    ['misplacement', e.misplacement, [noSpan, [], [], rules]],
    ['misplacement', e.misplacement, [span, [], [], { ...rules, leastOnObstruent: '1' }]],
    ['misplacement', e.misplacement, [span, [], [], null]],
    ['voicedCutSeconds', e.voicedCutSeconds, [[noSpan], []]],
    ['voicedCutSeconds', e.voicedCutSeconds, [[], [], -1]],
    ['sibilantSpans', e.sibilantSpans, ['phones']],
    ['phoneTally', e.phoneTally, [[], [], 1, { mergeGapSeconds: Number.NaN }]],
    ['edgeErrors', e.edgeErrors, [[{ reference: span, estimate: noSpan }]]],
    ['edgeErrors', e.edgeErrors, [[undefined]]],
    ['judgeRegions', e.judgeRegions, [[noSpan], {}]],
    ['judgeRegions', e.judgeRegions, [[], { sibilant: [noSpan] }]],
    ['confusionTable', e.confusionTable, [[{ reference: [span] }]]],
    ['meanOverLabels', e.meanOverLabels, [[{ reference: [span], estimate: [] }], 'score']],
    ['matchByOverlap', e.matchByOverlap, [[null], []]],
    ['maximumMatching', e.maximumMatching, [new Array(2), 3]],
    ['maximumMatching', e.maximumMatching, [[], 2 ** 32]],
    ['bestTradeOffs', e.bestTradeOffs, [[{ precision: Number.NaN, recall: 1 }]]],
    ['quantile', e.quantile, [{ length: 1 }, 0]],
    ['quantile', e.quantile, [new Array(2), 0]],
    ['confusionTable', e.confusionTable, [new Array(2)]],
    ['phoneTally', e.phoneTally, [[{ ...span, phoneClass: Number.NaN }], [], 1]],
    ['phoneTally', e.phoneTally, [[], [{ ...span, confidence: Number.NaN }], 1]],
    ['sibilantSpans', e.sibilantSpans, [[{ ...span, phoneClass: 'sibilant', voiced: 1, tongueStop: false }]]],
    ['reliability', e.reliability, [[null]]],
    [
      'regionEvents',
      e.regionEvents,
      [[{ onsetSample: 0, offsetSample: 1, kind: 'x', confidence: 1 }], 48000],
    ],
    ['segmentScores', e.segmentScores, [[], [], { durationSeconds: 1e9, segmentSeconds: 1e-9 }]],
    ['segmentRates', segmentRates, [{ ...counts, trueNegatives: Number.NaN }]],
    ['errorRates', errorRates, [{ ...counts, insertions: undefined }]],
    ['errorRates', errorRates, [{ ...counts, hits: 3 }]],
    ['sumErrorCounts', sumErrorCounts, [[{ ...counts, hits: -1 }]]],
    ['fMeasure', fMeasure, [1, 1, 1e200]],
    ['frameCentreSample', frameCentreSample, [grid, Number.NaN]],
    ['frameStartSample', frameStartSample, [grid, 0.5]],
    ['frameTimeSeconds', frameTimeSeconds, [grid, '1']],
    ['bandTransitionHz', bandTransitionHz, [{ lowHz: Number.NaN, highHz: 5000 }, 48000]],
    ['bandTransitionHz', bandTransitionHz, [{ lowHz: 100, highHz: 30000 }, 48000]],
    ['bandTransitionHz', bandTransitionHz, [null, 48000]],
    ['compressionGainAt', compressionGainAt, [1e308, { thresholdDb: -1e308, ratio: 1 }]],
    ['filterSections', filterSections, ['filters', { sampleRateHz: 48000 }]],
    ['filterSections', filterSections, [[null], { sampleRateHz: 48000 }]],
    ['summariseTake', summariseTake, [list, measureLevels(clip, list), { levelsAfter: {} }]],
    ['regionsOfKind', regionsOfKind, [list, 7]],
    ['totalSamples', totalSamples, [7]],
    ['editRegions', editRegions, [list, undefined]],
    ['insertRegions', insertRegions, [list, new Array(2)]],
    ['insertRegions', insertRegions, [list, 7]],
    ['insertRegion', insertRegion, [list, { startSample: Symbol('x'), endSample: 400 }]],
    ['judgeRegions', e.judgeRegions, [[{ ...span, confidence: Number.NaN }], {}]],
    ['checkTakes', checkTakes, [new Array(2)]],
    ['spectralCentroid', spectralCentroid, [Float64Array.of(0, 1), 1e308]],
    ['fixedCut', fixedCut, [list, { between: null }]],
    ['equalise', equalise, [new Float32Array(4), { filters: new Array(1), sampleRateHz: 48000 }]],
  ])('%s', (name, call, args) => {
    const form = new RegExp(`^${name}: .+; received .+$`);
    let message = 'nothing was thrown';
    try {
      loosely(call)(...args);
    } catch (error) {
      expect(error instanceof RangeError || error instanceof TypeError).toBe(true);
      message = (error as Error).message;
    }
    expect(message).toMatch(form);
  });
});

describe('numbers at the ends of what a double holds', () => {
  it('have a quantile between them', () => {
    // 9 and 4 units of the least double: a way through halves would lose one.
    expect(evaluation.quantile([4 * Number.MIN_VALUE, 9 * Number.MIN_VALUE], 1)).toBe(9 * Number.MIN_VALUE);
    expect(evaluation.quantile([-1.5e308, 1.5e308], 0.5)).toBe(0);
  });

  it('give an F of 0 where nothing was found, for any beta', () => {
    expect(fMeasure(1, 0, 1e-200)).toBe(0);
  });
});
