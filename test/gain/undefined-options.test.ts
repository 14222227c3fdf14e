import { describe, expect, it } from 'vitest';
import * as library from '../../src/index.js';
import { demoLead } from '../lib/demo-lead.js';

const { samples, sampleRateHz } = demoLead();
const found = library.detectConsonants(samples, { sampleRateHz });
const list = library.insertRegion(
  library.placeEdges(found, samples),
  // In the silence after the last word.
  { kind: 'noise', startSample: found.lengthSamples - 900, endSample: found.lengthSamples },
);
const levels = library.measureLevels(samples, list);

/** Functions of a whole list, each with the settings that it fills in. */
const CALLS: readonly (readonly [string, object, (options: object) => unknown])[] = [
  ['fixedCut', { gainDb: 0, kinds: 0, minConfidence: 0 }, (o) => library.fixedCut(list, o)],
  ['stepGain', library.DEFAULT_STEP_GAIN_OPTIONS, (o) => library.stepGain(list, o)],
  ['levelledCut', library.DEFAULT_LEVELLED_CUT_OPTIONS, (o) => library.levelledCut(list, levels, o)],
  ['evenedCut', library.DEFAULT_EVENED_CUT_OPTIONS, (o) => library.evenedCut(list, levels, o)],
  ['lowerNoise', library.DEFAULT_LOWER_NOISE_OPTIONS, (o) => library.lowerNoise(list, o)],
  ['softenBreaths', library.DEFAULT_SOFTEN_BREATHS_OPTIONS, (o) => library.softenBreaths(list, samples, o)],
  ['placeEdges', library.DEFAULT_EDGE_OPTIONS, (o) => library.placeEdges(found, samples, o)],
  ['phrasesOf', library.DEFAULT_PHRASE_OPTIONS, (o) => library.phrasesOf(samples, list, o)],
  [
    'nextUncertain',
    library.DEFAULT_UNCERTAIN_CRITERIA,
    (o) => library.nextUncertain(list, -1, { ...o }) ?? null,
  ],
  ['gainToCsv', library.DEFAULT_GAIN_CSV_OPTIONS, (o) => library.gainToCsv(list, o)],
];

describe('a setting that is there but undefined', () => {
  it.each(CALLS)('is left out: %s', (_, defaults, call) => {
    const plain = call({});
    for (const name of Object.keys(defaults)) expect(call({ [name]: undefined }), name).toEqual(plain);
  });

  it('matters here: noise is lowered and nothing else, and what is certain is passed over', () => {
    const lowered = library.lowerNoise(list, { kinds: undefined } as never).regions;
    expect(lowered.filter(({ gainDb }) => gainDb !== 0).map(({ kind }) => kind)).toEqual(['noise']);
    expect(library.nextUncertain(list, -1, { belowConfidence: undefined } as never)?.confidence).toBeLessThan(
      0.9,
    );
  });
});
