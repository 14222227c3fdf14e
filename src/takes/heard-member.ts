import { hasBandGain } from '../gain/band-block.js';
import { createBandChange } from '../gain/band-change.js';
import { gainCurveInto } from '../gain/gain-curve.js';
import { firstEndingAfter, firstStartingAt } from '../regions/find-index.js';
import type { Region, RegionList } from '../regions/region.js';
import { checkFinite } from '../signal/check.js';
import { amplitudeFromDecibels } from '../signal/decibels.js';
import type { Doubles, Samples } from '../signal/samples.js';
import { nameOf } from './check-takes.js';
import type { EventMember } from './event-group.js';
import type { Take } from './take.js';

/** The noise of one member as it goes into the sum, on the common time line. */
export interface HeardMember {
  readonly startSample: number;
  /** One array per channel of the take. */
  readonly channels: readonly Doubles[];
}

/**
 * A member's noise with the gains of the list and the fader of the take, as doubles: the same products as renderGain makes, before
 * they are rounded to 32 bits. `gains` puts other gains on regions of these ids.
 */
export function heardMember(
  functionName: string,
  take: Take,
  member: EventMember,
  gains: ReadonlyMap<number, number> = new Map(),
): HeardMember {
  const { offsetSamples, gainDb } = take;
  const start = member.onsetSample - offsetSamples;
  const end = member.endSample - offsetSamples;
  const list = nearby(take.list, start, end, gains);
  const curve = new Float64Array(end - start);
  gainCurveInto(curve, list, start);
  const change = list.regions.some(hasBandGain) ? createBandChange(list) : null;
  const fader = amplitudeFromDecibels(gainDb);
  const audio = take.channels instanceof Float32Array ? [take.channels] : take.channels;
  const channels = (audio as readonly Samples[]).map((samples, c) => {
    const name = `channels${audio.length === 1 ? '' : `[${c}]`}`;
    checkFinite(`${functionName}: ${nameOf(take.id)}`, name, samples, start, end);
    const out = new Float64Array(end - start);
    change?.into(out, start, (sample) => samples[sample] as number);
    for (let i = 0; i < out.length; i++)
      out[i] = fader * ((samples[start + i] as number) * (curve[i] as number) + (out[i] as number));
    return out;
  });
  return { startSample: member.onsetSample, channels };
}

/** The part of a list that decides the gain of a stretch: its regions and the neighbours that they may touch. */
function nearby(
  list: RegionList,
  start: number,
  end: number,
  gains: ReadonlyMap<number, number>,
): RegionList {
  const first = Math.max(0, firstEndingAfter(list.regions, start) - 1);
  const past = firstStartingAt(list.regions, end) + 1;
  const regions = list.regions.slice(first, past).map((region): Region => {
    const gainDb = gains.get(region.id);
    return gainDb === undefined ? region : { ...region, gainDb };
  });
  return { ...list, regions };
}
