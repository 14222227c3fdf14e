import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { makeDemonstration } from '../../../examples/lib/demo/make-demonstration.js';
import { readWavFile } from '../../../examples/lib/read-wav.js';
import { detectConsonants } from '../../../src/detection/detect-consonants.js';
import { placeEdges } from '../../../src/gain/place-edges.js';
import { measureLevels } from '../../../src/levels/measure-levels.js';
import type { RegionList } from '../../../src/regions/region.js';
import type { Samples } from '../../../src/signal/samples.js';

/** A take and its regions, as the detector finds them. */
export interface VoiceClip {
  readonly name: string;
  readonly samples: Samples;
  readonly list: RegionList;
}

/** Level that the chains are set for: see CHAIN_PRESETS. */
const VOICE_DBFS = -20;

/** The lead of the demonstration. */
export function demonstrationLead(): VoiceClip {
  const { sampleRateHz, takes } = makeDemonstration();
  const lead = takes[0]!;
  return voiceClip(lead.name, lead.samples, sampleRateHz);
}

/** Every so many-th song of a folder, `count` in all; empty where the folder is not there. */
export function songsOf(folder: string, count: number): readonly VoiceClip[] {
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder)
    .filter((file) => file.endsWith('.wav'))
    .sort();
  const step = Math.max(1, Math.floor(files.length / count));
  return files
    .filter((_, i) => i % step === 0)
    .slice(0, count)
    .map((file) => {
      const wav = readWavFile(join(folder, file));
      if (!wav.ok) throw new Error(`${file}: ${JSON.stringify(wav.problems)}`);
      return voiceClip(file.slice(0, -4), wav.value.channels[0] as Samples, wav.value.format.sampleRateHz);
    });
}

/** Finds the regions, then brings the voice to the level that the chains are set for: else a soft take is not compressed at all. */
function voiceClip(name: string, recorded: Samples, sampleRateHz: number): VoiceClip {
  const list = placeEdges(detectConsonants(recorded, { sampleRateHz }), recorded);
  const { voiceDbfs } = measureLevels(recorded, list);
  const gain = voiceDbfs === null ? 1 : 10 ** ((VOICE_DBFS - voiceDbfs) / 20);
  return { name, samples: recorded.map((x) => gain * x), list };
}
