import type { Doubles } from '../signal/samples.js';
import type { CymbalBands } from './cymbal-bands.js';
import { runningSums, SILENCE } from './cymbal-strokes.js';

/** What one stroke measures between its onset and the next. */
export interface StrokeMeasures {
  readonly offsetSample: number;
  /** Greatest power above 4 kHz over 4 ms, in dB below a constant full scale. */
  readonly crestDbfs: number;
  /** From the crest down to the least level up to the end of the region, in dB. */
  readonly fallDb: number;
  /** Brightness, in dB; see strokeMeter. */
  readonly brightnessDb: number;
  /** Share of the power of the first 12 ms that lies in 2 ms: nearly all of a click's, about 0.4 of a short stroke's. */
  readonly clickShare: number;
}

/** Blocks (of 1 ms): the crest lies this near, a level is read over so many, the sound before over so many. */
const CREST_BLOCKS = 60;
const CREST_MEAN = 4;
const END_MEAN = 8;
const CLICK_BLOCKS = 2;
const CLICK_REACH = 12;
const BEFORE_BLOCKS = 10;
/** Windows in which brightness is read: this long, so far apart, up to so far after the onset. */
const WINDOW = 30;
const WINDOW_STEP = 10;
const WINDOW_REACH = 200;
/** Windows further than this under the loudest are not asked, nor those that stand out by less than a factor of two. */
const WINDOW_RANGE = 0.063;
/** How far above the sound before it a stroke ends, in dB. */
const END_ABOVE_DB = 1;
/** A ring is asked for in the last 40 ms before this (or the next stroke), but not if that is earlier than the second. */
const RING_LATEST = 270;
const RING_EARLIEST = 150;
const RING_MEAN = 40;
/** Nine recorded snare drums in ten (docs/examples/cymbals.md) have fallen by more than 2 dB + 0.07 dB a millisecond. */
const RING_OFFSET_DB = 2;
const RING_SLOPE_DB = 0.07;
const RING_WEIGHT = 1.5;
const MOST_BRIGHTNESS_DB = 40;

/**
 * Measures strokes from the powers of a clip.
 *
 * Level here is the mean over the stroke bands of their levels in dB. The end is where it has fallen by `endBelowDb` from its
 * crest (8 ms around), or is back within 1 dB of what sounded before the onset (a ring beneath, the room), or where the next
 * stroke begins.
 *
 * Brightness = (power above 7 kHz over power around 1.5 kHz) + (upper half of the stroke bands over their lower half), both in
 * dB and as the excess over what sounded before, at the brightest of the windows of 30 ms in the first 200 ms: the high end of
 * a crash builds up late. A ring adds 1.5 dB for each dB by which the sound, at most 250 ms after the onset, is less far under
 * its crest than a snare drum would be.
 */
