import { cymbalEnvelope } from '../detection/cymbal-bands.js';
import { channelsOfClip } from '../regions/channels-of-clip.js';
import { editRegions } from '../regions/edit-regions.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkFinite } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { decideGain, type RegionChoice } from './change-gain.js';
import { type TameCymbalsOptions, tameCymbalsSettings } from './cymbal-options.js';
import { createDecay, planCymbals, type Stroke } from './cymbal-shape.js';

/**
 * Brings loud strokes of cymbals down towards the take's own median stroke, with gain that follows the decay.
 *
 * Level of a stroke: greatest power above 4 kHz over 4 ms, in the first 60 ms. cut = level − median of the chosen strokes −
 * targetDb, kept within [leastCutDb, mostCutDb]; never a boost. To level crashes among crashes and hats among hats, call it for
 * each with `ids`.
 *
 * Shape: the cut is complete where the attack begins (onsetSample), so no uncut spit is left; it is held for `holdSeconds` and then
 * comes back along the decay, straight in decibels as the decay is. The region ends where the sound has fallen by |gain| /
 * returnShare or at its measured offset, whichever is later. Where the next chosen stroke comes before that, the gain comes back
 * by returnShare of the fall so far and the next stroke takes over the rest (it gets at least that cut): a ring never swells
 * because a stroke came in. Before anything else (a region that is not chosen, the end of the clip) it comes back whole.
 * Touching strokes go from gain to gain along the decay of the first. Strokes that get no cut keep their audio, to the bit.
 *
 * @param list - The regions of the clip, from detectCymbals for one; not changed. Locked and bypassed regions stay as they are.
 * @param channels - The clip, one channel or several (powers averaged), each `list.lengthSamples` long.
 * @param options - Target, limits, shape and choice of regions; see DEFAULT_TAME_CYMBALS_OPTIONS.
 * @returns A new list, or the same list where no region is chosen. Doing it twice changes nothing more. Chosen regions carry the
 *   reason `{ rule: 'tameCymbals', numbers: { levelDbfs, medianDbfs, cutDb, carriedDb, gainDb } }`: cutDb is the stroke's own cut,
 *   carriedDb the gain that the stroke before left. A stroke that is digital silence gets no cut of its own.
 * @throws RangeError where the clip is not as long as the list says, a sample is NaN or infinite (with its index), or an option is
 *   out of range; TypeError for the wrong kind of value.
 *
 * Source: common practice.
 *
 * @example
 * import { detectCymbals } from 'lenition/detection';
 * import { tameCymbals } from 'lenition/gain';
 * const silence = new Float32Array(48000);
 * const list = detectCymbals(silence, { sampleRateHz: 48000 });
 * tameCymbals(list, silence) === list; // => true
 */
export function tameCymbals(
  list: RegionList,
  channels: Channels,
  options: TameCymbalsOptions = {},
): RegionList {
  const settings = tameCymbalsSettings(options);
  const audio = channelsOfClip('tameCymbals', list, channels);
  for (let c = 0; c < audio.length; c++) checkFinite('tameCymbals', `channels[${c}]`, audio[c] as Samples);

  const chosen = new Set<number>();
  decideGain('tameCymbals', list, cymbalChoice(options), (region) => {
    chosen.add(region.id);
    return undefined;
  });
  if (chosen.size === 0) return list;
  const decay = createDecay(cymbalEnvelope(audio, list.sampleRateHz));
  const levels = new Map<number, number>();
  const strokes = list.regions.map((region, i): Stroke => {
    const before = list.regions[i - 1];
    const anchor = anchorOf(region, before);
    // Hands that have moved the region off its onset have moved it off its offset too.
    const measured = anchor === region.onsetSample;
    const end = measured ? (region.offsetSample ?? region.endSample) : region.endSample;
    const endSample = Math.max(anchor + 1, end);
    if (chosen.has(region.id)) levels.set(region.id, decay.crestDbfs(anchor, endSample));
    return {
      region,
      chosen: chosen.has(region.id),
      anchor,
      measured,
      endSample,
    };
  });
  const medianDbfs = median([...levels.values()].filter(Number.isFinite));
  const cutDb = ({ id }: Region): number => {
    const levelDbfs = levels.get(id) as number;
    if (medianDbfs === null || !Number.isFinite(levelDbfs)) return settings.leastCutDb;
    const over = levelDbfs - medianDbfs - settings.targetDb;
    return Math.min(settings.mostCutDb, Math.max(settings.leastCutDb, over));
  };
  const plans = planCymbals(strokes, list, settings, decay, cutDb);
  return editRegions(list, (region, i) => {
    const plan = plans[i];
    if (plan === undefined) return undefined;
    const levelDbfs = levels.get(region.id) as number;
    const known = Number.isFinite(levelDbfs) && medianDbfs !== null ? { levelDbfs, medianDbfs } : {};
    const { carriedDb, ...change } = plan;
    const numbers = { ...known, cutDb: cutDb(region), carriedDb, gainDb: change.gainDb };
    return { ...change, reason: { rule: 'tameCymbals', numbers } };
  });
}

function cymbalChoice({ kinds, ids, minConfidence, between }: TameCymbalsOptions): RegionChoice {
  return {
    ...(kinds === undefined && ids === undefined ? { kinds: ['cymbal'] as const } : {}),
    ...(kinds === undefined ? {} : { kinds }),
    ...(ids === undefined ? {} : { ids }),
    ...(minConfidence === undefined ? {} : { minConfidence }),
    ...(between === undefined ? {} : { between }),
  };
}

/** Where the attack begins: the onset, unless hands have moved the region away from it. */
function anchorOf({ onsetSample, startSample, endSample }: Region, before: Region | undefined): number {
  const inside = onsetSample !== null && onsetSample < endSample && onsetSample >= (before?.endSample ?? 0);
  return inside ? onsetSample : startSample;
}

function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(middle)] as number) + (sorted[Math.ceil(middle)] as number)) / 2;
}
