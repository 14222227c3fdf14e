import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { analysisWork, FOUR_BANDS } from '../../bench/lib/speed/analysis-work.js';
import { bestOfTries } from '../../bench/lib/speed/best-of-tries.js';
import {
  ceilingOf,
  ceilingTable,
  isRegression,
  type ShortName,
  WRITTEN,
} from '../../bench/lib/speed/ceilings.js';
import { childCpuSeconds, childrenSeconds } from '../../bench/lib/speed/child-cost.js';
import { cpuCost, repeatsFor } from '../../bench/lib/speed/cpu-cost.js';
import {
  type GrowthPoint,
  growthExponent,
  growthOf,
  growthTable,
  isLinear,
} from '../../bench/lib/speed/growth.js';
import { writeLongWav } from '../../bench/lib/speed/long-wav.js';
import { meydaWork } from '../../bench/lib/speed/meyda-work.js';
import { mixedSignal } from '../../bench/lib/speed/mixed-signal.js';
import { performancePage } from '../../bench/lib/speed/page.js';
import { pairedRounds, ratioOf, speedUpOf } from '../../bench/lib/speed/paired-rounds.js';
import { rawTransforms } from '../../bench/lib/speed/raw-transforms.js';
import { evenRegions } from '../../bench/lib/speed/render-figures.js';
import {
  exitCodeOf,
  type SpeedFigure,
  speedFigureTable,
  verdictOf,
} from '../../bench/lib/speed/speed-figure.js';
import { spreadOf } from '../../bench/lib/speed/spread.js';
import { readWavFile } from '../../examples/lib/read-wav.js';
import { totalSamples } from '../../src/regions/total-samples.js';

const cells = (table: string): string[][] =>
  table
    .split('\n')
    .filter((line) => line.startsWith('|'))
    .map((line) =>
      line
        .split('|')
        .map((cell) => cell.trim())
        .slice(1, -1),
    );

describe('tries', () => {
  const tryAll = (medians: readonly number[], mostTries: number) => {
    const left = [...medians];
    const measure = () => ({ median: left.shift() as number, low: 0, high: 0, rounds: 1 });
    const { spread, tries } = bestOfTries(measure, 2, mostTries);
    return [spread.median, tries];
  };

  it('end with the first that holds, or give the least of them', () => {
    expect(tryAll([2, 1], 3)).toEqual([2, 1]);
    expect(tryAll([2.5, 1.9, 1], 3)).toEqual([1.9, 2]);
    expect(tryAll([4, 3, 5], 3)).toEqual([3, 3]);
    expect(tryAll([Number.NaN, 3, 1], 2)).toEqual([3, 2]);
  });
});

describe('rounds', () => {
  // Five values in order 1, 2, 3, 4, 100: the middle one is 3, the second and fourth bound the middle half (by hand).
  it('are told by their median and middle half, which one slow round does not move', () => {
    expect(spreadOf([2, 100, 1, 4, 3])).toEqual({ median: 3, low: 2, high: 4, rounds: 5 });
  });

  // The machine gets slower with every call: 1, 2, 3, 4, … By hand: work 3·1 and 3·4, mean 7.5; base 2 and 3, mean 2.5.
  it('run work, base, base, work, so that a steady slowing falls on both alike', () => {
    const calls: string[] = [];
    let slowness = 0;
    const cost = (name: string, share: number) => () => {
      calls.push(name);
      slowness++;
      return share * slowness * 1e6;
    };
    const rounds = pairedRounds(cost('work', 3), cost('base', 1), 3);
    expect(calls.slice(-4)).toEqual(['work', 'base', 'base', 'work']);
    expect(rounds).toHaveLength(3);
    for (const ratio of [ratioOf(rounds).low, ratioOf(rounds).high]) expect(ratio).toBeCloseTo(3, 12);
    expect(speedUpOf(rounds).median).toBeCloseTo(1 / 3, 12);
  });

  it('warm up no more than two thousand times where the work costs nothing', () => {
    let runs = 0;
    pairedRounds(
      () => ++runs && 0,
      () => 0,
      1,
    );
    expect(runs).toBe(2002);
  });

  // Three seconds of each: three runs of 1 s, and two, the least, of 10 s. The round itself has two of each.
  it('warm each up for as many seconds of its own processor time', () => {
    const runs = { work: 0, base: 0 };
    pairedRounds(
      () => ++runs.work && 1e6,
      () => ++runs.base && 1e7,
      1,
      3,
    );
    expect(runs).toEqual({ work: 3 + 2, base: 2 + 2 });
  });

  // 40 million additions are tens of milliseconds on any machine of this century, and a thousandth of them is not more than all.
  it('tell processor time of one of several repeats', () => {
    const work = (n: number) => (): number => {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += i;
      return sum;
    };
    const long = cpuCost(work(4e7))();
    expect(long).toBeGreaterThan(5000);
    expect(cpuCost(work(4e4), 50)()).toBeLessThan(long);
    expect(Math.log2(repeatsFor(work(1000), 1)) % 1).toBe(0);
  });
});

