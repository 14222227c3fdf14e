import { channelsOfClip } from '../regions/channels-of-clip.js';
import type { Region, RegionKind, RegionList } from '../regions/region.js';
import { checkFinite } from '../signal/check.js';
import { quantileOf, rising } from '../signal/quantile-of.js';
import type { Channels } from '../signal/samples.js';
import { type LevelOptions, levelSettings } from './level-options.js';
import { neighbourRule } from './neighbour-rule.js';
import { type NeighbourRule, neighbourVoicePower } from './neighbour-voice.js';
import { noiseSpan } from './noise-span.js';
import { percentileOf } from './percentile.js';
import type { LevelTable, RegionLevel } from './region-level.js';
import { createRegionMeter, type RegionMeasures } from './region-measures.js';
import { sibilantSounds } from './sibilant-sound.js';
import { type VoicedTrack, voicedTrack } from './voiced-level.js';

/**
 * Measures every region of a list: how loud, how bright, and how loud beside the voice around it. See `RegionLevel` for
 * each figure.
 *
 * **Sibilance** is the level of the noise less that of the voice beside it.
 * The noise: what an edge of a sibilant or fricative caught of a vowel is kept out of it, 5 ms at each end and whatever
 * is more than 6 dB above its median block of 5 ms.
 * The voice: on each side the nearest 0.4 s of voiced sound, its power averaged with weights that fall with distance (to
 * one half at 0.2 s). An unvoiced stretch of more than 0.3 s, not counting other consonants of the list, is a pause and
 * ends the side. At the start or end of a phrase, where one side has no voice before its pause or the clip's edge, the
 * other side counts alone; where neither has, the nearest voice counts, however far. A clip without voiced sound
 * gives null.
 *
 * Voiced sound is found in the audio, not asked of the detector: blocks of 10 ms outside all regions but those of kind
 * `custom`, at least half of whose energy repeats at a pitch of 70 to 1000 Hz, and at most 30 dB below the loud voice.
 *
 * Measures are of the sound as recorded: gains, bypass and locks do not enter. The gain of the whole clip moves every
 * dBFS figure by as much and leaves sibilance, frequencies and percentiles; polarity and the order of channels do
 * not matter. Of several channels the powers are averaged.
 *
 * @param channels The clip that the list belongs to, one channel or several, each `list.lengthSamples` long.
 * @param list Regions of the clip; an empty one gives an empty table, with the clip's voice.
 * @param options What to measure. Percentiles and the border of s-like and sh-like always come from all regions of the
 * kind, whatever the choice.
 * @returns A frozen table. A region in silence has −Infinity dBFS and null for all that silence has not.
 * @throws RangeError where the clip is not as long as the list says, an option or id is wrong, or a sample is NaN or
 * infinite (with its index); TypeError for a wrong kind of value.
 * @see Jongman, Wayland and Wong, "Acoustic characteristics of English fricatives", 2000, for noise level relative to
 * the vowel and for the spectra of s and sh (from notes on it). The 0.4 s, 0.3 s and 30 dB: common practice, no source.
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { measureLevels } from 'lenition/levels';
 * // A 200 Hz tone stands for the vowel, 0.1 s of a 6 kHz tone of half its amplitude for the s.
 * const tone = (i: number, hz: number) => Math.sin((2 * Math.PI * hz * i) / 48000);
 * const isNoise = (i: number) => i >= 24000 && i < 28800;
 * const samples = Float32Array.from({ length: 48000 }, (_, i) => (isNoise(i) ? 0.1 * tone(i, 6000) : 0.2 * tone(i, 200)));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
 * const list = insertRegion(empty, { kind: 'sibilant', startSample: 24000, endSample: 28800 });
 * const level = measureLevels(samples, list).byId.get(1);
 * level?.rmsDbfs.toFixed(1); // => "-23.0"
 * level?.sibilanceDb?.toFixed(1); // => "-6.0"
 * level?.sound; // => "s-like"
 */
export function measureLevels(channels: Channels, list: RegionList, options: LevelOptions = {}): LevelTable {
  const audio = channelsOfClip('measureLevels', list, channels);
  const settings = levelSettings('measureLevels', list, options);
  audio.forEach((channel, c) => {
    checkFinite('measureLevels', audio.length === 1 ? 'channels' : `channels[${c}]`, channel);
  });
  const isWanted = (region: Region): boolean =>
    (settings.kinds === null || settings.kinds.has(region.kind)) &&
    (settings.ids === null || settings.ids.has(region.id));
  // A percentile needs all regions of its kind.
  const kinds = new Set(list.regions.filter(isWanted).map((region) => region.kind));
  const regions = list.regions.filter((region) => kinds.has(region.kind));

  const track = voicedTrack(audio, list);
  const rule = neighbourRule(list, track, settings.neighbourSeconds);
  const measure = createRegionMeter(audio, list.sampleRateHz);
  const entries = regions.map((region) => withVoice(region, measure(region), track, rule));
  const sounds = sibilantSounds(entries.map((entry) => entry.hissEdgeHz));
  const sibilances = sibilancesByKind(entries);
  const byId = new Map<number, RegionLevel>();
  entries.forEach(({ region, hissEdgeHz: _, ...measures }, i) => {
    if (!isWanted(region)) return;
    const { sibilanceDb } = measures;
    byId.set(
      region.id,
      Object.freeze({
        id: region.id,
        kind: region.kind,
        ...measures,
        percentile:
          sibilanceDb === null
            ? null
            : percentileOf(sibilances.get(region.kind) as readonly number[], sibilanceDb),
        sound: sounds[i] ?? null,
      }),
    );
  });
  return Object.freeze({ sampleRateHz: list.sampleRateHz, byId, voiceDbfs: medianVoice(track) });
}

interface Entry extends Omit<RegionMeasures, 'noisePower'> {
  readonly region: Region;
  readonly voiceDbfs: number | null;
  readonly sibilanceDb: number | null;
}

function withVoice(
  region: Region,
  { noisePower, ...measures }: RegionMeasures,
  track: VoicedTrack,
  rule: NeighbourRule,
): Entry {
  const { start, end } = noiseSpan(region);
  const voice = neighbourVoicePower(track, start, end, rule);
  return {
    region,
    ...measures,
    voiceDbfs: voice > 0 ? 10 * Math.log10(voice) : null,
    sibilanceDb: voice > 0 && noisePower > 0 ? 10 * Math.log10(noisePower / voice) : null,
  };
}

function sibilancesByKind(entries: readonly Entry[]): ReadonlyMap<RegionKind, readonly number[]> {
  const byKind = new Map<RegionKind, number[]>();
  for (const { region, sibilanceDb } of entries) {
    const values = byKind.get(region.kind) ?? [];
    if (sibilanceDb !== null) values.push(sibilanceDb);
    byKind.set(region.kind, values);
  }
  for (const [kind, values] of byKind) byKind.set(kind, rising(values));
  return byKind;
}

function medianVoice({ power }: VoicedTrack): number | null {
  const voiced = power.filter((p) => p > 0).sort();
  return voiced.length === 0 ? null : 10 * Math.log10(quantileOf(voiced, 0.5));
}
