/** Taming a recording that is too long for memory: read, found, cut, rendered and written block by block. */
import { closeSync, mkdtempSync, openSync, renameSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { detectConsonants } from '../src/detection/detect-consonants.js';
import { fixedCut } from '../src/gain/fixed-cut.js';
import { placeEdges } from '../src/gain/place-edges.js';
import { renderGain } from '../src/gain/render-gain.js';
import { makeDemonstration } from './lib/demo/make-demonstration.js';
import { readWavFile } from './lib/read-wav.js';
import { createStreamTamer } from './lib/stream-tamer.js';
import { encodeFrames, openWavStream } from './lib/wav-stream.js';
import { encodeWave } from './lib/wave-file.js';

const folder = mkdtempSync(join(tmpdir(), 'lenition-'));
try {
  // The lead of the demonstration six times over stands for an audio book.
  const recording = join(folder, 'long.wav');
  const { sampleRateHz, takes } = makeDemonstration();
  const lead = takes[0]!.samples;
  const long = new Float32Array(6 * lead.length);
  for (let at = 0; at < long.length; at += lead.length) long.set(lead, at);
  writeFileSync(recording, encodeWave([long], { sampleRateHz, depth: '32f' }));

  const opened = openWavStream(recording);
  if (!opened.ok) throw new Error(opened.problems[0]?.rule);
  const { format, head, lengthSamples, blocks } = opened.value;
  const tamer = createStreamTamer({ ...format, decide: (list) => fixedCut(list, { gainDb: -6 }) });
  const tamedFile = join(folder, 'long.tamed.wav');
  // It gets its name when it is whole.
  const out = openSync(`${tamedFile}.part`, 'wx');
  writeSync(out, head);
  let seconds = 0;
  const tell = (): void => {
    const { bytes, regions } = tamer.most;
    const at = `${seconds.toFixed(0)} s read`.padStart(10);
    console.log(`${at}: held at most ${(bytes / 1e6).toFixed(2)} MB of audio and ${regions} regions`);
  };
  for await (const block of blocks(8192)) {
    const before = seconds;
    writeSync(out, encodeFrames(tamer.push(block), format));
    seconds += block[0]!.length / format.sampleRateHz;
    if (Math.floor(seconds / 30) > Math.floor(before / 30)) tell();
  }
  writeSync(out, encodeFrames(tamer.flush(), format));
  closeSync(out);
  renameSync(`${tamedFile}.part`, tamedFile);
  tell();
  console.log(`what comes out is ${(tamer.delaySamples / format.sampleRateHz).toFixed(2)} s late`);

  // The same in one piece, to compare.
  const whole = renderGain(long, fixedCut(placeEdges(detectConsonants(long, { sampleRateHz }), long)));
  const streamed = readWavFile(tamedFile);
  if (!streamed.ok) throw new Error(streamed.problems[0]?.rule);
  const isSame = Buffer.from(streamed.value.channels[0]!.buffer).equals(Buffer.from(whole.buffer));
  console.log(
    `${lengthSamples} samples, compared with the whole clip in one piece: ${isSame ? 'the same' : 'DIFFERENT'}`,
  );
} finally {
  rmSync(folder, { recursive: true });
}
