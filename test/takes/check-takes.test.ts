import { describe, expect, it } from 'vitest';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { checkTakes } from '../../src/takes/check-takes.js';
import { groupEvents } from '../../src/takes/group-events.js';
import { holdSum } from '../../src/takes/hold-sum.js';
import { measureGroups } from '../../src/takes/measure-groups.js';
import { sameFeel } from '../../src/takes/same-feel.js';
import { silentTake } from './stacks.js';

const lead = silentTake('lead', [[100, 4900]]);
const other = silentTake('high', [[200, 5000]]);

describe('checkTakes', () => {
  it('passes takes of one rate that share time', () => {
    expect(() => checkTakes([lead, { ...other, offsetSamples: -479_999, gainDb: -3 }])).not.toThrow();
    expect(() => checkTakes([lead])).not.toThrow();
  });

  it('refuses an empty stack and what is no stack', () => {
    expect(() => checkTakes([])).toThrow(
      new RangeError('checkTakes: takes must hold at least one take; received an array of 0'),
    );
    expect(() => checkTakes(lead)).toThrow(
      new TypeError('checkTakes: takes must be an array; received an object'),
    );
    expect(() => checkTakes([null])).toThrow(/takes\[0\] must be an object/);
  });

  it('refuses takes of different rates and names the take', () => {
    const list = createRegionList({ sampleRateHz: 44_100, lengthSamples: 480_000 });
    expect(() => groupEvents([lead, { ...other, list }])).toThrow(
      'groupEvents: take "high": list.sampleRateHz must equal that of take "lead" (48000): resample it first; received 44100',
    );
  });

  it('refuses an empty take', () => {
    const list = createRegionList({ sampleRateHz: 48_000, lengthSamples: 0 });
    expect(() => checkTakes([lead, { ...other, channels: new Float32Array(0), list }])).toThrow(
      /take "high": channels must hold at least one sample/,
    );
  });

  it('refuses a take that shares no time with any other, wherever it stands', () => {
    const message = /take "high": offsetSamples must place it where another take sounds/;
    const third = silentTake('low', [], 480_000);
    expect(() => checkTakes([lead, third, { ...other, offsetSamples: 480_000 }])).toThrow(message);
    expect(() => checkTakes([{ ...other, offsetSamples: -480_000 }, lead, third])).toThrow(message);
    expect(() => checkTakes([lead, third, { ...other, offsetSamples: 479_999 }])).not.toThrow();
  });

  it('refuses ids that are not unique or no ids', () => {
    expect(() => checkTakes([lead, { ...other, id: 'lead' }])).toThrow(/takes\[1\].id must be unique/);
    expect(() => checkTakes([{ ...lead, id: Number.NaN }])).toThrow(RangeError);
    expect(() => checkTakes([{ ...lead, id: {} }])).toThrow(TypeError);
  });

  it('refuses audio that does not fit its list, or the others', () => {
    expect(() => checkTakes([{ ...lead, channels: new Float32Array(7) }])).toThrow(
      /channels\.length must equal list\.lengthSamples/,
    );
    const channels = (count: number) => Array.from({ length: count }, () => new Float32Array(480_000));
    expect(() => checkTakes([{ ...lead, channels: channels(2) }, other])).not.toThrow();
    expect(() =>
      checkTakes([
        { ...lead, channels: channels(2) },
        { ...other, channels: channels(3) },
      ]),
    ).toThrow(/take "lead": channels must be one, or as many as those of the widest take \(3\)/);
  });

  it('refuses offsets and faders out of range', () => {
    expect(() => checkTakes([{ ...lead, offsetSamples: 0.5 }])).toThrow(
      /offsetSamples must be a whole number/,
    );
    expect(() => checkTakes([{ ...lead, offsetSamples: Number.MAX_SAFE_INTEGER - 10 }])).toThrow(
      /offsetSamples \+ list.lengthSamples must be a whole number/,
    );
    expect(() => checkTakes([{ ...lead, gainDb: Number.NEGATIVE_INFINITY }])).toThrow(
      /gainDb must be finite/,
    );
    expect(() => checkTakes([{ ...lead, gainDb: 25 }])).toThrow(/gainDb must lie within/);
  });
});

describe('what works on groups', () => {
  const takes = [lead, other];
  const groups = groupEvents(takes);

  it('refuses an unknown lead', () => {
    expect(() => measureGroups(takes, groups, { leadId: 'bass' })).toThrow(/leadId must be the id of a take/);
  });

  it('refuses groups of another stack', () => {
    expect(() => measureGroups([lead], groups)).toThrow(/group 1: members must be of takes of the stack/);
    const moved = [lead, { ...other, offsetSamples: 9000 }];
    expect(() => measureGroups(moved, groups)).toThrow(/group again after takes were moved/);
    const bare = { ...other, list: { ...other.list, regions: [] } };
    expect(() => holdSum([lead, bare], groups)).toThrow(/take "high": groups must name regions of its list/);
  });

  it('names the take and the sample that is not finite, of those that are looked at', () => {
    const channels = new Float32Array(480_000);
    channels[300] = Number.NaN;
    channels[9000] = Number.NaN;
    expect(() => measureGroups([lead, { ...other, channels }], groups)).toThrow(
      /^measureGroups: take "high": channels\[300\] must be finite/,
    );
    channels[300] = 0;
    expect(() => measureGroups([lead, { ...other, channels }], groups)).not.toThrow();
  });

  it('asks for the measures of every take', () => {
    const levels = new Map([['lead', { sampleRateHz: 48_000, byId: new Map(), voiceDbfs: null }]]);
    expect(() => sameFeel(takes, levels)).toThrow(/levels must hold every take; received "take \\"high\\""/);
  });

  it('refuses options out of range', () => {
    expect(() => groupEvents(takes, { toleranceSeconds: 0 })).toThrow(RangeError);
    expect(() => groupEvents(takes, { kinds: ['hiss' as never] })).toThrow(RangeError);
    expect(() => holdSum(takes, groups, { maxCutDb: -1 })).toThrow(RangeError);
    expect(() => holdSum(takes, groups, { targetDb: Number.NaN })).toThrow(RangeError);
  });
});
