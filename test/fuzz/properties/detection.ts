import fc from 'fast-check';
import * as d from '../../../src/detection/index.js';
import type { Region, RegionList } from '../../../src/regions/region.js';
import type { Samples } from '../../../src/signal/samples.js';
import { ALL_SIBILANT, constant } from '../../lib/constant-classifier.js';
import { type ClipLimits, clips, listed } from '../arbitraries/clips.js';
import { options, whole, within } from '../arbitraries/numbers.js';
import { clipsWithLists } from '../arbitraries/region-lists.js';
import { must } from '../lib/failure.js';
import { fingerprint } from '../lib/fingerprint.js';
import { type Properties, property } from '../lib/property.js';

/** Long enough for events and references, short enough for many cases. */
const SHORT: ClipLimits = { mostSeconds: 0.5, mostChannels: 3 };
const settings = options({
  minConfidence: within(0, 1),
  enterProbability: within(0.3, 1),
  leaveProbability: within(0.005, 0.3),
  leastPartSeconds: within(0, 0.1),
  leastDurationSeconds: within(0, 0.1),
  classifier: fc.constantFrom(
    constant(ALL_SIBILANT),
    constant([0, 1, 0, 0, 0, 0], 3),
    d.createThresholdClassifier(),
  ),
  eventModel: fc.constant(null),
});
const audioOf = (limits: ClipLimits) =>
  clips(limits).map((c) => [c.channels, { sampleRateHz: c.sampleRateHz }] as const);
const finder = clipsWithLists(SHORT, { bands: false });
const shape = { inputCount: 24, channelCount: 4, kernelFrames: 3, dilations: [1, 2] };
const steppedShape = { ...shape, kernelFrames: 5, frameStep: 2 };
const find = { audio: [1, 'all'] as const, weight: 0.15, frozen: true };

export const DETECTION: Properties = {
  bandwidthWarnings: property(d.bandwidthWarnings, audioOf({ mostSeconds: 0.3 }), {
    audio: [0, 'all'],
    weight: 0.3,
  }),
  detectConsonants: property(
    d.detectConsonants,
    fc.tuple(audioOf(SHORT), settings).map(([[channels, rate], o]) => [channels, { ...rate, ...o }] as const),
    { audio: [0, 'all'], weight: 0.15, frozen: true, check: equalsBlocks },
  ),
  createConsonantDetector: property(
    d.createConsonantDetector,
    fc.tuple(audioOf(SHORT), settings).map(([[, rate], o]) => [{ ...rate, ...o }] as const),
    { repeats: false, weight: 0.3, check: (detector) => void detector.flush() },
  ),
  detectCymbals: property(d.detectCymbals, audioOf(SHORT), { audio: [0, 'all'], weight: 0.15, frozen: true }),
  findBreaths: property(
    d.findBreaths,
    fc
      .tuple(finder, options({ leastSeconds: within(0.05, 2), aboveDb: within(3, 40) }))
      .map(([c, o]) => [c.list, c.channels, o] as const),
    { ...find, check: keepsRegions },
  ),
  findBreathsAndNoise: property(
    d.findBreathsAndNoise,
    finder.map((c) => [c.list, c.channels] as const),
    {
      ...find,
      check: keepsRegions,
    },
  ),
  findClicks: property(
    d.findClicks,
    fc
      .tuple(
        finder,
        options({ aboveDb: within(6, 40), underVoiceDb: within(0, 80), mostSeconds: within(0.001, 0.02) }),
      )
      .map(([c, o]) => [c.list, c.channels, o] as const),
    { ...find, check: keepsRegions },
  ),
  findNoise: property(
    d.findNoise,
    fc
      .tuple(
        finder,
        options({
          aboveDb: within(3, 60),
          leastSeconds: within(0.02, 1),
          joinSeconds: within(0, 1),
          holdBeforeSeconds: within(0, 2),
          holdAfterSeconds: within(0, 2),
          marginSeconds: within(0, 1),
          wholePauses: fc.boolean(),
        }),
      )
      .map(([c, o]) => [c.list, c.channels, o] as const),
    { ...find, check: keepsRegions },
  ),
  findThumps: property(
    d.findThumps,
    fc
      .tuple(
        finder,
        options({ aboveDb: within(6, 40), underVoiceDb: within(0, 40), mostSeconds: within(0.05, 1) }),
      )
      .map(([c, o]) => [c.list, c.channels, o] as const),
    { ...find, check: keepsRegions },
  ),
  convWeightCount: property(
    d.convWeightCount,
    fc.tuple(
      fc.record({
        inputCount: whole(1, 100),
        channelCount: whole(1, 100),
        kernelFrames: whole(0, 7).map((half) => 2 * half + 1),
        dilations: fc.array(whole(1, 64), { maxLength: 5 }),
      }),
    ),
    {},
  ),
  createConvClassifier: property(
    d.createConvClassifier,
    fc
      .tuple(fc.constantFrom(shape, steppedShape), within(-3, 3))
      .map(([s, w]) => [{ ...s, weights: new Float64Array(d.convWeightCount(s)).fill(w) }] as const),
    {
      repeats: false,
      check: sumsToOne,
    },
  ),
  createThresholdClassifier: property(
    d.createThresholdClassifier,
    fc.tuple(fc.record({ contrastDb: within(-60, 60), leastHighDb: within(-120, 60) })),
    { repeats: false, check: sumsToOne },
  ),
  createConsonantModel: property(d.createConsonantModel, fc.constant([] as const), {
    weight: 0.02,
    noWrongArguments: 'it takes none',
  }),
};

/** The whole clip gives what its blocks give: same regions, same numbers. */
function equalsBlocks(
  list: RegionList,
  channels: Parameters<typeof d.detectConsonants>[0],
  o: d.DetectionOptions,
): void {
  const detector = d.createConsonantDetector(o);
  const all = listed(channels);
  const regions: Region[] = [];
  for (let at = 0, n = 700; at < list.lengthSamples; at += n, n = (n * 7) % 9001)
    regions.push(...detector.push(all.map((x) => x.subarray(at, at + n) as Samples)));
  regions.push(...detector.flush());
  must(
    fingerprint(regions) === fingerprint([...list.regions]),
    'a whole clip must equal its blocks',
    regions.length,
  );
}

/** What was there before stays as it was. */
function keepsRegions(result: RegionList, list: RegionList): void {
  for (const region of list.regions)
    must(result.regions.includes(region), 'regions that were there must stay', region.id);
}

/** Any frames give probabilities. */
function sumsToOne(classifier: ReturnType<typeof d.createThresholdClassifier>): void {
  const rows = 3;
  const out = new Float64Array(rows * d.FRAME_CLASSES.length);
  classifier.classify(new Float64Array(rows * classifier.inputCount).fill(0.3), rows, out);
  for (let row = 0; row < rows; row++) {
    const part = out.subarray(row * d.FRAME_CLASSES.length, (row + 1) * d.FRAME_CLASSES.length);
    // A softmax of doubles sums to 1 but for rounding.
    must(Math.abs(part.reduce((a, b) => a + b, 0) - 1) < 1e-9, 'probabilities must sum to 1', part[0]);
  }
}
