import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { differenceDb, filterNodeOptions } from '../../bench/lib/stack/browser-filters.js';
import { chainSpeeds } from '../../bench/lib/stack/chain-speed.js';
import { cutErrors } from '../../bench/lib/stack/cut-errors.js';
import { forecastErrors } from '../../bench/lib/stack/forecast-errors.js';
import { exitCodeOf, type GoalRow, goalRowTable, isMet } from '../../bench/lib/stack/goal-row.js';
import { groupingScore } from '../../bench/lib/stack/grouping-score.js';
import { chainLines, p90Db, regionLines } from '../../bench/lib/stack/region-lines.js';
import { SHARED_CHAINS } from '../../bench/lib/stack/shared-chains.js';
import { songSpeed } from '../../bench/lib/stack/song-speed.js';
import { soxEffects } from '../../bench/lib/stack/sox-effects.js';
import { tiled } from '../../bench/lib/stack/tiled.js';
import type { Chain } from '../../src/forecast/chain.js';
import { runChain } from '../../src/forecast/run-chain.js';
import { createRegionList } from '../../src/regions/create-region-list.js';
import { insertRegions } from '../../src/regions/insert-regions.js';
import type { Samples } from '../../src/signal/samples.js';
import type { EventGroup } from '../../src/takes/event-group.js';
import { groupEvents } from '../../src/takes/group-events.js';
import type { Take } from '../../src/takes/take.js';
import { ess, gap, RATE, takeOf, vowel } from '../forecast/material.js';

const row = (measured: number | null, higherIsBetter: boolean): GoalRow => ({
  goal: 'g',
  measured,
  reach: 0.5,
  higherIsBetter,
  digits: 2,
  note: measured === null ? 'skipped: sox is not installed' : '3 regions',
});

describe('the table of goals', () => {
  it('reads a bound from its own side, the bound itself being enough', () => {
    expect([0.4, 0.5, 0.6].map((value) => isMet(row(value, true)))).toEqual([false, true, true]);
    expect([0.4, 0.5, 0.6].map((value) => isMet(row(value, false)))).toEqual([true, true, false]);
  });

  it('prints goal, figure, reach and verdict, and the reason where nothing was measured', () => {
    const lines = goalRowTable([row(0.4, false), row(0.6, false), row(null, false)]).split('\n');
    expect(lines.map((line) => line.split('|').map((cell) => cell.trim()))).toMatchObject([
      ['', 'goal', 'measured', 'reach', 'met', ''],
      {},
      ['', 'g', '0.40', '<= 0.5', 'yes, 3 regions', ''],
      ['', 'g', '0.60', '<= 0.5', 'no, 3 regions', ''],
      ['', 'g', '-', '<= 0.5', 'skipped: sox is not installed', ''],
    ]);
  });

  it('fails for a goal that falls short or came out as no number, not for one that was skipped', () => {
    expect(exitCodeOf([row(0.4, false), row(null, true)])).toBe(0);
    expect(exitCodeOf([row(0.4, false), row(0.6, false)])).toBe(1);
    expect(exitCodeOf([row(Number.NaN, true)])).toBe(1);
  });
});

describe('errors of a forecast and of a cut', () => {
  const { samples, list } = takeOf([
    vowel(0.4),
    gap(),
    ess(0.4),
    gap(),
    vowel(0.4),
    gap(),
    ess(0.2),
    gap(),
    vowel(0.4),
  ]);
  const clip = { name: 'made', samples, list };
  const chain = SHARED_CHAINS[2]!;
  const run = (sound: Samples, of: Chain): Samples =>
    runChain(sound, of, { sampleRateHz: RATE }).channels[0] as Samples;
  /** The chain and 3 dB more on both noises, which no forecast of the chain can know. */
  const wrong = (sound: Samples, of: Chain): Samples => {
    const out = run(sound, of);
    for (const { startSample, endSample } of list.regions)
      for (let i = startSample; i < endSample; i++) out[i] = out[i]! * 10 ** (3 / 20);
    return out;
  };

  // Rounding of 32-bit samples is 150 dB down: the same chain twice differs by far less than a thousandth of a dB.
  it('are none where the chain is the one that was forecast', () => {
    const forecast = forecastErrors(clip, chain, run);
    expect(forecast).toHaveLength(2);
    expect(p90Db(forecast, false)!).toBeLessThan(0.001);
    const { reached, under, unreached } = cutErrors(clip, chain, run);
    const off = Object.values(unreached).reduce((sum, count) => sum + count, 0);
    expect(reached.length + under + off).toBe(2);
    expect(reached.length).toBeGreaterThan(0);
    // 0.25 dB is the tolerance that preemptiveCut states.
    expect(p90Db(reached, false)!).toBeLessThanOrEqual(0.25);
  });

  // 3 dB were added to whole regions, so they are off by 3 dB, but for fades at their ends (none here) and rounding.
  it('show what another chain did: 3 dB', () => {
    const forecast = forecastErrors(clip, chain, wrong);
    expect(p90Db(forecast, false)!).toBeCloseTo(3, 3);
    expect(regionLines(forecast, 0.5)).toHaveLength(2);
    expect(regionLines(forecast, 3.5)).toEqual([]);
    expect(chainLines(forecast)[0]).toMatch(/forward and bright: 2 regions, same samples 3\.000/);
    const { reached } = cutErrors(clip, chain, wrong);
    expect(p90Db(reached, false)!).toBeGreaterThan(2.7);
  });

  // Hyndman and Fan 1996, definition 7 (from memory): of 0 to 10 in steps of 1 the 90th percentile is 9.
  it('give the 90th percentile of magnitudes, and none of nothing', () => {
    const errors = Array.from({ length: 11 }, (_, i) => ({
      clip: '',
      chain: '',
      id: i,
      kind: 's',
      startSeconds: 0,
      expectedDb: 5,
      measuredDb: 5 + (i % 2 === 0 ? i : -i),
      anewDb: 5,
    }));
    expect(p90Db(errors, false)).toBe(9);
    expect(p90Db(errors, true)).toBe(0);
    expect(p90Db([], false)).toBeNull();
  });
});

