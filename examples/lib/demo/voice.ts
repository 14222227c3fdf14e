import { amplitudeFromDecibels } from '../../../src/signal/decibels.js';
import type { Samples } from '../../../src/signal/samples.js';
import { blendAt, crossings } from './crossing.js';
import { ease } from './fade.js';
import { glottalSource } from './glottis.js';
import { type Note, pitchLine } from './pitch.js';
import type { Random } from './random.js';
import type { TimedPhone } from './schedule.js';
import type { Singer } from './singers.js';
import { type Formants, mixFormants, throughTract } from './tract.js';

/** Length of a formant transition, within the 40–80 ms of running speech (common practice). */
const TONGUE_SECONDS = 0.08;

export interface Voice {
  readonly samples: Samples;
  /** How open the folds stand at each sample, 0 to 1. */
  readonly opening: Samples;
}

/** Sings the voiced part of a take: source, tract and loudness follow the phones; noises come beside it. */
export function singVoice(
  phones: readonly TimedPhone[],
  sampleRateHz: number,
  singer: Singer,
  random: Random,
): Voice {
  const length = phones.at(-1)!.endSample;
  const vibrato = { rateHz: singer.vibratoHz, cents: singer.vibratoCents };
  const pitchHz = pitchLine(notesOf(phones), length, sampleRateHz, vibrato, random);
  const { flow, opening } = glottalSource(pitchHz, sampleRateHz, singer.glottis, random);

  const tongue = crossings(phones, sampleRateHz, () => TONGUE_SECONDS);
  let at = 0;
  const samples = throughTract(flow, sampleRateHz, singer.tractScale, (sample) => {
    while (sample >= tongue[at]!.toSample) at++;
    const { before, after } = tongue[at]!;
    const x = blendAt(tongue[at]!, sample);
    const [f1, ...higher] = mixFormants(shapeAt(before, sample), shapeAt(after, sample), x);
    // A singer opens the jaw so that the first formant does not fall below the pitch.
    return [Math.max(f1, (1.03 * pitchHz[sample]!) / singer.tractScale), ...higher];
  });

  const folds = crossings(phones, sampleRateHz, voiceBlendSeconds);
  for (const crossing of folds) {
    const gain = voiceGain(crossing.before);
    const change = voiceGain(crossing.after) - gain;
    for (let i = crossing.fromSample; i < crossing.toSample; i++)
      samples[i] = samples[i]! * (gain + change * blendAt(crossing, i));
  }
  for (const { phone, startSample, endSample } of phones)
    if (phone.kind === 'vowel') swell(samples, startSample, endSample, sampleRateHz);
  return { samples, opening };
}

/** Loudness within a vowel: it takes a tenth of a second to bloom and then ebbs by some 3 dB; the edges are left alone. */
function swell(samples: Samples, startSample: number, endSample: number, sampleRateHz: number): void {
  const length = endSample - startSample;
  const bloom = Math.min(0.1 * sampleRateHz, 0.4 * length);
  for (let i = 0; i < length; i++) {
    const ebb = 1 - ease((i - bloom) / (length - bloom));
    samples[startSample + i] = samples[startSample + i]! * (1 + 0.5 * ease(i / bloom) * ebb);
  }
}

function notesOf(phones: readonly TimedPhone[]): Note[] {
  const vowels = phones.filter(({ phone }) => phone.kind === 'vowel');
  return vowels.map(({ startSample, note, vowelIndex }, k) => {
    const previous = vowels[k - 1];
    const between = previous ? phones.slice(previous.vowelIndex, vowelIndex) : [];
    return {
      startSample,
      note,
      afterRest: between.some(({ label }) => label === 'br') || k === 0,
    };
  });
}

function shapeAt({ phone, startSample, endSample }: TimedPhone, sample: number): Formants {
  if (!phone.glideTo) return phone.formants;
  const x = (sample - startSample) / (endSample - startSample);
  return mixFormants(phone.formants, phone.glideTo, ease((x - 0.35) / 0.6));
}

function voiceGain({ phone }: TimedPhone): number {
  return phone.voiceDb === undefined ? 0 : amplitudeFromDecibels(phone.voiceDb);
}

/** Folds stop at once in a closure, within three periods in a hiss, and slowly at the end of a line. */
function voiceBlendSeconds(before: TimedPhone, after: TimedPhone): number {
  const kinds = [before.phone.kind, after.phone.kind];
  if (after.phone.kind === 'silence') return 0.13;
  if (before.phone.kind === 'silence') return 0.06;
  if (kinds.includes('closure') || kinds.includes('burst')) return 0.014;
  if (kinds.includes('vowel') && kinds.includes('sonorant')) return 0.045;
  return 0.026;
}
