import type { CymbalEnvelope } from '../detection/cymbal-bands.js';
import type { FadeShape, Region, RegionList } from '../regions/region.js';
import { changesAudio } from './changes-audio.js';
import type { TameCymbalsSettings } from './cymbal-options.js';

/** A region as the planner sees it. */
export interface Stroke {
  readonly region: Region;
  readonly chosen: boolean;
  /** Where the attack begins. */
  readonly anchor: number;
  /** The anchor is the measured onset: the start may move before it. */
  readonly measured: boolean;
  /** Where its sound ends, after the anchor. */
  readonly endSample: number;
}

/** Gain, edges and fades of one stroke, and the gain in dB that the stroke before left. */
export interface StrokePlan {
  readonly gainDb: number;
  readonly startSample: number;
  readonly endSample: number;
  readonly fadeInSamples: number;
  readonly fadeOutSamples: number;
  readonly fadeShape: FadeShape;
  readonly carriedDb: number;
}

/** Levels of a clip above 4 kHz. */
export interface Decay {
  /** Greatest power over 4 ms in the first 60 ms of a stroke, in dB; −Infinity for silence. */
  crestDbfs(from: number, to: number): number;
  /** From the crest of the stroke at `from` to the 8 ms before `at`, in dB; at least 0. */
  fallDb(from: number, at: number): number;
  /** First sample from `from` on, in steps of a block, where the stroke at `anchor` has fallen by `fallDb`; `limit` where none. */
  fallen(anchor: number, from: number, limit: number, fallDb: number): number;
}

/** In blocks of 1 ms. */
const CREST_REACH_BLOCKS = 60;
const CREST_BLOCKS = 4;
const FALL_BLOCKS = 8;
/** Fade inside a region whose start must not move: short against an attack. */
const INNER_FADE_SECONDS = 0.001;

/** Reads levels from an envelope of 1 ms blocks. */
export function createDecay({ blockSamples, powers }: CymbalEnvelope): Decay {
  const mean = (from: number, to: number): number => {
    let sum = 0;
    for (let b = from; b < to; b++) sum += powers[b] as number;
    return to > from ? sum / (to - from) : 0;
  };
  const crestDbfs = (from: number, to: number): number => {
    const first = Math.floor(from / blockSamples);
    const last = Math.min(powers.length, Math.max(first + 1, Math.ceil(to / blockSamples)));
    let crest = 0;
    for (let b = first; b < Math.min(last, first + CREST_REACH_BLOCKS); b++)
      crest = Math.max(crest, mean(b, Math.min(last, b + CREST_BLOCKS)));
    return 10 * Math.log10(crest);
  };
  const levelBefore = (from: number, at: number): number => {
    const end = Math.min(powers.length, Math.floor(at / blockSamples));
    const first = Math.max(Math.floor(from / blockSamples), end - FALL_BLOCKS);
    return 10 * Math.log10(mean(first, Math.max(end, first + 1)));
  };
  const fallDb = (from: number, at: number): number => {
    const fall = crestDbfs(from, at) - levelBefore(from, at);
    // From silence to silence nothing has fallen.
    return Number.isNaN(fall) ? 0 : Math.max(0, fall);
  };
  const fallen = (anchor: number, from: number, limit: number, least: number): number => {
    const crest = crestDbfs(anchor, from);
    for (let at = from; at < limit; at += blockSamples)
      if (crest - levelBefore(anchor, at) >= least) return at;
    return limit;
  };
  return { crestDbfs, fallDb, fallen };
}

/** Plans every chosen stroke in order of time; undefined for the others. */
export function planCymbals(
  strokes: readonly Stroke[],
  { sampleRateHz, lengthSamples }: Pick<RegionList, 'sampleRateHz' | 'lengthSamples'>,
  settings: TameCymbalsSettings,
  decay: Decay,
  cutDb: (region: Region) => number,
): readonly (StrokePlan | undefined)[] {
  const samples = (seconds: number): number => Math.round(seconds * sampleRateHz);
  const [fade, hold] = [samples(settings.fadeInSeconds), samples(settings.holdSeconds)];
  const innerFade = Math.min(fade, samples(INNER_FADE_SECONDS));
  const plans: (StrokePlan | undefined)[] = [];
  let carriedDb = 0;
  strokes.forEach((stroke, i) => {
    const { region, chosen, anchor, measured } = stroke;
    if (!chosen) {
      carriedDb = 0;
      plans.push(undefined);
      return;
    }
    const gainDb = Math.min(-cutDb(region), carriedDb) + 0;
    const next = strokes[i + 1];
    const limit = next === undefined ? lengthSamples : next.chosen ? next.anchor : beforeOther(next, anchor);
    const takenOverDb = carriedDb;
    carriedDb = 0;
    let endSample = Math.min(stroke.endSample, limit);
    if (gainDb < 0) {
      endSample = decay.fallen(anchor, endSample, limit, -gainDb / settings.returnShare);
      // Too near to the next for a fade of its own: touch it, and the gain goes from one to the other.
      if (next?.chosen && endSample > limit - fade) endSample = limit;
      if (next?.chosen && endSample === limit)
        carriedDb = Math.min(0, gainDb + settings.returnShare * decay.fallDb(anchor, limit));
    }
    const { startSample, fadeInSamples } = start(stroke, i, gainDb);
    const attack = Math.max(anchor, startSample + fadeInSamples);
    const held = Math.min(hold, Math.floor((endSample - attack) / 3));
    plans.push({
      gainDb,
      startSample,
      endSample,
      fadeInSamples,
      fadeOutSamples: gainDb < 0 ? endSample - attack - held : 0,
      fadeShape: 'decibel',
      carriedDb: takenOverDb,
    });

    function start(of: Stroke, at: number, gain: number): { startSample: number; fadeInSamples: number } {
      const before = strokes[at - 1];
      const plan = plans[at - 1];
      if (gain === 0) return { startSample: anchor, fadeInSamples: 0 };
      // The stroke before hands its gain over.
      if (plan !== undefined && plan.gainDb < 0 && plan.endSample === anchor)
        return { startSample: anchor, fadeInSamples: 0 };
      if (plan !== undefined && before !== undefined && plan.gainDb === 0 && measured) {
        // Nothing happens in the stroke before, so it may give way.
        const startSample = Math.max(plan.startSample + 1, anchor - fade, 0);
        if (plan.endSample > startSample) plans[at - 1] = { ...plan, endSample: startSample };
        return { startSample, fadeInSamples: anchor - startSample };
      }
      const bound = plan?.endSample ?? (before === undefined ? 0 : before.region.endSample);
      const startSample = measured
        ? Math.min(anchor, Math.max(bound, anchor - fade, 0))
        : of.region.startSample;
      const room = anchor - startSample;
      if (room > 0 || anchor === 0) return { startSample, fadeInSamples: room };
      return { startSample, fadeInSamples: Math.min(innerFade, Math.floor((endSample - anchor) / 3)) };
    }
  });
  return plans;
}

/** A gap of one sample keeps the renderer from joining the fade to the gain of a region that is not ours. */
function beforeOther({ region }: Stroke, anchor: number): number {
  return Math.max(anchor + 1, region.startSample - (changesAudio(region) ? 1 : 0));
}
