import type { RegionList } from '../regions/region.js';
import type { Doubles } from '../signal/samples.js';
import { TAKE_BANDS, type TakeLevels } from './take-levels.js';

/** A stretch of frames, half-open. */
export interface FrameSpan {
  readonly from: number;
  readonly to: number;
}

/** Where a take is sung or spoken, by frames. */
export interface Phrases {
  /** In order of time, none touching. */
  readonly spans: readonly FrameSpan[];
  /** Level of the voice around each frame, 180 Hz to 2.8 kHz, as a mean square. */
  readonly voicePowers: Doubles;
}

/** Bands that weigh a voice: 180 Hz to 2.8 kHz, above rumble and knocks, below hiss. */
const FIRST_VOICE_BAND = 2;
const END_VOICE_BAND = 6;
/** The voice's level is that of the loud frames within this many seconds to either side. */
const NEAR_SECONDS = 6;
/** A soft verse is taken for at most this much under the loudest singing, in dB. */
const SOFTEST_VERSE_DB = 24;
/** Sound this far under the voice around it is no voice, in dB: breaths lie about there, bleed further down. */
const VOICE_RANGE_DB = 24;
/** From here down a frame must also look voiced, in dB: a loud breath or knock must not pass for singing. */
const SURE_VOICE_DB = 12;
/** A voiced frame has its power below 700 Hz, no further than this under that above, in dB, or stands in partials. */
const LEAST_LOW_DB = -4;
const MOST_FLATNESS_DB = -7;
/** Frames of voice on end that make a phrase, and that a phrase must last where no other is near. */
const LEAST_RUN_SECONDS = 0.05;
const LEAST_PHRASE_SECONDS = 0.1;
/** Phrases and consonants nearer than this are one phrase: closures and short stops for breath in a word. */
const JOIN_SECONDS = 0.12;
/** A tail goes on while the level falls faster than this, in dB a second (a room of 2 s dies away by 30), at most so long. */
const TAIL_FALL_DB_PER_SECOND = 30;
const TAIL_SECONDS = 0.8;
const TAIL_LOOK_SECONDS = 0.085;

/**
 * Finds the phrases of a take: runs of frames within 24 dB of the voice around them, with the consonants of the list that
 * lie beside them and the dying tail behind them. Breaths are no part of a phrase.
 */
export function findPhrases(list: RegionList, levels: TakeLevels): Phrases {
  const { frameCount, hopSamples } = levels;
  const frames = (seconds: number): number => Math.round((seconds * list.sampleRateHz) / hopSamples);
  const level = voiceLevels(levels);
  const voicePowers = localVoice(level, frames(NEAR_SECONDS));
  const range = 10 ** (-VOICE_RANGE_DB / 10);
  const sure = 10 ** (-SURE_VOICE_DB / 10);
  const seeds: FrameSpan[] = [];
  for (let t = 0; t < frameCount; t++) {
    if (!isVoice(t)) continue;
    const from = t;
    while (t < frameCount && isVoice(t)) t++;
    if (t - from >= frames(LEAST_RUN_SECONDS)) seeds.push({ from, to: t });
  }
  const consonants = list.regions
    .filter(({ kind }) => kind === 'sibilant' || kind === 'fricative' || kind === 'burst')
    .map(({ startSample, endSample }) => ({
      from: Math.floor(startSample / hopSamples),
      to: Math.min(frameCount, Math.ceil(endSample / hopSamples)),
      consonant: true,
    }));
  const spans = joined([...seeds, ...consonants], frames(JOIN_SECONDS))
    // What holds no voice is no phrase: a stray hiss, a knock.
    .filter(({ voiced, from, to }) => voiced && to - from >= frames(LEAST_PHRASE_SECONDS))
    .map(({ from, to }) => ({ from, to: tailEnd(to) }));
  return { spans: joined(spans, 1), voicePowers };

  function isVoice(t: number): boolean {
    const power = level[t] as number;
    const voice = voicePowers[t] as number;
    return power > range * voice && (power > sure * voice || looksVoiced(levels, t));
  }

  function tailEnd(end: number): number {
    const look = frames(TAIL_LOOK_SECONDS);
    const least = 10 ** ((-TAIL_FALL_DB_PER_SECOND * TAIL_LOOK_SECONDS) / 10);
    const last = Math.min(frameCount - look, end + frames(TAIL_SECONDS));
    let t = end;
    while (t < last && (level[t + look] as number) < least * (level[t] as number)) t++;
    // What fell fast enough was a tail to the end of the last look.
    return t === end ? end : t + look - 1;
  }
}

function looksVoiced({ powers, flatness }: TakeLevels, t: number): boolean {
  const at = t * TAKE_BANDS;
  const power = (band: number): number => powers[at + band] as number;
  const low = power(1) + power(2) + power(3);
  const high = power(4) + power(5) + power(6);
  if (low > high * 10 ** (LEAST_LOW_DB / 10)) return true;
  let weighted = 0;
  for (let band = 3; band < 6; band++)
    weighted += power(band) * 10 * Math.log10(flatness[at + band] as number);
  return weighted < MOST_FLATNESS_DB * (power(3) + power(4) + power(5));
}

/** Mean square per frame from 180 Hz to 2.8 kHz, where a voice is loud and rumble, knocks and hiss are not. */
export function voiceLevels({ frameCount, powers }: TakeLevels): Doubles {
  const out = new Float64Array(frameCount);
  for (let t = 0; t < frameCount; t++)
    for (let band = FIRST_VOICE_BAND; band < END_VOICE_BAND; band++)
      out[t] = (out[t] as number) + (powers[t * TAKE_BANDS + band] as number);
  return out;
}

/** Σp² / Σp over the frames around each: the level of the loud ones, however many quiet ones lie between. */
function localVoice(level: Doubles, reach: number): Doubles {
  const n = level.length;
  const out = new Float64Array(n);
  const weighted = (from: number, to: number): number => {
    let power = 0;
    let square = 0;
    for (let t = from; t < to; t++) {
      power += level[t] as number;
      square += (level[t] as number) ** 2;
    }
    return power > 0 ? square / power : 0;
  };
  const least = weighted(0, n) * 10 ** (-SOFTEST_VERSE_DB / 10);
  // Read once a tenth of the reach and held: a reference need not move faster.
  const step = Math.max(1, Math.floor(reach / 10));
  for (let t = 0; t < n; t += step) {
    const near = weighted(Math.max(0, t - reach), Math.min(n, t + reach));
    out.fill(Math.max(least, near), t, Math.min(n, t + step));
  }
  return out;
}

interface Joined extends FrameSpan {
  readonly voiced: boolean;
}

function joined(spans: readonly (FrameSpan & { readonly consonant?: boolean })[], gap: number): Joined[] {
  const sorted = [...spans].sort((a, b) => a.from - b.from);
  const out: { from: number; to: number; voiced: boolean }[] = [];
  for (const { from, to, consonant } of sorted) {
    const voiced = consonant !== true;
    const last = out[out.length - 1];
    if (last !== undefined && from < last.to + gap) {
      last.to = Math.max(last.to, to);
      last.voiced ||= voiced;
    } else out.push({ from, to, voiced });
  }
  return out;
}
