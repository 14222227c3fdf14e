import { assertRegionList } from '../regions/check-region-list.js';
import { LEAST_GAIN_DB, MOST_GAIN_DB } from '../regions/region.js';
import {
  channelList,
  checkArray,
  checkInteger,
  checkNumber,
  checkObject,
  describe,
  rangeError,
  typeError,
} from '../signal/check.js';
import type { Samples } from '../signal/samples.js';
import type { LeadOption, Take, TakeId } from './take.js';

/**
 * Throws unless `takes` is a stack that can be worked on. Messages name the take.
 *
 * The rules: at least one take; ids are strings or finite numbers and unique; each take has at least one sample, as many as
 * its list says, and a sound list; all lists have one sample rate (takes are never resampled in silence); offsets are whole
 * numbers; faders lie within LEAST_GAIN_DB to MOST_GAIN_DB; a take has one channel, or as many as the widest take; where there are several takes,
 * each shares at least one sample of time with another, since one that does not was placed wrongly. Sample values are not looked at.
 *
 * @param takes what is to be checked
 * @throws TypeError where a field is of the wrong kind; RangeError where its value is wrong.
 *
 * @example
 * import { createRegionList } from 'lenition/regions';
 * import { checkTakes } from 'lenition/takes';
 * const list = createRegionList({ sampleRateHz: 48000, lengthSamples: 480 });
 * const take = { id: 'lead', channels: new Float32Array(480), list, offsetSamples: 0, gainDb: 0 };
 * checkTakes([take, { ...take, id: 'double', offsetSamples: -20 }]); // => undefined
 */
export function checkTakes(takes: unknown): asserts takes is readonly Take[] {
  assertTakes('checkTakes', takes);
}

/** The same for another function's argument, whose name the message then carries. */
export function assertTakes(functionName: string, takes: unknown): asserts takes is readonly Take[] {
  checkArray(functionName, 'takes', takes);
  if (takes.length === 0) throw rangeError(functionName, 'takes', 'must hold at least one take', takes);
  const ids = new Set<TakeId>();
  // By index: forEach would pass over holes.
  for (let t = 0; t < takes.length; t++) {
    const take: unknown = takes[t];
    checkObject(functionName, `takes[${t}]`, take);
    const { id } = take as Take;
    checkId(functionName, `takes[${t}].id`, id);
    if (ids.has(id)) throw rangeError(functionName, `takes[${t}].id`, 'must be unique in its stack', id);
    ids.add(id);
    checkTake(functionName, nameOf(id), take as Take);
  }
  checkAgreement(functionName, takes as readonly Take[]);
  checkOverlap(functionName, takes as readonly Take[]);
}

/** The take that leads; throws where there is none of that id. */
export function leadOf(functionName: string, takes: readonly Take[], options: LeadOption): Take {
  checkObject(functionName, 'options', options);
  const { leadId } = options;
  if (leadId === undefined) return takes[0] as Take;
  checkId(functionName, 'leadId', leadId);
  const lead = takes.find(({ id }) => id === leadId);
  if (lead === undefined) throw rangeError(functionName, 'leadId', 'must be the id of a take', leadId);
  return lead;
}

/** How messages speak of a take. */
export function nameOf(id: TakeId): string {
  return `take ${describe(id)}`;
}

function checkId(functionName: string, parameter: string, id: unknown): asserts id is TakeId {
  if (typeof id === 'number') checkNumber(functionName, parameter, id);
  else if (typeof id !== 'string')
    throw typeError(functionName, parameter, 'must be a string or a number', id);
}

function checkTake(functionName: string, name: string, take: Take): void {
  const { list, offsetSamples, gainDb } = take;
  const within = `${functionName}: ${name}`;
  assertRegionList(within, list);
  const length = (channelList(within, take.channels)[0] as Samples).length;
  if (length === 0) throw rangeError(within, 'channels', 'must hold at least one sample', length);
  if (length !== list.lengthSamples)
    throw rangeError(
      within,
      'channels.length',
      `must equal list.lengthSamples (${list.lengthSamples})`,
      length,
    );
  checkInteger(within, 'offsetSamples', offsetSamples);
  checkInteger(within, 'offsetSamples + list.lengthSamples', offsetSamples + length);
  checkNumber(within, 'gainDb', gainDb, LEAST_GAIN_DB, MOST_GAIN_DB);
}

function checkAgreement(functionName: string, takes: readonly Take[]): void {
  const first = takes[0] as Take;
  const { sampleRateHz } = first.list;
  const widest = Math.max(...takes.map(channelCount));
  for (const take of takes) {
    const within = `${functionName}: ${nameOf(take.id)}`;
    if (take.list.sampleRateHz !== sampleRateHz)
      throw rangeError(
        within,
        'list.sampleRateHz',
        `must equal that of ${nameOf(first.id)} (${sampleRateHz}): resample it first`,
        take.list.sampleRateHz,
      );
    const count = channelCount(take);
    if (count !== 1 && count !== widest)
      throw rangeError(
        within,
        'channels',
        `must be one, or as many as those of the widest take (${widest})`,
        count,
      );
  }
}

/** Number of channels of a checked take. */
export function channelCount({ channels }: Take): number {
  return channels instanceof Float32Array ? 1 : channels.length;
}

function checkOverlap(functionName: string, takes: readonly Take[]): void {
  if (takes.length < 2) return;
  const inTime = [...takes].sort((a, b) => a.offsetSamples - b.offsetSamples);
  let reach = Number.NEGATIVE_INFINITY;
  inTime.forEach((take, t) => {
    const end = take.offsetSamples + take.list.lengthSamples;
    const next = inTime[t + 1];
    if (take.offsetSamples >= reach && (next === undefined || next.offsetSamples >= end))
      throw rangeError(
        `${functionName}: ${nameOf(take.id)}`,
        'offsetSamples',
        'must place it where another take sounds: it shares no time with any',
        take.offsetSamples,
      );
    reach = Math.max(reach, end);
  });
}
