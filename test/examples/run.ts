import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runTame } from '../../examples/lib/run-tame.js';
import type { Tools } from '../../examples/lib/tame-file.js';
import { freezeList } from '../../src/regions/freeze-region.js';
import type { Region, RegionList } from '../../src/regions/region.js';
import { codes, makeWav } from './make-wav.js';

/** Frames of the recordings that sing() makes, at 48 kHz. */
export const FRAMES = 4800;

/** Two finds that stand for a detection: a sibilant over 1000 to 2000 and a doubtful breath over 3000 to 4000. */
export function finds(channels: readonly Float32Array[], sampleRateHz: number): RegionList {
  const lengthSamples = channels[0]?.length ?? 0;
  const of = (id: number, kind: Region['kind'], onsetSample: number, confidence: number): Region => ({
    id,
    kind,
    onsetSample,
    offsetSample: onsetSample + 1000,
    startSample: onsetSample,
    endSample: onsetSample + 1000,
    gainDb: 0,
    confidence,
    bypassed: false,
    locked: false,
    fadeInSamples: 0,
    fadeOutSamples: 0,
    fadeShape: 'linear',
    label: '',
    reason: { rule: 'stated', numbers: {} },
  });
  const regions = lengthSamples < 4000 ? [] : [of(1, 'sibilant', 1000, 0.9), of(2, 'breath', 3000, 0.4)];
  return freezeList({ sampleRateHz, lengthSamples, nextId: 3, regions });
}

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  readonly errorLines: readonly string[];
  /** What the detector was asked, one entry a file. */
  readonly asked: readonly { channels: number; sampleRateHz: number; minConfidence?: number }[];
}

/** Runs the command in this process with a stated detection in place of the real one. */
export function run(args: readonly string[], terminal = false, tools: Partial<Tools> = {}): Ran {
  let out = '';
  let err = '';
  let now = 0;
  const asked: Ran['asked'][number][] = [];
  const code = runTame(args, {
    stdout: (text) => {
      out += text;
    },
    stderr: (text) => {
      err += text;
    },
    stderrIsTerminal: terminal,
    nowSeconds: () => {
      now += 0.01;
      return now;
    },
    tools: {
      detectConsonants: (channels, options) => {
        asked.push({ channels: channels.length, ...options });
        return finds(channels, options.sampleRateHz);
      },
      bandwidthWarnings: () => [],
      drawTake: (_, list, { name }) => `<svg><!-- ${name}: ${list.regions.length} regions --></svg>`,
      ...tools,
    },
    makeDemonstration: () => ({
      sampleRateHz: 48000,
      takes: ['lead', 'harmony'].map((name) => ({ name, samples: new Float32Array(FRAMES).fill(0.25) })),
    }),
  });
  return { code, out, err, errorLines: err.split('\n').filter((line) => line !== ''), asked };
}

export function temporaryDirectory(): string {
  return mkdtempSync(join(tmpdir(), 'lenition-'));
}

/** Writes a recording of noise and gives its path. */
export function sing(directory: string, name: string, channelCount = 1, bits = 24): string {
  const channels = Array.from({ length: channelCount }, (_, c) => codes(1, bits, FRAMES, c + 1));
  return put(directory, name, makeWav({ tag: 1, bits, channels }));
}

export function put(directory: string, name: string, content: Uint8Array | string): string {
  const path = join(directory, name);
  writeFileSync(path, content);
  return path;
}

export function namesIn(directory: string): string[] {
  return readdirSync(directory).sort();
}
