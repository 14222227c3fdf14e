import type { RegionList } from '../regions/region.js';
import { channelList, checkFinite, rangeError } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';

/** The channels of the clip that a list belongs to; throws unless they are as long as it says and finite throughout. */
export function clipOfList(functionName: string, list: RegionList, channels: Channels): readonly Samples[] {
  const clip = channelList(functionName, channels);
  const length = (clip[0] as Samples).length;
  if (length !== list.lengthSamples)
    throw rangeError(
      functionName,
      'channels.length',
      `must equal list.lengthSamples (${list.lengthSamples})`,
      length,
    );
  for (let c = 0; c < clip.length; c++) checkFinite(functionName, `channels[${c}]`, clip[c] as Samples);
  return clip;
}
