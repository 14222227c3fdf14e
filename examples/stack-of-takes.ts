/** A lead and three harmonies 3 dB down: their esses add up and do not line up, and three decisions about that. */
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { fadeRaggedEnds } from '../src/takes/fade-ragged-ends.js';
import { groupEvents } from '../src/takes/group-events.js';
import { holdSum } from '../src/takes/hold-sum.js';
import { leadCarries } from '../src/takes/lead-carries.js';
import { measureGroups } from '../src/takes/measure-groups.js';
import type { Take } from '../src/takes/take.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';

const { sampleRateHz, takes: sung } = makeDemonstration();
const takes: readonly Take[] = sung.map(({ name, role, samples }) => ({
  id: name,
  channels: samples,
  list: placeEdges(detectConsonants(samples, { sampleRateHz }), samples),
  offsetSamples: 0,
  gainDb: role === 'lead' ? 0 : -3,
}));
const groups = groupEvents(takes);
const led = groups.filter(({ members }) => members.length === takes.length).slice(0, 6);

const ms = (seconds: number): string => `${Math.round(1000 * seconds)} ms`;
console.log(`${takes.length} takes, ${groups.length} groups`);
console.log('group    at  onsets apart  ends apart  last to end  sum over lead  estimate');
measureGroups(takes, led).forEach(({ overLeadDb, estimateDbfs, leadDbfs }, g) => {
  const { id, startSample, onsetSpreadSeconds, endSpreadSeconds, lastToEndTakeId } = led[g]!;
  const cells = [
    String(id).padStart(5),
    (startSample / sampleRateHz).toFixed(1).padStart(6),
    ms(onsetSpreadSeconds).padStart(14),
    ms(endSpreadSeconds).padStart(12),
    `  ${String(lastToEndTakeId).padEnd(13)}`,
    `${overLeadDb!.toFixed(1)} dB`.padStart(11),
    `${(estimateDbfs - leadDbfs!).toFixed(1)} dB`.padStart(10),
  ];
  console.log(cells.join(''));
});

const decisions = [
  ['as recorded', takes],
  ['held at 2 dB', holdSum(takes, groups)],
  ['lead carries', leadCarries(takes, groups)],
  ['ends faded', fadeRaggedEnds(takes, groups)],
] as const;
console.log('\ndecision      highest sum over lead   latest end after the lead');
for (const [name, decided] of decisions) {
  const over = measureGroups(decided, groups).flatMap(({ overLeadDb }) => overLeadDb ?? []);
  const late = groupEvents(decided).flatMap(({ members }) => {
    const lead = members.find(({ takeId }) => takeId === takes[0]!.id);
    return lead === undefined ? [] : members.map(({ endSample }) => endSample - lead.endSample);
  });
  const highest = `${Math.max(...over).toFixed(1)} dB`.padStart(12);
  console.log(`${name.padEnd(14)}${highest}${ms(Math.max(...late) / sampleRateHz).padStart(26)}`);
}
