/** From WAV to WAV in a few calls: read, find, turn the sibilants down by 6 dB, place the edges, render, write. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { renderGain } from '../src/gain/render-gain.js';
import { rmsDbfs } from '../src/signal/meters.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';
import { readWavFile } from './lib/read-wav.js';
import { encodeWave } from './lib/wave-file.js';
import { writeWhole } from './lib/write-file.js';

const folder = mkdtempSync(join(tmpdir(), 'lenition-'));
try {
  const recording = join(folder, 'lead.wav');
  const { sampleRateHz: madeAtHz, takes } = makeDemonstration();
  writeFileSync(recording, encodeWave([takes[0]!.samples], { sampleRateHz: madeAtHz, depth: '32f' }));
  const asRecorded = readFileSync(recording);

  // The work itself.
  const wav = readWavFile(recording);
  if (!wav.ok) throw new Error(wav.problems[0]?.rule);
  const { channels, format } = wav.value;
  const found = detectConsonants(channels, { sampleRateHz: format.sampleRateHz });
  const list = fixedCut(placeEdges(found, channels), { gainDb: -6, kinds: ['sibilant'] });
  const tamed = renderGain(channels, list);
  const bytes = encodeWave(tamed, { sampleRateHz: format.sampleRateHz, depth: '32f' });
  const written = writeWhole(join(folder, 'lead.tamed.wav'), [bytes]);
  if (!written.ok) throw new Error(written.problems[0]?.rule);

  const before = channels[0]!;
  const after = tamed[0]!;
  const cut = list.regions.filter(({ gainDb }) => gainDb !== 0);
  let changed = 0;
  let changedOutside = 0;
  for (let i = 0, r = 0; i < before.length; i++) {
    while (r < cut.length && cut[r]!.endSample <= i) r++;
    if (after[i] === before[i]) continue;
    changed++;
    if (r === cut.length || i < cut[r]!.startSample) changedOutside++;
  }
  console.log(`${found.regions.length} regions found, ${cut.length} sibilants cut by 6 dB`);
  for (const { startSample, endSample } of cut.slice(0, 5)) {
    const [was, is] = [before, after].map((samples) => rmsDbfs(samples.slice(startSample, endSample)));
    const at = (startSample / format.sampleRateHz).toFixed(2);
    console.log(`${at.padStart(5)} s  ${was!.toFixed(1)} dBFS, now ${is!.toFixed(1)} dBFS`);
  }
  console.log(`samples changed: ${((100 * changed) / before.length).toFixed(1)} %`);
  console.log(`samples changed outside of the cut regions: ${changedOutside}`);
  console.log(`the recording: ${readFileSync(recording).equals(asRecorded) ? 'as it was' : 'CHANGED'}`);
} finally {
  rmSync(folder, { recursive: true });
}
