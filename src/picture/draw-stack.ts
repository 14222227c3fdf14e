import { checkFinite, checkInteger, typeError } from '../signal/check.js';
import { checkedOptions } from '../signal/checked-options.js';
import type { Samples } from '../signal/samples.js';
import { assertTakes, leadOf, nameOf } from '../takes/check-takes.js';
import type { EventGroup } from '../takes/event-group.js';
import { groupLevels } from '../takes/measure-groups.js';
import type { LeadOption, Take } from '../takes/take.js';
import { composeStack } from './compose-stack.js';
import { MOST_PICTURE_BYTES } from './draw-take.js';
import type { StackScene } from './stack-scene.js';
import { utf8Length } from './utf8-length.js';

/** Settings of `drawStack`. */
export interface DrawStackOptions extends LeadOption {
  /** Name of the stack, for the title line. Default: none. */
  readonly name?: string;
  /** How many groups are shown in detail, those whose sum stands highest over the lead, 0 to 60. */
  readonly detailCount?: number;
}

/** Defaults of `drawStack`. */
export const DEFAULT_DRAW_STACK_OPTIONS: Readonly<Required<Pick<DrawStackOptions, 'name' | 'detailCount'>>> =
  Object.freeze({
    name: '',
    detailCount: 9,
  });

/**
 * A stack of takes and the events that belong together, as a picture: the text of an SVG document, 1200 units wide.
 *
 * Above, lanes by take on the common time line, each with its waveform as recorded and its events; a band through all lanes for each group,
 * and how far the sum stands above the lead. Below, single groups in detail: onset, end and level of each member, the sum, and the lead's onset and end
 * as lines through all lanes, so that spread shows. Filled is what sounds with the gains and faders, outlined what would
 * without the gains. Who is missing is named. The same input gives the same text.
 *
 * @param takes The stack.
 * @param groups Its groups, as groupEvents gives them; none: lanes without bands.
 * @param options See `DrawStackOptions`. Text from outside (name, ids) is escaped and shortened.
 * @returns SVG; no scripts and nothing fetched. Details, then waveforms are given up where it would pass MOST_PICTURE_BYTES; lanes and bands
 *   stay, whose size is bounded by takes × pixels (24 takes of 400 events fit, tested).
 * @throws As measureGroups; RangeError for a sample that is not finite (with its index), an option out of range.
 * Source: common practice.
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { drawStack } from 'lenition/picture';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480 });
 * const take = { id: 'lead', channels: new Float32Array(480), list, offsetSamples: 0, gainDb: 0 };
 * drawStack([take], []).slice(0, 4); // => '<svg'
 */
export function drawStack(
  takes: readonly Take[],
  groups: readonly EventGroup[],
  options: DrawStackOptions = {},
): string {
  const { name, detailCount } = checkedOptions('drawStack', DEFAULT_DRAW_STACK_OPTIONS, options, ['leadId']);
  if (typeof name !== 'string') throw typeError('drawStack', 'name', 'must be a string', name);
  checkInteger('drawStack', 'detailCount', detailCount, 0, 60);
  assertTakes('drawStack', takes);
  const lead = leadOf('drawStack', takes, options);
  for (const { id, channels } of takes) {
    const audio = (channels instanceof Float32Array ? [channels] : channels) as readonly Samples[];
    for (const [c, channel] of audio.entries())
      checkFinite(`drawStack: ${nameOf(id)}`, `channels[${c}]`, channel);
  }
  const bare = takes.map((take) => ({ ...take, list: { ...take.list, regions: [] } }));
  const scene: StackScene = {
    takes,
    lead,
    groups,
    levels: groupLevels('drawStack', takes, groups, options),
    recorded: groupLevels('drawStack', bare, groups, options),
    startSample: Math.min(...takes.map(({ offsetSamples }) => offsetSamples)),
    endSample: Math.max(...takes.map(({ offsetSamples, list }) => offsetSamples + list.lengthSamples)),
    sampleRateHz: lead.list.sampleRateHz,
  };
  let picture = '';
  for (const [details, waves] of [
    [detailCount, true],
    [Math.min(3, detailCount), true],
    [0, false],
  ] as const) {
    picture = composeStack(scene, { name, detailCount: details, waves });
    if (utf8Length(picture) <= MOST_PICTURE_BYTES) return picture;
  }
  return picture;
}
