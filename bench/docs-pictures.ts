/** Makes docs/pictures/demonstration.svg: the demonstration's lead, treated as `npm start` does it, for the README. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { makeDemonstration } from '../examples/lib/demo/make-demonstration.js';
import { UNCERTAIN_BELOW } from '../examples/lib/file-summary.js';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { drawTake } from '../src/picture/draw-take.js';

const FOLDER = fileURLToPath(new URL('../docs/pictures/', import.meta.url));

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0] as (typeof takes)[number];
const found = detectConsonants(lead.samples, { sampleRateHz });
const list = fixedCut(placeEdges(found, lead.samples));
const svg = drawTake(lead.samples, list, {
  name: `demonstration-${lead.name}.wav`,
  minConfidence: UNCERTAIN_BELOW,
});
mkdirSync(FOLDER, { recursive: true });
writeFileSync(`${FOLDER}demonstration.svg`, svg);
console.log(
  `wrote docs/pictures/demonstration.svg: ${list.regions.length} regions, ${svg.length} characters`,
);
