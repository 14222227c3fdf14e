import { channelList, rangeError } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { checkListShape } from './check-list-shape.js';
import type { RegionList } from './region.js';

/** The channels of a whole clip; throws unless they are such and as long as the list says. Looks at no sample and at no region. */
export function channelsOfClip(
  functionName: string,
  list: RegionList,
  channels: Channels,
  parameter: string = 'channels',
): readonly Samples[] {
  const audio = channelList(functionName, channels);
  checkListShape(functionName, list);
  const { length } = audio[0] as Samples;
  if (length !== list.lengthSamples)
    throw rangeError(
      functionName,
      `${parameter}.length`,
      `must equal list.lengthSamples (${list.lengthSamples})`,
      length,
    );
  return audio;
}