const figure = (median: number | null, higherIsBetter: boolean): SpeedFigure => ({
  name: 'f',
  measured: median === null ? null : { median, low: median - 0.1, high: median + 0.1, rounds: 3 },
  reach: 10,
  aim: higherIsBetter ? 20 : 5,
  higherIsBetter,
  digits: 1,
  note: 'ten clips',
});

describe('the table of figures', () => {
  it('tells aim, reach and neither, each bound being enough, from the side that is better', () => {
    expect([9.9, 10, 19.9, 20].map((value) => verdictOf(figure(value, true)))).toEqual([
      'no',
      'reach',
      'reach',
      'aim',
    ]);
    expect([10.1, 10, 5.1, 5].map((value) => verdictOf(figure(value, false)))).toEqual([
      'no',
      'reach',
      'reach',
      'aim',
    ]);
    expect([null, Number.NaN].map((value) => verdictOf(figure(value, false)))).toEqual([
      'not measured',
      'no',
    ]);
  });

  it('prints figure, spread, bounds and verdict, and says below over what', () => {
    const table = speedFigureTable([figure(10.04, true), figure(null, true)]);
    expect(cells(table)).toMatchObject([
      ['figure', 'measured', 'middle half', 'reach', 'aim', 'met'],
      {},
      ['f', '10.0', '9.9–10.1', '10', '20', 'reach'],
      ['f', '–', '–', '10', '20', 'not measured'],
    ]);
    expect(table).toContain('\n- f: ten clips');
  });

  it('fails for a figure that falls short, not for one that was not measured', () => {
    expect(exitCodeOf([figure(15, true), figure(null, true)])).toBe(0);
    expect(exitCodeOf([figure(15, true), figure(9, true)])).toBe(1);
  });
});

describe('growth', () => {
  const points = (cost: (size: number) => number): GrowthPoint[] =>
    [0, 10, 100, 1000].map((size) => ({ size, cost: cost(size) }));

  // Closed form: log(c·n^p) = log c + p·log n, a straight line of slope p.
  it('is the exponent of a power law, whatever its factor; a size of 0 is left out', () => {
    expect(growthExponent(points((n) => 5 * n * n))).toBeCloseTo(2, 12);
    expect(growthExponent(points((n) => 0.3 * n))).toBeCloseTo(1, 12);
    expect(growthExponent(points(() => 7))).toBeCloseTo(0, 12);
  });

  it('is linear up to n·log n, and not for a power of 1.3 or where nothing was measured', () => {
    const linear = (cost: (size: number) => number): boolean =>
      isLinear({ name: '', unit: '', points: points(cost) });
    // Between 50 and 50,000 by hand: 1 + log(log 50,000 / log 50) / log 1000 = 1 + log(10.82 / 3.91) / 6.91 = 1.147.
    const nLogN = [50, 50_000].map((size) => ({ size, cost: size * Math.log(size) }));
    expect(growthExponent(nLogN)).toBeCloseTo(1.147, 3);
    expect(isLinear({ name: '', unit: '', points: nLogN })).toBe(true);
    expect(linear((n) => n)).toBe(true);
    expect(linear((n) => n ** 1.3)).toBe(false);
    expect(linear(() => 0)).toBe(false);
  });

  it('takes the median of the rounds after two to warm up', () => {
    // Costs of one size in order: 900, 800 to warm up, then 30, 10, 20.
    const costs = [900, 800, 30, 10, 20];
    const { points: measured } = growthOf('g', 's', [{ size: 1, cost: () => costs.shift() as number }], 3);
    expect(measured).toEqual([{ size: 1, cost: 20 }]);
  });

  it('prints sizes, milliseconds and verdict', () => {
    const growth = {
      name: 'g',
      unit: 's',
      points: [
        { size: 10, cost: 1234 },
        { size: 10_000, cost: 1_234_000 },
      ],
    };
    expect(cells(growthTable([growth]))[2]).toEqual(['g', '10, 10,000 s', '1.2, 1234', '1.00', 'yes']);
  });
});

describe('ceilings', () => {
  // By hand: 2 and 35 % of it are 2.7.
  it('lie a third above what was written, and a figure that is none is above', () => {
    expect(ceilingOf(2)).toBeCloseTo(2.7, 12);
    expect([1, 2.69, 2.71, Number.NaN].map((value) => isRegression(value, 2))).toEqual([
      false,
      false,
      true,
      true,
    ]);
  });

  it('are printed beside what was measured', () => {
    const measured = Object.fromEntries(
      Object.entries(WRITTEN).map(([name, written], i) => [
        name,
        spreadOf([i === 0 ? written * 1.4 : written]),
      ]),
    ) as Record<ShortName, ReturnType<typeof spreadOf>>;
    const verdicts = cells(ceilingTable(measured))
      .slice(2)
      .map((row) => row[4]);
    expect(verdicts).toEqual(['NO', ...Array(Object.keys(WRITTEN).length - 1).fill('yes')]);
  });
});

