import { amplitudeFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import { mixInto, spanGain } from './fade.js';
import { noiseSpectrum } from './noise-spectrum.js';
import type { Phone } from './phones.js';
import { createRandom, type Random } from './random.js';
import { schedule, type TimedPhone } from './schedule.js';
import { shapedNoise } from './shaped-noise.js';
import type { Singer } from './singers.js';
import { singVoice, type Voice } from './voice.js';

/** RMS of the room when nobody sings, in dBFS. */
export const ROOM_DB = -65;

/** One singer's recording, and what every sample of it holds. */
export function renderTake(
  singer: Singer,
  sampleRateHz: number,
): { samples: Samples; phones: readonly TimedPhone[] } {
  const phones = schedule(singer, sampleRateHz);
  const voice = singVoice(phones, sampleRateHz, singer, createRandom(singer.seed + 1000));
  const samples = voice.samples.slice();
  const random = createRandom(singer.seed + 2000);
  for (const timed of phones) addNoise(samples, timed, phones, voice, singer, sampleRateHz, random);

  let peak = 0;
  for (let i = 0; i < samples.length; i++) peak = Math.max(peak, Math.abs(samples[i]!));
  const gain = amplitudeFromDecibels(singer.peakDb) / peak;
  for (let i = 0; i < samples.length; i++) samples[i] = samples[i]! * gain;
  // The room comes last, so that its level does not depend on the singer.
  const room = shapedNoise(
    samples.length,
    sampleRateHz,
    noiseSpectrum('room'),
    createRandom(singer.seed + 3000),
  );
  mixInto(samples, room, 0, amplitudeFromDecibels(ROOM_DB));
  return { samples, phones };
}

function addNoise(
  samples: Samples,
  { phone, startSample, endSample, levelDb, vowelIndex }: TimedPhone,
  phones: readonly TimedPhone[],
  voice: Voice,
  singer: Singer,
  sampleRateHz: number,
  random: Random,
): void {
  if (!phone.noise || levelDb === null) return;
  const { name, fadeInSeconds, fadeOutSeconds, fallDb } = phone.noise;
  const vowel = phones[vowelIndex]!;
  const length = endSample - startSample;
  // Both fades are centred on the edges, so half of each lies inside; a short phone shortens them alike.
  const fit = Math.min(1, (1.6 * length) / ((fadeInSeconds + fadeOutSeconds) * sampleRateHz));
  const fadeInSamples = Math.round(fit * fadeInSeconds * sampleRateHz);
  const fadeOutSamples = Math.round(fit * fadeOutSeconds * sampleRateHz);
  const span = { startSample, endSample, fadeInSamples, fadeOutSamples };
  const from = startSample - Math.ceil(fadeInSamples / 2);
  const to = endSample + Math.ceil(fadeOutSamples / 2);

  const spectrum = noiseSpectrum(name, singer.hissScale * lipScale(vowel.phone));
  const noise = shapedNoise(to - from, sampleRateHz, spectrum, random);
  const fallPerSample = amplitudeFromDecibels(-fallDb / length);
  let fall = 1;
  for (let n = 0; n < noise.length; n++) {
    const sample = from + n;
    if (sample > startSample) fall *= fallPerSample;
    // Voiced noise comes in puffs, one per period; the factors keep its RMS.
    const puff = phone.voiceDb === undefined ? 1 : 0.43 + (voice.opening[sample] ?? 0);
    noise[n] = noise[n]! * spanGain(span, sample) * fall * puff;
  }
  mixInto(samples, noise, from, rmsOfMiddle(voice.samples, vowel) * amplitudeFromDecibels(levelDb));
}

/** Rounded lips lengthen the cavity before the teeth: s and sh hiss lower beside back vowels. */
function lipScale({ formants }: Phone): number {
  return formants[1] < 1000 ? 0.94 : 1;
}

/** RMS of the middle 60 % of a phone, in which its neighbours have died away. */
function rmsOfMiddle(samples: Samples, { startSample, endSample }: TimedPhone): number {
  const margin = Math.floor(0.2 * (endSample - startSample));
  let sum = 0;
  for (let i = startSample + margin; i < endSample - margin; i++) sum += samples[i]! ** 2;
  return Math.sqrt(sum / (endSample - startSample - 2 * margin));
}
