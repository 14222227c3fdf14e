/** Correcting what was found, edit by edit, with a history that is kept in a file and carried over to new finds. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { historyFromJson } from '../src/exchange/history-from-json.js';
import { historyToJson } from '../src/exchange/history-to-json.js';
import { markAndCut } from '../src/gain/mark-and-cut.js';
import { lastEdit, recordEdit, redo, startHistory, undo } from '../src/regions/history.js';
import { nextRegion } from '../src/regions/neighbour-regions.js';
import { nudgeEdges } from '../src/regions/nudge-edges.js';
import { reconcile } from '../src/regions/reconcile.js';
import type { Region, RegionList } from '../src/regions/region.js';
import { regionById } from '../src/regions/region-by-id.js';
import { setKind } from '../src/regions/set-flags.js';
import { splitRegion } from '../src/regions/split-region.js';
import { samplesToSeconds, secondsToSamples } from '../src/regions/time.js';
import { samplesToTimecode } from '../src/regions/timecode.js';
import { nextUncertain } from '../src/regions/uncertain-regions.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes } = makeDemonstration();
const samples = takes[0]!.samples;
// The doubtful ones too, to step through them.
const found = detectConsonants(samples, { sampleRateHz, minConfidence: 0.4 });
let history = startHistory(found);

const milliseconds = (at: number): string => `${(samplesToSeconds(at, sampleRateHz) * 1000).toFixed(0)} ms`;
const tell = (region: Region): string => `${region.kind} ${region.id}, ${region.gainDb} dB`;
function edit(list: RegionList, label: string): void {
  history = recordEdit(history, list, label);
  const { added, changed } = lastEdit(history)!.changes;
  const parts = [
    ...changed.map(({ id, fields }) => `${id} (${fields.join(', ')})`),
    ...added.map((id) => `${id} new`),
  ];
  console.log(`${label}: ${parts.join(', ')}`);
}

const target = nextRegion(found, secondsToSamples(2, sampleRateHz), { kinds: ['sibilant'] })!;
const { text, remainderSamples } = samplesToTimecode(target.startSample, sampleRateHz, '25');
console.log(
  `the first sibilant after 2 s: ${tell(target)}, at ${text} and ${remainderSamples} samples of 25 a second`,
);
for (const press of ['press once', 'press again'])
  edit(markAndCut(history.present, target.startSample, target.endSample, samples), press);
edit(nudgeEdges(history.present, target.id, { bySeconds: -0.004, edges: 'start' }), 'start 4 ms earlier');
const { startSample, endSample } = regionById(history.present, target.id)!;
edit(splitRegion(history.present, target.id, Math.round((startSample + endSample) / 2)), 'split');
history = undo(history);
console.log(`undone: ${history.future.at(-1)?.label}; to be redone: ${redo(history).past.at(-1)?.label}`);

for (let at = -1, doubt = nextUncertain(found, at); doubt !== undefined; doubt = nextUncertain(found, at)) {
  console.log(
    `uncertain: ${doubt.kind} ${doubt.id} at ${milliseconds(doubt.startSample)}, ${doubt.confidence.toFixed(3)}`,
  );
  at = doubt.startSample;
}
const heard = nextUncertain(found, -1)!;
edit(setKind(history.present, heard.id, heard.kind), `listened: it is a ${heard.kind}`);

const saved = historyFromJson(historyToJson(history));
if (!saved.ok) throw new Error(saved.problems[0]?.rule);
console.log(
  `saved and read again: ${saved.value.past.length} edits, ${tell(regionById(saved.value.present, target.id)!)}`,
);
const again = reconcile(saved.value.present, detectConsonants(samples, { sampleRateHz, minConfidence: 0.7 }));
console.log(
  `found again, surer: ${again.kept.length} kept, ${again.added.length} new, ${again.lost.length} lost`,
);
for (const { id, reason } of again.lost) console.log(`lost: region ${id}, ${reason}`);
console.log(`the same sibilant: ${tell(regionById(again.list, target.id)!)}`);
