import { detectConsonants } from '../../src/detection/detect-consonants.js';
import { regionsToJson } from '../../src/exchange/regions-to-json.js';
import { fixedCut } from '../../src/gain/fixed-cut.js';
import { placeEdges } from '../../src/gain/place-edges.js';
import { simdEngine } from '../../src/simd/simd-engine.js';
import type { OutputPlan } from './output-plan.js';
import { readWavFile } from './read-wav.js';
import type { Result } from './result.js';
import { patchedPieces, treatWav } from './treat-wav.js';
import { writeWhole } from './write-file.js';

/** What a thread is told; plain values, since they are copied to it. */
export interface FileJob {
  readonly file: string;
  readonly plan: OutputPlan;
  /** Gain of every sibilant in dB, 0 or below. */
  readonly gainDb: number;
}

/** What was found in a file and turned down. */
export interface FileReport {
  readonly regionCount: number;
  readonly cutCount: number;
}

// One for all files of a thread.
const engine = simdEngine();

/** The work on one file, from WAV to WAV, with its regions beside; what is to be decided otherwise is changed here. */
export function tameOneFile({ file, plan, gainDb }: FileJob): Result<FileReport> {
  const wav = readWavFile(file);
  if (!wav.ok) return wav;
  const { channels, format, bytes } = wav.value;
  const found = detectConsonants(channels, { sampleRateHz: format.sampleRateHz, engine });
  const list = fixedCut(placeEdges(found, channels), { gainDb });
  const tamed = writeWhole(plan.wavPath, patchedPieces(bytes, treatWav(wav.value, list).patches));
  if (!tamed.ok) return tamed;
  if (plan.regionsPath !== null) {
    const regions = writeWhole(plan.regionsPath, [Buffer.from(regionsToJson(list))]);
    if (!regions.ok) return regions;
  }
  const cutCount = list.regions.filter((region) => region.gainDb !== 0).length;
  return { ok: true, value: { regionCount: list.regions.length, cutCount } };
}
