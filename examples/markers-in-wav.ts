/** Regions as markers in a WAV file, for a program that shows cue points; and back again, after a marker was edited there. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import wavefile from 'wavefile';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { regionsFromCuePoints } from '../src/exchange/regions-from-cue-points.js';
import { regionsToCuePoints } from '../src/exchange/regions-to-cue-points.js';
import type { Result } from '../src/exchange/result.js';
import { defaultCuts } from '../src/gain/kind-cuts.js';
import { placeEdges } from '../src/gain/place-edges.js';
import type { RegionList } from '../src/regions/region.js';
import { whatChanged } from '../src/regions/what-changed.js';
import { withCuePoints } from './lib/cue-chunks.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';
import { encodeWave } from './lib/wave-file.js';
import { writeWhole } from './lib/write-file.js';

const { sampleRateHz, takes } = makeDemonstration();
const lead = takes[0]!.samples;
const list = defaultCuts(placeEdges(detectConsonants(lead, { sampleRateHz }), lead));

const directory = mkdtempSync(join(tmpdir(), 'markers-'));
try {
  const path = join(directory, 'lead.wav');
  const codes = lead.map((x) => Math.round(x * 8388607));
  const written = withCuePoints(encodeWave([codes], { sampleRateHz, depth: '24' }), regionsToCuePoints(list));
  if (!written.ok) throw new Error(written.problems[0]?.rule);
  writeWhole(path, written.value);

  // What any program sees; the positions are samples.
  const file = new wavefile.WaveFile(readFileSync(path));
  const markers = file.listCuePoints() as { dwSampleOffset: number; dwSampleLength: number; label: string }[];
  console.log(`${markers.length} markers in lead.wav; the first five:`);
  for (const { dwSampleOffset, dwSampleLength, label } of markers.slice(0, 5))
    console.log(`${String(dwSampleOffset).padStart(7)} ${String(dwSampleLength).padStart(5)}  ${label}`);

  const clip = { sampleRateHz, lengthSamples: lead.length };
  const back = read(regionsFromCuePoints(file, clip));
  tell('read back', list, back);

  // Somebody renames the marker of the first s.
  const first = list.regions.find(({ kind }) => kind === 'sibilant')!;
  file.updateLabel(first.id, 'sibilant -9 dB, fades 96/96 linear: too bright');
  tell('renamed', back, read(regionsFromCuePoints(file, clip)));
} finally {
  rmSync(directory, { recursive: true });
}

function read(result: Result<RegionList>): RegionList {
  if (!result.ok) throw new Error(result.problems[0]?.rule);
  return result.value;
}

function tell(title: string, before: RegionList, after: RegionList): void {
  const counts = new Map<string, number>();
  for (const { fields } of whatChanged(before, after).changed)
    for (const field of fields) counts.set(field, (counts.get(field) ?? 0) + 1);
  const changes = [...counts].map(([field, count]) => `${field} (${count})`);
  console.log(`${title}: ${after.regions.length} regions; changed: ${changes.join(', ')}`);
}
