import { neighbourRule } from '../levels/neighbour-rule.js';
import { neighbourVoicePower } from '../levels/neighbour-voice.js';
import { noisePower } from '../levels/noise-level.js';
import { noiseSpan } from '../levels/noise-span.js';
import { type VoicedTrack, voicedTrack } from '../levels/voiced-level.js';
import type { Region, RegionList } from '../regions/region.js';
import type { Doubles, Samples } from '../signal/samples.js';

/** Levels of one region's noise and of the voice beside it, in dB; null where there is none. */
export interface NoiseAndVoice {
  readonly noiseDb: number | null;
  readonly voiceDb: number | null;
}

/** Measures the same samples of any sound that is as long as the clip. */
export interface SibilanceMeter {
  readonly regions: readonly Region[];
  measure(channels: readonly Samples[]): readonly NoiseAndVoice[];
}

/** Sibilance of a measurement: noise less voice, in dB; null where one of them is missing. */
export function sibilanceOf({ noiseDb, voiceDb }: NoiseAndVoice): number | null {
  return noiseDb === null || voiceDb === null ? null : noiseDb - voiceDb;
}

/**
 * A meter of sibilance by the rules of `measureLevels` whose samples are chosen once, on the clip as recorded: which
 * blocks are voiced, which of them stand beside a region and with what weight. A chain changes the levels of
 * blocks, and must not change which are compared.
 */
export function createSibilanceMeter(
  clip: readonly Samples[],
  list: RegionList,
  regions: readonly Region[],
  neighbourSeconds: number,
): SibilanceMeter {
  const track = voicedTrack(clip, list);
  const rule = neighbourRule(list, track, neighbourSeconds);
  return {
    regions,
    measure(channels): readonly NoiseAndVoice[] {
      const heard = voicedPowers(channels, track);
      return regions.map((region) => {
        const span = noiseSpan(region);
        const noise = noisePower(channels, list.sampleRateHz, span, region.kind);
        const voice = neighbourVoicePower(heard, span.start, span.end, rule);
        return { noiseDb: levelDb(noise), voiceDb: levelDb(voice) };
      });
    },
  };
}

function levelDb(power: number): number | null {
  return power > 0 ? 10 * Math.log10(power) : null;
}

/** The powers that another sound has in the blocks that are voiced, about the mean of each block's surroundings. */
function voicedPowers(
  channels: readonly Samples[],
  { blockSamples, power: voiced }: VoicedTrack,
): VoicedTrack {
  const power = new Float64Array(voiced.length);
  for (const channel of channels)
    for (let b = 0; b < power.length; b++) {
      if (voiced[b] === 0) continue;
      const first = Math.max(0, b - 1);
      const last = Math.min(power.length, b + 2);
      const mean = meanOfBlocks(channel, first, last, blockSamples);
      let sum = 0;
      for (let i = b * blockSamples; i < (b + 1) * blockSamples; i++)
        sum += ((channel[i] as number) - mean) ** 2;
      power[b] = (power[b] as number) + sum / (blockSamples * channels.length);
    }
  keepVoiced(power, voiced);
  return { blockSamples, power };
}

function meanOfBlocks(channel: Samples, first: number, last: number, blockSamples: number): number {
  let sum = 0;
  for (let i = first * blockSamples; i < last * blockSamples; i++) sum += channel[i] as number;
  return sum / ((last - first) * blockSamples);
}

/** A voiced block that a chain silenced must still count as voiced, with as good as no power. */
function keepVoiced(power: Doubles, voiced: Doubles): void {
  for (let b = 0; b < power.length; b++) if (voiced[b] !== 0 && power[b] === 0) power[b] = Number.MIN_VALUE;
}
