// The README's job, with the streaming renderer from its own entry; what came of it is left where the check looks.
import { detectConsonants, fixedCut, placeEdges, renderGain } from 'lenition';
import { createGainRenderer } from 'lenition/gain';
import { makeClip } from '../material.cjs';

const samples = makeClip();
const found = detectConsonants(samples, { sampleRateHz: 48000 });
const list = fixedCut(placeEdges(found, samples), { gainDb: -6 });
const whole = renderGain(samples, list);
const renderer = createGainRenderer(list);
const streamed = new Float32Array(samples.length);
renderer.pushInto(streamed, samples);

globalThis.lenitionPage = {
  regions: list.regions.length,
  changed: whole.filter((x, n) => !Object.is(x, samples[n])).length,
  differing: whole.filter((x, n) => !Object.is(x, streamed[n])).length,
};
