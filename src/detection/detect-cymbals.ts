import { createRegionList } from '../regions/create-region-list.js';
import type { RegionDraft } from '../regions/insert-region.js';
import { insertRegions } from '../regions/insert-regions.js';
import type { RegionList } from '../regions/region.js';
import { channelList, checkFinite } from '../signal/check.js';
import type { Channels, Samples } from '../signal/samples.js';
import { cymbalBands } from './cymbal-bands.js';
import { strokeMeter } from './cymbal-measures.js';
import { refineStroke } from './cymbal-onset.js';
import { type CymbalOptions, type CymbalSettings, cymbalSettings } from './cymbal-options.js';
import { pickStrokes, strokeRises, strokeSharpness } from './cymbal-strokes.js';

/**
 * Finds the strokes of cymbals on a hi-hat or crash track as regions of kind 'cymbal': bright onsets with a decay. Gains and
 * fades are 0: finding changes nothing.
 *
 * How: powers per millisecond in six bands from 4 to 16 kHz (2.4 kHz to 0.46 of the rate where that is lower). A stroke lifts all
 * of them within a few milliseconds; where the partials of a ring beat, one band rises and another does not. The onset is where the
 * attack leaves the sound before it, to 0.3 ms; the end is where the stroke has died away by `endBelowDb`, is back at what sounded
 * before it (a ring beneath, the room), or where the next stroke begins: regions touch and never overlap. A crash that rings under
 * later strokes is therefore one region up to the next of them. The strokes of a roll are regions of their own.
 *
 * Confidence is the product of what speaks for a stroke, each from 0 to 1: its rise, its fall, its brightness, its level re the
 * loudest of the clip, and that it is longer than a click. It is a measure of how far the stroke lies from the thresholds, not a
 * probability found by counting.
 *
 * Snare drums are bright too. One that leaks in is told by its spectrum (more around 1.5 kHz, less above 7 kHz, no ring) and gets a
 * low confidence; struck together with a cymbal it belongs to that stroke. Snares with much more wire than drum are taken for
 * cymbals, very dark bells and gongs are not (docs/examples/cymbals.md has figures). Bass drums have nothing up there. Bursts of
 * hiss from elsewhere, an s of a voice for one, may be taken for strokes: this is for tracks of cymbals.
 *
 * @param channels one channel, or several of equal length (powers are averaged); finite samples, any length from 0 on
 * @param options `sampleRateHz` (8,000 to 192,000) and settings; see CymbalOptions. Below 32 kHz part of the evidence lies
 * outside the band, and more is missed; at 8 kHz about one in five, and snares come in.
 * @returns regions ordered in time; `reason.numbers` has riseDb, fallDb, brightnessDb, clickShare and crestDbfs (greatest power
 * above 4 kHz over 4 ms). Silence, a constant, steady noise, a click, an empty clip or a single sample give an empty list.
 * @throws RangeError for NaN or infinite samples (with the index), channels of different lengths or a setting out of range;
 * TypeError for the wrong kind of value.
 * Source: own method; band-wise rises as a sign of onsets are common practice (J. P. Bello et al., A Tutorial on Onset
 * Detection in Music Signals, IEEE Trans. Speech and Audio Processing 13 (2005), from memory).
 *
 * @example
 * import { detectCymbals } from 'lenition/detection';
 * // A hiss that begins after half a second and falls by 30 dB within 0.3 s; a small generator makes the noise
 * let seed = 1;
 * const noise = () => (seed = (seed * 16807) % 2147483647) / 1073741823.5 - 1;
 * const hiss = (i: number) => (i < 24000 ? 0.0001 : 10 ** ((-1.5 * (i - 24000)) / 14400)) * noise();
 * const list = detectCymbals(Float32Array.from({ length: 72000 }, (_, i) => hiss(i)), { sampleRateHz: 48000 });
 * list.regions.length; // => 1
 * list.regions.map(({ onsetSample }) => Math.round((onsetSample ?? 0) / 480)); // => [50]
 */
