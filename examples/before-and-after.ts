/** Judging a cut: the region in its place before and after, what was taken away alone, the edges, and the whole take in numbers. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { beforeAndAfter } from '../src/gain/before-and-after.js';
import { edgeClicks } from '../src/gain/edge-clicks.js';
import { levelledCut } from '../src/gain/levelled-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { removedSignal } from '../src/gain/removed-signal.js';
import { renderGain } from '../src/gain/render-gain.js';
import { summariseTake } from '../src/gain/summarise-take.js';
import { measureLevels } from '../src/levels/measure-levels.js';
import { overCutFlags } from '../src/levels/over-cut-flags.js';
import type { SibilanceSpread } from '../src/levels/sibilance-spread.js';
import { moveEdges } from '../src/regions/move-edges.js';
import type { Region } from '../src/regions/region.js';
import { setFades } from '../src/regions/set-fades.js';
import { rmsDbfs } from '../src/signal/meters.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
const found = placeEdges(detectConsonants(lead, { sampleRateHz }), lead);
const levels = measureLevels(lead, found);
const list = levelledCut(found, levels);

const cutMost = list.regions.reduce((most, region) => (region.gainDb < most.gainDb ? region : most));
const seconds = (sample: number): string => `${(sample / sampleRateHz).toFixed(2)} s`;
const db = (samples: Float32Array<ArrayBuffer>): string => rmsDbfs(samples).toFixed(1).padStart(6);

const pair = beforeAndAfter(lead, list, cutMost.id, { preSeconds: 0.3, postSeconds: 0.3 });
const { regionStartSample: from, regionEndSample: to, before, after } = pair;
console.log(
  `excerpt ${seconds(pair.startSample)} to ${seconds(pair.endSample)}, cut by ${-cutMost.gainDb} dB`,
);
console.log('RMS in dBFS            before   after');
console.log(`the sound before it    ${db(before.slice(0, from))}  ${db(after.slice(0, from))}`);
console.log(`the consonant          ${db(before.slice(from, to))}  ${db(after.slice(from, to))}`);
console.log(`the sound after it     ${db(before.slice(to))}  ${db(after.slice(to))}`);
const removed = removedSignal(lead, list).slice(cutMost.startSample, cutMost.endSample);
console.log(`removed, by itself     ${db(removed)}`);

const clicks = edgeClicks(lead, renderGain(lead, list), list);
console.log(`\nclicks at edges: ${clicks.length}`);
// The same cut as one might make it in haste: from the crest of a wave in the vowel before, and without fades.
const crest = loudestBefore(cutMost);
const hasty = setFades(moveEdges(list, cutMost.id, { startSample: crest }), cutMost.id, {
  fadeInSamples: 0,
  fadeOutSamples: 0,
});
for (const { edge, sample, ratioDb } of edgeClicks(lead, renderGain(lead, hasty), hasty))
  console.log(
    `without fades, begun in the vowel: ${edge} at ${seconds(sample)}, ${ratioDb.toFixed(0)} dB above its surroundings`,
  );

const summary = summariseTake(list, levels, { flags: overCutFlags(list, levels) });
const spread = (s: SibilanceSpread | null): string =>
  s === null
    ? 'none'
    : `${s.p10Db.toFixed(1)} to ${s.p90Db.toFixed(1)} dB, spread ${s.spreadDb.toFixed(1)} dB`;
console.log(`\nsibilance before       ${spread(summary.before)}`);
console.log(`sibilance after        ${spread(summary.after)}`);
console.log(
  `sibilants cut          ${summary.byKind.sibilant.changedCount} of ${summary.byKind.sibilant.count}`,
);
console.log(`largest cut            ${summary.largestCutDb.toFixed(1)} dB`);
console.log(`share of time touched  ${(100 * summary.touchedShare).toFixed(1)} %`);
console.log(`flags                  ${summary.flagCount}`);

/** The loudest sample in the 50 ms before a region. */
function loudestBefore({ startSample }: Region): number {
  let loudest = startSample - 1;
  for (let i = startSample - Math.round(0.05 * sampleRateHz); i < startSample; i++)
    if (Math.abs(lead[i]!) > Math.abs(lead[loudest]!)) loudest = i;
  return loudest;
}
