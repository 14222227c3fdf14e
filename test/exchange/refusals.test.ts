import { describe, expect, it } from 'vitest';
import { gainToCsv } from '../../src/exchange/gain-to-csv.js';
import { gainToMidi } from '../../src/exchange/gain-to-midi.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { messageOf } from '../lib/message-of.js';

const wrong = (value: unknown): never => value as never;
const LIST = createRegionList({ sampleRateHz: 48_000, lengthSamples: 480 });

describe('what exchange refuses', () => {
  it.each<readonly [() => unknown, string]>([
    [() => gainToCsv(LIST, { errorDb: -1 }), 'gainToCsv: errorDb must lie within [0, Infinity]; received -1'],
    [
      () => gainToCsv(LIST, { law: wrong('raisedCosine') }),
      'gainToCsv: law must be one of decibel, linear; received "raisedCosine"',
    ],
    [
      () => gainToMidi(LIST, { controller: wrong(1) }),
      'gainToMidi: controller must be 7 (channel volume) or 11 (expression); received 1',
    ],
    [() => gainToMidi(LIST, { bits: wrong(8) }), 'gainToMidi: bits must be 7 or 14; received 8'],
    [
      () => gainToMidi(LIST, { law: wrong('cubed') }),
      'gainToMidi: law must be squared or decibel; received "cubed"',
    ],
    [
      () => gainToMidi(LIST, { headroomDb: -0.1 }),
      'gainToMidi: headroomDb must lie within [0, 24]; received -0.1',
    ],
    [
      () => gainToMidi(LIST, { headroomDb: 24.1 }),
      'gainToMidi: headroomDb must lie within [0, 24]; received 24.1',
    ],
    [() => gainToMidi(LIST, { rangeDb: 0.9 }), 'gainToMidi: rangeDb must lie within [1, 144]; received 0.9'],
    [() => gainToMidi(LIST, { rangeDb: 145 }), 'gainToMidi: rangeDb must lie within [1, 144]; received 145'],
    ...[0, 17, 1.5].map(
      (channel) =>
        [
          () => gainToMidi(LIST, { channel }),
          `gainToMidi: channel must be a whole number from 1 to 16; received ${channel}`,
        ] as const,
    ),
    ...[23, 32_768].map(
      (ticksPerBeat) =>
        [
          () => gainToMidi(LIST, { ticksPerBeat }),
          `gainToMidi: ticksPerBeat must lie within [24, 32767]; received ${ticksPerBeat}`,
        ] as const,
    ),
    ...[3.9, 1001].map(
      (tempoBpm) =>
        [
          () => gainToMidi(LIST, { tempoBpm }),
          `gainToMidi: tempoBpm must lie within [4, 1000]; received ${tempoBpm}`,
        ] as const,
    ),
    ...[0.009, 25].map(
      (stepDb) =>
        [
          () => gainToMidi(LIST, { stepDb }),
          `gainToMidi: stepDb must lie within [0.01, 24]; received ${stepDb}`,
        ] as const,
    ),
  ])('says function, parameter, rule and value: %#', (call, message) => {
    expect(messageOf(call)).toBe(message);
  });

  it('is nothing that lies at a limit', () => {
    for (const options of [
      { controller: 11, bits: 14, law: 'decibel', headroomDb: 24, rangeDb: 144, channel: 16 },
      { controller: 7, headroomDb: 0, rangeDb: 1, channel: 1, ticksPerBeat: 24, tempoBpm: 4, stepDb: 0.01 },
      { ticksPerBeat: 32_767, tempoBpm: 1000, stepDb: 24 },
    ])
      expect(messageOf(() => gainToMidi(LIST, options as never))).toBe('nothing was thrown');
    expect(messageOf(() => gainToCsv(LIST, { errorDb: 0 }))).toBe('nothing was thrown');
  });
});