describe('a chain as effects of sox', () => {
  // Argument orders of the manual page sox(1), 14.4.2. Curve of Giannoulis, Massberg and Reiss 2012 (from memory): threshold
  // −20, ratio 4, knee 10: −25 stays, −20 comes out at −20.9375, −15 at −18.75, and 0 at −15.
  it('names filters, widths and the points of the curve', () => {
    const [first, times, points, makeUp] = soxEffects(
      {
        stages: [
          {
            kind: 'compressor',
            thresholdDb: -20,
            ratio: 4,
            kneeDb: 10,
            attackSeconds: 0.005,
            releaseSeconds: 0.1,
            smoothing: 'level',
          },
        ],
      },
      0,
    );
    expect([first, times, makeUp]).toEqual(['compand', '0.005,0.1', '0']);
    const numbers = points!.split(',').map(Number);
    const outAt = (level: number): number =>
      numbers[2 * numbers.filter((_, i) => i % 2 === 0).indexOf(level) + 1]!;
    expect([-25, -20, -15, 0].map(outAt)).toEqual([-25, -20.9375, -18.75, -15]);
    expect(soxEffects(SHARED_CHAINS[0]!, 0).join(' ')).toMatch(
      /^highpass -2 100 0\.7071\d*q bass -3 220 1s equalizer 5000 1\.2q 3 treble 5 9000 1s$/,
    );
  });

  it('refuses what sox has not', () => {
    const compressor = {
      kind: 'compressor',
      thresholdDb: -20,
      ratio: 4,
      attackSeconds: 0.01,
      releaseSeconds: 0.1,
    } as const;
    for (const stage of [
      compressor,
      { ...compressor, smoothing: 'level', detector: 'rms' },
      { ...compressor, smoothing: 'level', wet: 0.5 },
      { kind: 'saturation', curve: 'tanh', driveDb: 6 },
    ] as const)
      expect(() => soxEffects({ stages: [stage] }, 0)).toThrow();
  });
});

describe('a chain as filter nodes of a browser', () => {
  // W3C Web Audio API 1.1, "Filters Characteristics" (from memory): Q of a high-pass is in dB, 20·log10 √½ = −3.0103; of a peaking
  // filter it is plain; shelves have none.
  it('gives Q in dB to a high-pass alone', () => {
    const [high, ...others] = filterNodeOptions(SHARED_CHAINS[0]!);
    expect(high).toMatchObject({ type: 'highpass', frequency: 100 });
    expect(high?.Q).toBeCloseTo(-3.0103, 4);
    expect(others).toEqual([
      { type: 'lowshelf', frequency: 220, gain: -3 },
      { type: 'peaking', frequency: 5000, Q: 1.2, gain: 3 },
      { type: 'highshelf', frequency: 9000, gain: 5 },
    ]);
  });

  // 20·log10(0.05 / 0.5) = −20; −0.2 in 32 bits is off by 3e-9, which is 5e-7 dB of it.
  it('are told apart by their samples, in dB of the peak', () => {
    expect(differenceDb(Float32Array.of(0.5, -0.2), Float32Array.of(0.5, -0.25))).toBeCloseTo(-20, 4);
    expect(differenceDb(Float32Array.of(0.5), Float32Array.of(0.5))).toBe(-Infinity);
    expect(differenceDb(Float32Array.of(Number.NaN), Float32Array.of(0.5))).toBeNaN();
  });

  it('refuses what there is no node for', () => {
    const filters = [{ kind: 'highShelf', frequencyHz: 8000, gainDb: 4, slope: 0.5 }] as const;
    expect(() => filterNodeOptions({ stages: [{ kind: 'equaliser', filters }] })).toThrow(/slope 1/);
    expect(() => filterNodeOptions({ stages: [{ kind: 'equaliser', filters: [], wet: 0.5 }] })).toThrow();
    expect(() => filterNodeOptions(SHARED_CHAINS[1]!)).toThrow();
  });
});

