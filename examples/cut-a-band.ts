/** Turning down a part of the spectrum only: the hiss of an s, and the thump of a p under a vowel. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { createBandGainRenderer } from '../src/gain/band-gain-renderer.js';
import { bandTransitionHz } from '../src/gain/band-kernel.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { renderGain } from '../src/gain/render-gain.js';
import { suggestBand } from '../src/levels/suggest-band.js';
import { markRange } from '../src/regions/mark-range.js';
import type { RegionBand, RegionList } from '../src/regions/region.js';
import { setBand } from '../src/regions/set-band.js';
import { setFades } from '../src/regions/set-fades.js';
import { setGain } from '../src/regions/set-gain.js';
import { highPass, lowPass } from '../src/signal/biquad-design.js';
import { filterSamples } from '../src/signal/biquad-filter.js';
import { rmsDbfs } from '../src/signal/meters.js';
import type { Samples } from '../src/signal/samples.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;

// An s: the suggested band, and 6 dB less with and without it.
const found = placeEdges(detectConsonants(lead, { sampleRateHz }), lead);
const hiss = found.regions.find(({ kind }) => kind === 'sibilant')!;
show('the first s', lead, found, hiss.id, -6);

console.log('');

// A thump: 90 ms of 50 Hz that dies away, put under a vowel; a hand marks it.
const start = hiss.endSample + Math.round(0.1 * sampleRateHz);
const length = Math.round(0.09 * sampleRateHz);
const popped = lead.map((x, i) => {
  const t = (i - start) / sampleRateHz;
  return i < start || i >= start + length
    ? x
    : x + 0.4 * Math.exp(-t / 0.025) * Math.sin(2 * Math.PI * 50 * t);
});
const marked = markRange(found, start, start + length);
show(
  'a thump under a vowel',
  popped,
  setFades(marked, found.nextId, { fadeInSamples: 48, fadeOutSamples: 480 }),
  found.nextId,
  -18,
);

function show(title: string, clip: Samples, list: RegionList, id: number, gainDb: number): void {
  const band = suggestBand(clip, list, id)!;
  const plain = setGain(list, id, gainDb);
  const banded = setBand(plain, id, band);
  console.log(`${title}: ${-gainDb} dB, suggested band ${band.lowHz} to ${band.highHz} Hz`);
  console.log('RMS in dBFS       inside  outside');
  const rows = [
    ['as recorded', clip],
    ['plain gain', renderGain(clip, plain)],
    ['in the band', renderGain(clip, banded)],
  ] as const;
  for (const [name, audio] of rows) {
    const [inside, outside] = levels(audio, banded, id, band);
    console.log(`${name.padEnd(14)} ${inside.padStart(9)} ${outside.padStart(8)}`);
  }
  const { latencySamples } = createBandGainRenderer(banded);
  const late = ((1000 * latencySamples) / sampleRateHz).toFixed(0);
  console.log(
    `transitions ${bandTransitionHz(band, sampleRateHz).toFixed(0)} Hz wide; in blocks ${late} ms late`,
  );
}

/** Level of a region well inside its band, and well outside on the side of the voice. */
function levels(audio: Samples, list: RegionList, id: number, band: RegionBand): readonly [string, string] {
  const { startSample, endSample } = list.regions.find((region) => region.id === id)!;
  const upper = band.lowHz > 0;
  const corner = upper ? band.lowHz : band.highHz;
  const rate = { sampleRateHz, frequencyHz: upper ? 1.3 * corner : corner / 2 };
  const other = { sampleRateHz, frequencyHz: upper ? corner / 3 : 3 * corner };
  const part = (filter: typeof lowPass, options: typeof rate): string => {
    const once = filterSamples(audio, [filter(options), filter(options)]);
    return rmsDbfs(once.slice(startSample, endSample)).toFixed(1);
  };
  return upper ? [part(highPass, rate), part(lowPass, other)] : [part(lowPass, rate), part(highPass, other)];
}
