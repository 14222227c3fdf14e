import { channelsOfClip } from '../regions/channels-of-clip.js';
import { editRegions, type RegionChange } from '../regions/edit-regions.js';
import type { Region, RegionList } from '../regions/region.js';
import { nearestCrossing } from '../regions/snap-to-zero-crossing.js';
import { checkFinite } from '../signal/check.js';
import { powerFromDecibels } from '../signal/decibels.js';
import type { Channels, Samples } from '../signal/samples.js';
import { edgeLimits, isPlaceable } from './edge-limits.js';
import { type EdgeOptions, type EdgeSettings, edgeSettings } from './edge-options.js';
import { quietDistance, stretchPower } from './quiet-distance.js';

/**
 * Decides where gain begins and ends: start, end and both fades of every region whose noise was measured.
 *
 * Each edge is judged by the audio beside it. It is *quiet* if a stretch of `quietSeconds` that begins at most
 * `skirtSeconds` outside the noise has a power at least `quietBelowDb` below that of the whole noise (power about the
 * mean, averaged over channels; levels are only compared, so the clip's own level does not matter). There the fade runs
 * in the quiet and is complete where the quiet ends: no uncut spit is left. Else a sound *abuts*, a vowel mostly: the
 * fade is short and centred on the edge, so that at most half of it touches the vowel.
 *
 * A fade is at most a third of the noise and of the region. The outer end then moves to a zero crossing on the noise
 * side, by at most `snapSeconds` and a quarter of its fade (mono only: channels do not cross zero together; a fade
 * that is centred stays centred). Nothing overlaps: regions in each other's way touch midway between their noises, and
 * the renderer then goes from one gain to the other. Gains and reasons stay as they are.
 *
 * @param list - Regions of one clip; not changed. Locked and bypassed ones and those with no onset or no offset stay as
 *   they are. An empty list gives an equal one.
 * @param channels - The clip that the list belongs to, one channel or several, each `list.lengthSamples` long.
 * @param options - Fade lengths and the rule for quiet; see DEFAULT_EDGE_OPTIONS.
 * @returns A new list. Placing the result again changes nothing, unless edges were moved by hand to the far side of a
 *   neighbour's noise.
 * @throws RangeError where the clip is not as long as the list says, an option is out of range, or a sample that is
 *   looked at is NaN or infinite; TypeError where the audio is of the wrong kind.
 *
 * Source: common practice, no source (2 to 10 ms at an edit, longer into a breath, edges at the noise boundary).
 *
 * @example
 * import { createRegionList, insertRegion } from 'lenition/regions';
 * import { placeEdges } from 'lenition/gain';
 * // 100 ms of a 6 kHz hiss between two stretches of silence
 * const hiss = (i: number) => (i >= 4800 && i < 9600 ? Math.sin((2 * Math.PI * 6000 * i) / 48000) : 0);
 * const samples = Float32Array.from({ length: 14400 }, (_, i) => hiss(i));
 * const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 14400 });
 * const list = insertRegion(empty, {
 *   kind: 'sibilant', startSample: 4800, endSample: 9600, onsetSample: 4800, offsetSample: 9600,
 * });
 * const placed = placeEdges(list, samples).regions[0];
 * [placed?.startSample, placed?.fadeInSamples]; // => [4656, 144]
 * [placed?.endSample, placed?.fadeOutSamples]; // => [9744, 144]
 */
export function placeEdges(list: RegionList, channels: Channels, options: EdgeOptions = {}): RegionList {
  const audio = channelsOfClip('placeEdges', list, channels);
  const settings = edgeSettings('placeEdges', options, list.sampleRateHz);
  const limits = edgeLimits(list);
  return editRegions(list, (region, index) => {
    if (!isPlaceable(region)) return undefined;
    return placeRegion(region, audio, limits[index] as number, limits[index + 1] as number, settings);
  });
}

function placeRegion(
  region: Region,
  audio: readonly Samples[],
  low: number,
  high: number,
  settings: EdgeSettings,
): RegionChange | undefined {
  const onset = region.onsetSample as number;
  const offset = region.offsetSample as number;
  checkReach(audio, onset, offset, settings);
  const mostPower = stretchPower(audio, onset, offset) / powerFromDecibels(settings.quietBelowDb);
  const fade = Math.min(settings.fadeSamples[region.kind], Math.floor((offset - onset) / 3));
  const rule = { ...settings, mostPower };
  const before = placeFade(quietDistance(audio, onset, 'earlier', rule), fade, onset - low, settings);
  const after = placeFade(quietDistance(audio, offset, 'later', rule), fade, high - offset, settings);
  const room = offset + after.outer - (onset - before.outer);
  if (room <= 0) return undefined;
  const most = Math.min(settings.snapSamples, Math.floor((room - 1) / 2));
  // Where a neighbour is touched the edge stays there: a gap of a few samples would send the gain to 0 dB and back.
  const mono = audio.length === 1 ? (audio[0] as Samples) : null;
  if (mono !== null && (low === 0 || onset - before.outer > low)) {
    const start = onset - before.outer;
    const withinSamples = snapReach(before, most);
    narrow(before, nearestCrossing('placeEdges', mono, start, { withinSamples, direction: 'later' }) - start);
  }
  if (mono !== null && (high === mono.length || offset + after.outer < high)) {
    const end = offset + after.outer;
    const withinSamples = snapReach(after, most);
    narrow(after, end - nearestCrossing('placeEdges', mono, end, { withinSamples, direction: 'earlier' }));
  }
  const startSample = onset - before.outer;
  const endSample = offset + after.outer;
  const longest = Math.floor((endSample - startSample) / 3);
  return {
    startSample,
    endSample,
    fadeInSamples: Math.min(before.outer - before.inner, longest),
    fadeOutSamples: Math.min(after.outer - after.inner, longest),
    fadeShape: settings.fadeShape ?? region.fadeShape,
  };
}

/** A fade beside one edge of the noise, both ends as distances away from the noise; negative is inside it. */
interface PlacedFade {
  outer: number;
  inner: number;
  readonly centred: boolean;
}

function placeFade(quietAt: number | null, fade: number, room: number, settings: EdgeSettings): PlacedFade {
  const centred = quietAt === null;
  const length = centred ? Math.min(fade, settings.abuttingFadeSamples) : fade;
  const outer = centred ? Math.floor(length / 2) : quietAt + length;
  // Too little room: the outer end gives way, the inner one stays.
  const inRoom = Math.min(outer, room);
  return { outer: inRoom, inner: Math.min(outer - length, inRoom), centred };
}

function snapReach(fade: PlacedFade, most: number): number {
  const length = fade.outer - fade.inner;
  return length > 0 ? Math.min(most, Math.floor(length / 4)) : most;
}

function narrow(fade: PlacedFade, bySamples: number): void {
  // With no fade the inner end is the outer one.
  if (fade.outer === fade.inner) fade.inner -= bySamples;
  else if (fade.centred) fade.inner += bySamples;
  fade.outer -= bySamples;
}

function checkReach(audio: readonly Samples[], onset: number, offset: number, settings: EdgeSettings): void {
  const reach = settings.skirtSamples + settings.quietSamples;
  const start = Math.max(0, onset - reach);
  for (let c = 0; c < audio.length; c++) {
    const channel = audio[c] as Samples;
    const end = Math.min(channel.length, offset + reach);
    checkFinite('placeEdges', audio.length === 1 ? 'samples' : `channels[${c}]`, channel, start, end);
  }
}