describe('the score of a grouping', () => {
  const empty = createRegionList({ sampleRateHz: 48000, lengthSamples: 48000 });
  const takeAt = (id: string, starts: readonly number[]): Take => ({
    id,
    channels: new Float32Array(48000),
    list: insertRegions(
      empty,
      starts.map((startSample) => ({
        kind: 'sibilant' as const,
        startSample,
        endSample: startSample + 4000,
      })),
    ),
    offsetSamples: 0,
    gainDb: 0,
  });
  const takes = [takeAt('a', [4000, 30000]), takeAt('b', [4400, 30300])];
  const truth = new Map(
    takes.map(({ id, list }) => [
      id,
      list.regions.map(({ startSample, endSample }, event) => ({ event, startSample, endSample })),
    ]),
  );
  const groups = groupEvents(takes);

  it('is full for groups as they were made, and for a stack that lies elsewhere in time', () => {
    expect(groupingScore(takes, groups, truth)).toEqual({ right: 2, judged: 2, wrong: [] });
    const moved = takes.map((take) => ({ ...take, offsetSamples: 9000 }));
    expect(groupingScore(moved, groupEvents(moved), truth).right).toBe(2);
  });

  it('counts a mixed group and both halves of a parted one as wrong, and leaves false finds alone', () => {
    const [one, two] = groups as [EventGroup, EventGroup];
    const mixed = { ...one, members: [one.members[0]!, two.members[1]!] };
    expect(groupingScore(takes, [mixed], truth).wrong).toEqual([1]);
    const parted = one.members.map((member, i) => ({ ...one, id: 10 + i, members: [member] }));
    expect(groupingScore(takes, [...parted, two], truth)).toEqual({ right: 1, judged: 3, wrong: [10, 11] });
    expect(groupingScore(takes, groups, new Map()).judged).toBe(0);
  });
});

describe('speed', () => {
  it('is told for each preset and for each step of a song', () => {
    const { samples } = takeOf([vowel(0.4), gap(), ess(0.4), gap(), vowel(0.4)]);
    expect(chainSpeeds(samples, RATE, 1).map(({ timesRealTime }) => timesRealTime > 0)).toEqual([
      true,
      true,
      true,
    ]);
    const { seconds, totalSeconds } = songSpeed([samples], RATE, 2, 2);
    expect(Object.keys(seconds)).toEqual(['find', 'edges', 'levels', 'group', 'decide', 'render']);
    expect(totalSeconds).toBeGreaterThan(0);
  });

  it('repeats a clip from any sample on', () => {
    expect([...tiled(Float32Array.of(1, 2, 3), 7, 2)]).toEqual([3, 1, 2, 3, 1, 2, 3]);
  });
});

describe('bench/stack.ts', () => {
  const run = (...args: readonly string[]) =>
    spawnSync(process.execPath, ['--import', 'tsx', 'bench/stack.ts', ...args], { encoding: 'utf8' });

  it('prints the goals and ends with 0 where they are reached', () => {
    const { status, stdout } = run('--only', 'groups');
    expect(stdout).toMatch(/^\| goal .*\| measured \|.*reach \|.*met \|/);
    expect(stdout).toMatch(/groups right, demonstration.*yes/);
    expect(status).toBe(0);
  });

  it('ends with another code for a part that there is not', () => {
    expect(run('--only', 'nothing')).toMatchObject({ status: 2, stdout: '' });
  });

  // An empty path: the lines say so, and nothing fails.
  it('skips what needs sox or a browser where it is not installed', () => {
    const { status, stdout } = spawnSync(
      process.execPath,
      ['--import', 'tsx', 'bench/stack.ts', '--only', 'sox', '--only', 'browser'],
      {
        encoding: 'utf8',
        env: { ...process.env, PATH: '' },
      },
    );
    expect(stdout.match(/skipped: sox is not installed/g)).toHaveLength(4);
    expect(stdout.match(/skipped: chromium is not installed/g)).toHaveLength(2);
    expect(status).toBe(0);
  });
});