export function detectCymbals(channels: Channels, options: CymbalOptions): RegionList {
  const list = channelList('detectCymbals', channels);
  const settings = cymbalSettings('detectCymbals', options);
  const { sampleRateHz } = settings;
  for (let c = 0; c < list.length; c++) checkFinite('detectCymbals', `channels[${c}]`, list[c] as Samples);
  const lengthSamples = (list[0] as Samples).length;
  const empty = createRegionList({ sampleRateHz, lengthSamples });
  if (lengthSamples < 2) return empty;
  return insertRegions(empty, findStrokes(list, settings));
}

/** Rises that are looked at, in dB; whether they are attacks is told by their sharpness too. */
const COARSE_RISE_DB = 2.5;
/** What is this short and has more of its power within 2 ms is a click. */
const CLICK_SECONDS = 0.015;
const MOST_CLICK_SHARE = 0.85;
/** A build-up: at most this rise, within this time, after at most this fall. */
const BUILD_RISE_DB = 6;
const BUILD_SECONDS = 0.12;
const BUILD_FALL_DB = 1.5;

interface Onset {
  readonly sample: number;
  readonly riseDb: number;
}

function findStrokes(channels: readonly Samples[], settings: CymbalSettings): readonly RegionDraft[] {
  const { sampleRateHz } = settings;
  const lengthSamples = (channels[0] as Samples).length;
  const bands = cymbalBands(channels, sampleRateHz);
  const rises = strokeRises(bands);
  const gapBlocks = Math.round((settings.leastGapSeconds * sampleRateHz) / bands.blockSamples);
  const measure = strokeMeter(bands);
  const onsets: Onset[] = [];
  for (const block of pickStrokes(rises, COARSE_RISE_DB, gapBlocks)) {
    const riseDb = ((rises[block] as number) + strokeSharpness(bands, block)) / 2;
    if (riseDb < settings.leastRiseDb) continue;
    const last = onsets[onsets.length - 1];
    const sample = refineStroke(channels, block * bands.blockSamples, (last?.sample ?? -1) + 1, sampleRateHz);
    // A crash builds up: what rises a little before anything has fallen is no stroke of its own.
    const builds =
      last !== undefined && riseDb < BUILD_RISE_DB && sample - last.sample < BUILD_SECONDS * sampleRateHz;
    if (builds && measure(last.sample, sample, settings.endBelowDb).fallDb < BUILD_FALL_DB) continue;
    onsets.push({ sample, riseDb });
  }
  const strokes = onsets.map(({ sample, riseDb }, i) => {
    const next = onsets[i + 1]?.sample ?? lengthSamples;
    return { onsetSample: sample, next, riseDb, ...measure(sample, next, settings.endBelowDb) };
  });
  const loudestDb = strokes.reduce(
    (most, { crestDbfs }) => Math.max(most, crestDbfs),
    Number.NEGATIVE_INFINITY,
  );
  return strokes.flatMap(({ onsetSample, next, offsetSample, ...numbers }) => {
    const seconds = (offsetSample - onsetSample) / sampleRateHz;
    const { riseDb, fallDb, brightnessDb, clickShare, crestDbfs } = numbers;
    const confidence =
      chance(riseDb - settings.leastRiseDb + 1, 1) *
      chance(fallDb - leastFallDb(seconds, offsetSample === next), 0.4) *
      chance(brightnessDb - settings.leastBrightnessDb, 2) *
      (seconds < CLICK_SECONDS ? chance(MOST_CLICK_SHARE - clickShare, 0.03) : 1) *
      chance(crestDbfs - loudestDb + settings.rangeDb, 2);
    if (confidence < settings.minConfidence || seconds < settings.leastDurationSeconds) return [];
    const edges = { startSample: onsetSample, endSample: offsetSample, onsetSample, offsetSample };
    return [{ ...edges, kind: 'cymbal' as const, confidence, reason: { rule: 'detectCymbals', numbers } }];
  });
}

/**
 * A sound that goes on must die away, by 6 dB within a second; one that the next stroke has cut off after a fraction of a second need
 * not have fallen, since a crash builds up before it dies away.
 */
function leastFallDb(seconds: number, cutOff: boolean): number {
  const share = Math.min(1, seconds * seconds);
  return cutOff ? -3 + 9 * share : 1 + 5 * share;
}

/** 0.5 where the excess is 0. */
function chance(excess: number, width: number): number {
  return 1 / (1 + Math.exp(-excess / width));
}