describe('what is compared', () => {
  const RATE = 48_000;
  const samples = mixedSignal(1, RATE);

  // Two libraries on the same frames. Ours are centred on multiples of the hop, theirs begin there: ours are two later.
  it('is the same work: crossings and bands are those of meyda', () => {
    const { columns } = analysisWork(samples, RATE);
    const theirs = meydaWork(samples, RATE);
    expect(columns.levelDb).toHaveLength(theirs.length);
    // The last frames of theirs are moved inside.
    for (let frame = 0; frame < theirs.length - 4; frame++) {
      const { zcr, bands } = theirs[frame]!;
      // It counts in the windowed frame, whose two ends are 0: one crossing more or less at either end.
      const ours = (columns.zeroCrossingsPerSecond[frame + 2]! * 1023) / RATE;
      expect(Math.abs(ours - zcr)).toBeLessThan(2.001);
      // Scales differ by a constant; its window is of the symmetric kind (1023 intervals) and its spectrum of 32 bits, and bins at the
      // edges of bands fall to one side or the other: shares of bands with 1 % of the power at least agree to 5 %.
      const total = bands.reduce((a, b) => a + b, 0);
      const powers = FOUR_BANDS.map((_, b) => columns.bandEnergies[b]![frame + 2]!);
      const ourTotal = powers.reduce((a, b) => a + b, 0);
      for (const [b, band] of bands.entries())
        if (band > 0.01 * total)
          expect(Math.abs(powers[b]! / ourTotal / (band / total) - 1)).toBeLessThan(0.05);
    }
  });

  // A frame of ones: bin 0 is their sum, 1024; all others are 0 (closed form).
  it('has transforms of 1024 samples as its baseline', () => {
    const spectrum = rawTransforms(new Float32Array(3000).fill(1));
    expect(spectrum[0]).toBe(1024);
    expect(Math.max(...spectrum.subarray(2, 1024).map(Math.abs))).toBeLessThan(1e-9);
  });

  it('covers the share of a clip that it says', () => {
    const list = evenRegions({ lengthSamples: 60 * RATE, count: 6, regionSamples: 4800, gainDb: -6 });
    expect(totalSamples(list.regions)).toBe(0.01 * 60 * RATE);
  });

  it('is read from a WAV file that repeats a take', () => {
    const folder = mkdtempSync(join(tmpdir(), 'long-'));
    try {
      const file = join(folder, 'a.wav');
      // 2.5 takes of three samples, whose values 24 bits hold exactly; an odd number of bytes.
      writeLongWav(file, Float32Array.of(0.5, -0.25, 0.125), 7 / 8000, 8000);
      const wav = readWavFile(file);
      if (!wav.ok) throw new Error(JSON.stringify(wav.problems));
      expect(wav.value.format).toMatchObject({ sampleRateHz: 8000, bitsPerSample: 24, channelCount: 1 });
      expect([...wav.value.channels[0]!]).toEqual([0.5, -0.25, 0.125, 0.5, -0.25, 0.125, 0.5]);
      expect(wav.value.bytes.length % 2).toBe(0);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('the time of a command', () => {
  // POSIX, Shell and Utilities, times: "accumulated user and system times for the shell" first, then those of its children (from memory).
  it('is in the second line that `times` prints', () => {
    expect(childrenSeconds('0m0.00s 0m9.01s\n1m1.50s 0m0.25s\n')).toBe(61.75);
    expect(() => childrenSeconds('nothing')).toThrow(/times printed/);
  });

  it('is that of the command, and none where the command fails', () => {
    const work = 'const end = process.cpuUsage().user + 2e5; while (process.cpuUsage().user < end);';
    // 0.2 s of work and the start of Node.
    expect(childCpuSeconds(process.execPath, ['-e', work])).toBeGreaterThanOrEqual(0.2);
    expect(() => childCpuSeconds(process.execPath, ['-e', 'process.exit(3)'])).toThrow(/ended with 3/);
  });
});

describe('bench/speed.ts', () => {
  const run = (...args: readonly string[]) =>
    spawnSync(process.execPath, ['--import', 'tsx', 'bench/speed.ts', ...args], { encoding: 'utf8' });

  it('says what it can do, and refuses what it cannot', () => {
    expect(run('--help')).toMatchObject({
      status: 0,
      stdout: expect.stringMatching(/--short[\s\S]*--write FILE/),
    });
    expect(run('--nothing').status).not.toBe(0);
  });

  it('writes a page with machine, tables and what does not change', () => {
    const page = performancePage({ machine: 'M', goals: 'G', growth: 'W', functions: 'F', lines: ['L'] });
    expect(page.startsWith('# Performance\n')).toBe(true);
    for (const part of ['Machine: M', '\nG\n', '\nW\n', '\nF\n', '\nL\n', '## Where it runs'])
      expect(page).toContain(part);
  });
});