export function strokeMeter(
  clip: CymbalBands,
): (onset: number, next: number, endBelowDb: number) => StrokeMeasures {
  const { blockSamples, blockCount } = clip;
  const half = clip.bands.length / 2;
  const high = createMean(clip.high);
  const bright = createMean(clip.bright);
  const body = createMean(clip.body);
  const lower = createMean(total(clip.bands.slice(0, half)));
  const upper = createMean(total(clip.bands.slice(half)));

  const levelDb = createLevel(clip.bands);

  return (onset, next, endBelowDb) => {
    const first = Math.floor(onset / blockSamples);
    const last = Math.max(first + 1, Math.min(blockCount, Math.floor(next / blockSamples)));
    const before = (mean: Mean): number => mean(first - BEFORE_BLOCKS - 1, first - 1);
    let [crest, crestDb, crestAt] = [0, Number.NEGATIVE_INFINITY, first];
    for (let b = first; b < Math.min(last, first + CREST_BLOCKS); b++) {
      const to = Math.min(last, b + CREST_MEAN);
      crest = Math.max(crest, high(b, to));
      const level = levelDb(b, to);
      if (level > crestDb) [crestDb, crestAt] = [level, b];
    }
    const limitDb = Math.max(crestDb - endBelowDb, before(levelDb) + END_ABOVE_DB);
    let [end, leastDb] = [crestAt + 1, crestDb];
    for (; end < last; end++) {
      const level = levelDb(Math.max(crestAt, end - END_MEAN / 2), Math.min(last, end + END_MEAN / 2));
      leastDb = Math.min(leastDb, level);
      if (level <= limitDb) break;
    }
    return {
      offsetSample: Math.max(onset + 1, end >= last ? next : end * blockSamples),
      crestDbfs: decibels(crest),
      fallDb: crestDb - leastDb,
      brightnessDb: Math.max(-MOST_BRIGHTNESS_DB, Math.min(MOST_BRIGHTNESS_DB, brightness() + ring())),
      clickShare: click(),
    };

    function click(): number {
      const all = CLICK_REACH * high(first - 1, first - 1 + CLICK_REACH);
      let most = 0;
      for (let b = first - 1; b < first + CLICK_REACH - CLICK_BLOCKS; b++)
        most = Math.max(most, CLICK_BLOCKS * high(b, b + CLICK_BLOCKS));
      return all > 0 ? most / all : 1;
    }

    function brightness(): number {
      const starts: number[] = [first];
      for (let b = first + WINDOW_STEP; b < first + WINDOW_REACH && b + WINDOW <= last; b += WINDOW_STEP)
        starts.push(b);
      const window = (mean: Mean, from: number): number => mean(from, Math.min(last, from + WINDOW));
      const loudest = Math.max(...starts.map((from) => window(high, from)));
      // A tenth of what was there before cannot be told from its swings.
      const excess = (mean: Mean, from: number): number =>
        Math.max(window(mean, from) - before(mean), 0.1 * before(mean));
      let most = Number.NEGATIVE_INFINITY;
      for (const from of starts) {
        const power = window(high, from);
        if (from > first && (power < WINDOW_RANGE * loudest || power < 2 * before(high))) continue;
        const ratio = decibels(excess(bright, from)) - decibels(excess(body, from));
        most = Math.max(most, ratio + decibels(excess(upper, from)) - decibels(excess(lower, from)));
      }
      return most;
    }

    function ring(): number {
      const to = Math.min(last, first + RING_LATEST);
      if (to < first + RING_EARLIEST) return 0;
      const left = Math.max(0, high(to - RING_MEAN, to) - before(high));
      const belowDb = decibels(crest) - decibels(left);
      return (
        RING_WEIGHT * Math.max(0, RING_OFFSET_DB + RING_SLOPE_DB * (to - RING_MEAN / 2 - first) - belowDb)
      );
    }
  };
}

type Mean = (from: number, to: number) => number;

/**
 * Mean over the bands of their levels in dB over the blocks [from, to): a stroke shows in it even where a ring beneath is
 * stronger in one of them. What is 80 dB under a band's loudest block counts as silence, as in strokeRises.
 */
function createLevel(bands: readonly Doubles[]): Mean {
  const means = bands.map(createMean);
  const least = bands.map((powers) => SILENCE * powers.reduce((most, power) => Math.max(most, power), 0));
  return (from, to) => {
    let sum = 0;
    for (let k = 0; k < means.length; k++)
      sum += decibels((means[k] as Mean)(from, to) + (least[k] as number));
    return sum / means.length;
  };
}

/** Mean power of the blocks [from, to) that lie in the clip. */
function createMean(powers: Doubles): Mean {
  const sums = runningSums(powers);
  return (from, to) => {
    const [a, b] = [Math.max(0, from), Math.min(powers.length, to)];
    return b > a ? ((sums[b] as number) - (sums[a] as number)) / (b - a) : 0;
  };
}

function total(bands: readonly Doubles[]): Doubles {
  const sum = new Float64Array((bands[0] as Doubles).length);
  for (const band of bands)
    for (let b = 0; b < sum.length; b++) sum[b] = (sum[b] as number) + (band[b] as number);
  return sum;
}

/** Silence is 300 dB down, so that differences stay finite. */
function decibels(power: number): number {
  return 10 * Math.log10(Math.max(power, 1e-30));
}
