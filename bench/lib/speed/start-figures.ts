import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readWavFile } from '../../../examples/lib/read-wav.js';
import { writeWhole } from '../../../examples/lib/write-file.js';
import type { Samples } from '../../../src/signal/samples.js';
import { cpuSeconds } from '../stack/cpu-seconds.js';
import { tiled } from '../stack/tiled.js';
import { childCpuSeconds } from './child-cost.js';
import { writeLongWav } from './long-wav.js';
import type { SpeedFigure } from './speed-figure.js';
import { spreadOf } from './spread.js';
import { demonstrationVoices } from './voices.js';

const RATE = 48_000;
const TAKE_SECONDS = 180;

/** The main job on one long file, from the command line to the last byte; pictures and region file included. */
export function startFigures(seconds: number): readonly SpeedFigure[] {
  const folder = mkdtempSync(join(tmpdir(), 'lenition-speed-'));
  try {
    const file = join(folder, 'long.wav');
    writeLongWav(file, tiled(demonstrationVoices().clips[0] as Samples, TAKE_SECONDS * RATE), seconds, RATE);
    const all = childCpuSeconds('npm', ['start', '--silent', '--', '--out', join(folder, 'out'), file]);
    const length = `${seconds / 60} min of 48 kHz, 24 bits, one channel`;
    return [
      {
        name: '`npm start`, WAV to WAV, times real time',
        measured: all === null ? null : spreadOf([seconds / all]),
        reach: 20,
        aim: 100,
        higherIsBetter: true,
        digits: 0,
        note:
          all === null
            ? 'there is no shell that tells the time of what it started'
            : `${length}${seconds < 3600 ? ' (an hour with --long)' : ''}; ${all.toFixed(1)} s of processor time, npm and the compiling of TypeScript included; ${wavTimes(file, folder)}`,
      },
    ];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** What reading and writing the file takes by itself. */
function wavTimes(file: string, folder: string): string {
  const read = cpuSeconds(() => readWavFile(file));
  if (!read.value.ok) throw new Error(JSON.stringify(read.value.problems));
  const { bytes } = read.value.value;
  const write = cpuSeconds(() => writeWhole(join(folder, 'copy.wav'), [bytes]));
  return `of it reading ${read.seconds.toFixed(1)} s, writing ${write.seconds.toFixed(1)} s`;
}
