import type { Samples } from '../../../src/signal/samples.js';
import { mixInto } from './fade.js';
import { lengthenRests } from './longer-rests.js';
import { createRandom } from './random.js';
import { SINGERS } from './singers.js';
import { headphoneBleed, mainsHum, mouthClick, plosivePop, standKnock } from './stray-sounds.js';
import { renderTake } from './take.js';
import { type TruthEntry, truthOf } from './truth.js';

/** What was laid over a rough take, and where. */
export interface StrayEntry {
  /** Half-open, in samples: all of the sound. */
  readonly startSample: number;
  readonly endSample: number;
  readonly label: 'bleed' | 'hum' | 'knock' | 'click' | 'pop';
  /** The kind of region that it should become; a pop is a noise that lies on a consonant and its vowel. */
  readonly kind: 'noise' | 'click';
}

/** The lead as a careless session would leave it, with its truth. */
export interface RoughTake {
  readonly name: string;
  readonly sampleRateHz: number;
  readonly samples: Samples;
  /** Of the singing: entries that touch, from the first sample to the last. */
  readonly truth: readonly TruthEntry[];
  /** Of the stray sounds, in order of time. */
  readonly strays: readonly StrayEntry[];
}

/** Room let into each rest, so that something can go wrong in it. */
const REST_SECONDS = 1.5;
const SEED = 71;

/**
 * The demonstration's lead with longer rests, and in them headphone bleed, a lamp's hum, knocks on the stand and mouth clicks; clicks in
 * dark vowels too, and blows of air at some releases. The same call gives the same samples.
 *
 * @param options.sampleRateHz 8,000 to 192,000 Hz; 48,000 unless stated.
 */
export function makeRoughTake(options: { readonly sampleRateHz?: number } = {}): RoughTake {
  const { sampleRateHz = 48_000 } = options;
  const lead = renderTake(SINGERS[0]!, sampleRateHz);
  const { samples, phones, rests } = lengthenRests(lead, sampleRateHz, REST_SECONDS, SEED);
  const random = createRandom(SEED + 1);
  const strays: StrayEntry[] = [];
  const add = (sound: Samples, startSample: number, label: StrayEntry['label']): void => {
    mixInto(samples, sound, startSample, 1);
    const endSample = startSample + sound.length;
    strays.push({ startSample, endSample, label, kind: label === 'click' ? 'click' : 'noise' });
  };
  const inRest = (k: number, seconds: number): number =>
    rests[k]!.startSample + Math.round(seconds * sampleRateHz);

  add(headphoneBleed(4, 0.31, sampleRateHz, -42, random), inRest(0, 0.1), 'bleed');
  add(standKnock(sampleRateHz, -30, random), inRest(1, 0.4), 'knock');
  add(mouthClick(sampleRateHz, -38, random), inRest(1, 1), 'click');
  add(mainsHum(0.8, sampleRateHz, -50), inRest(2, 0.45), 'hum');
  add(headphoneBleed(2, 0.31, sampleRateHz, -46, random), inRest(3, 0.35), 'bleed');
  add(mouthClick(sampleRateHz, -36, random), inRest(3, 1.25), 'click');
  add(standKnock(sampleRateHz, -36, random), inRest(4, 0.5), 'knock');
  add(mouthClick(sampleRateHz, -40, random), inRest(4, 0.95), 'click');

  // Dark vowels, in whose quiet above 2 kHz a click is heard.
  for (const { label, startSample, endSample } of phones)
    if ((label === 'ao' || label === 'uw') && endSample - startSample > 0.25 * sampleRateHz)
      add(
        mouthClick(sampleRateHz, -17, random),
        Math.round(startSample + 0.65 * (endSample - startSample)),
        'click',
      );
  // Every third release blows at the microphone.
  const releases = phones.filter(({ label }) => label === 't' || label === 'k');
  for (const [k, { startSample }] of releases.entries())
    if (k % 3 === 1) add(plosivePop(sampleRateHz, -14), startSample, 'pop');

  strays.sort((a, b) => a.startSample - b.startSample);
  return { name: 'wren-rough', sampleRateHz, samples, truth: truthOf(phones), strays };
}
