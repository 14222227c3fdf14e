/** Finding the harsh consonants of a take and listing them: when, what, how sure, how loud, and which deserve a listen. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { REGION_KINDS } from '../src/regions/region.js';
import { regionsOfKind } from '../src/regions/regions-of-kind.js';
import { DEFAULT_UNCERTAIN_CRITERIA } from '../src/regions/uncertain-regions.js';
import { rmsDbfs } from '../src/signal/meters.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
// Below the usual 0.5: doubtful finds are listed too, and marked.
const list = detectConsonants(lead, { sampleRateHz, minConfidence: 0.4 });

console.log('   time   lasts  kind       confidence        level');
for (const { kind, confidence, startSample, endSample } of list.regions.slice(0, 16)) {
  const lastsMs = (1000 * (endSample - startSample)) / sampleRateHz;
  const cells = [
    `${(startSample / sampleRateHz).toFixed(2)} s`.padStart(7),
    `${lastsMs.toFixed(0)} ms`.padStart(8),
    `  ${kind.padEnd(9)}`,
    confidence.toFixed(2).padStart(12),
    `${rmsDbfs(lead.slice(startSample, endSample)).toFixed(1)} dBFS`.padStart(13),
    confidence < DEFAULT_UNCERTAIN_CRITERIA.belowConfidence ? '  listen' : '',
  ];
  console.log(cells.join(''));
}

const counts = REGION_KINDS.map((kind) => [kind, regionsOfKind(list, kind).length] as const);
const found = counts.filter(([, count]) => count > 0).map(([kind, count]) => `${count} ${kind}`);
console.log(`\nin the whole take: ${found.join(', ')}`);
