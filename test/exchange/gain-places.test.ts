import { describe, expect, it } from 'vitest';
import { gainFromCsv } from '../../src/exchange/gain-from-csv.js';
import { gainFromMidi } from '../../src/exchange/gain-from-midi.js';

describe('a gain curve as CSV', () => {
  it('tells the place and the rule of each breach', () => {
    const read = (...lines: readonly string[]): string[] => {
      const result = gainFromCsv(['seconds,sample,gainDb,law', ...lines].join('\n'), {
        sampleRateHz: 48_000,
      });
      return result.ok
        ? []
        : result.problems.map(({ path, rule, received }) => `${path}: ${rule}; ${received}`);
    };
    expect(read('0,0,0,linear', '0.001,48,-6,decibel')).toEqual([]);
    expect(read()).toEqual(['$: must hold at least one point; 25 characters']);
    expect(read('0,0,0,linear', '1,2')).toEqual(['line 3: must have 4 fields; 1,2']);
    expect(read('0,0,0,linear', '0,1,0,linear')).toEqual([
      'line 3, seconds: must be sample 1 at 48000 Hz; "0"',
    ]);
    expect(read('0,0,0,linear', '0,-0,0,linear')).toEqual([
      'line 3, sample: must be a whole number of at least 0; "-0"',
    ]);
    expect(read('0,0,0,linear', '0,0,-120.1,linear')).toEqual([
      'line 3, gainDb: must be a number within [-120, 24]; "-120.1"',
    ]);
    expect(read('0,0,0,linear', '0,0,24.1,linear')).toEqual([
      'line 3, gainDb: must be a number within [-120, 24]; "24.1"',
    ]);
    expect(read('0,0,0,linear', '0,0,0,cosine')).toEqual([
      'line 3, law: must be decibel or linear; "cosine"',
    ]);
    expect(read('0.001,48,0,linear')).toEqual(['line 2, sample: must be 0 in the first point; 48']);
    expect(read('0,0,0,linear', '0.001,48,0,linear', '0,0,0,linear')).toEqual([
      'line 4, sample: must not lie before 48, the one above; 0',
    ]);
    expect(read('0,0,0,linear', '0,0,-6,linear', '0,0,0,linear')).toEqual([
      'line 4, sample: must not stand in a third line; 0',
    ]);
  });
});

describe('a gain curve as MIDI', () => {
  const clip = { sampleRateHz: 48_000, lengthSamples: 480_000 };
  const volume = (deltaTime: number, value: number) => ({
    deltaTime,
    type: 'controller',
    channel: 0,
    controllerType: 7,
    value,
  });
  const read = (header: unknown, ...tracks: readonly unknown[]) => gainFromMidi({ header, tracks }, clip);
  const problems = (result: ReturnType<typeof read>): string[] =>
    result.ok ? [] : result.problems.map(({ path, rule, received }) => `${path}: ${rule}; ${received}`);
  const header = { format: 1, ticksPerBeat: 480 };

  it('takes the events of all tracks in order of time, each track counted from its start', () => {
    // 480 ticks are half a second at 120 beats a minute, the tempo of a file without one (Standard MIDI Files 1.0, from memory).
    const result = read(header, [volume(0, 127), volume(960, 127)], [volume(480, 0), volume(960, 0)]);
    expect(result.ok && result.value.map(({ sample, gainDb }) => [sample, gainDb])).toEqual([
      [0, 0],
      [24_000, 0],
      [24_000, -120],
      [48_000, -120],
      [48_000, 0],
      [72_000, 0],
      [72_000, -120],
      [480_000, -120],
    ]);
  });

  it('tells the place and the rule of each breach', () => {
    expect(problems(read({ format: 2, ticksPerBeat: 0 }, 5))).toEqual([
      '$.header.format: must be 0 or 1; 2',
      '$.header.ticksPerBeat: must be a whole number within [1, 32767]; 0',
      '$.tracks[0]: must be an array; 5',
    ]);
    for (const ticksPerBeat of [1, 32_767]) expect(read({ format: 0, ticksPerBeat }, []).ok).toBe(true);
    expect(problems(gainFromMidi({ header, tracks: {} }, clip))).toEqual([
      '$.tracks: must be an array of at most 65535; an object',
    ]);
    const tempo = (microsecondsPerBeat: number) => ({ deltaTime: 0, type: 'setTempo', microsecondsPerBeat });
    expect(
      problems(read(header, [tempo(0), tempo(2 ** 24), volume(-1, 0), volume(2 ** 28, 0), volume(0, 128)])),
    ).toEqual([
      '$.tracks[0][0].microsecondsPerBeat: must be a whole number within [1, 16777215]; 0',
      '$.tracks[0][1].microsecondsPerBeat: must be a whole number within [1, 16777215]; 16777216',
      '$.tracks[0][2].deltaTime: must be a whole number within [0, 268435455]; -1',
      '$.tracks[0][3].deltaTime: must be a whole number within [0, 268435455]; 268435456',
      '$.tracks[0][4].value: must be a whole number within [0, 127]; 128',
    ]);
    expect(read(header, [tempo(1), tempo(2 ** 24 - 1), volume(2 ** 28 - 1, 0)]).ok).toBe(true);
  });
});
