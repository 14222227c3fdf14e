import load from '@echogarden/espeak-ng-emscripten';
import { phoneFacts } from '../../bench/lib/phone-map.js';
import type { PhoneEvent } from '../../src/evaluation/phone-event.js';
import type { Samples } from '../../src/signal/samples.js';

/** A sentence that a synthesiser spoke, with the times that it gave its phones. */
export interface Speech {
  readonly sampleRateHz: number;
  readonly samples: Samples;
  readonly durationSeconds: number;
  /** In order of time, without gaps; `label` is the phone in IPA, `sil` a pause. */
  readonly phones: readonly PhoneEvent[];
}

/** How a sentence is spoken. */
export interface SpeechOptions {
  /** Language or voice of the synthesiser, with + and a variant: `en-us`, `de+f1`. The breathy variants f2, f3 and f5 differ from run to run. */
  readonly voice: string;
  /** Words per minute; 175 unless stated. */
  readonly wordsPerMinute?: number;
  /** Pitch, 0 to 100; 50 unless stated. */
  readonly pitchPercent?: number;
}

/**
 * Starts the synthesiser eSpeak NG, which is none of ours and knows nothing of this library. The same calls in the same order
 * give the same samples; a new speaker starts anew.
 */
export async function createSpeaker(): Promise<(text: string, options: SpeechOptions) => Speech> {
  const { eSpeakNGWorker } = await load();
  const worker = new eSpeakNGWorker();
  return (text, { voice, wordsPerMinute = 175, pitchPercent = 50 }) => {
    if (worker.set_voice(voice) !== 0) throw new Error(`there is no voice ${voice}`);
    worker.set_rate(wordsPerMinute);
    worker.set_pitch(pitchPercent);
    const blocks: Int16Array[] = [];
    const marks: Mark[] = [];
    worker.synthesize_and_get_phonemes(text, (block, events) => {
      blocks.push(block);
      for (const { type, id, audio_position } of events)
        if (type === 'phoneme') marks.push({ label: String(id), seconds: audio_position / 1000 });
      return false;
    });
    const codes = blocks.flatMap((block) => Array.from(block));
    const sampleRateHz = worker.get_samplerate();
    const durationSeconds = codes.length / sampleRateHz;
    return {
      sampleRateHz,
      samples: Float32Array.from(codes, (code) => code / 32768),
      durationSeconds,
      phones: phonesBetween(marks, durationSeconds),
    };
  };
}

interface Mark {
  readonly label: string;
  readonly seconds: number;
}

/** A phone lasts from its mark to the next; one that shares its mark with the next was merged into a neighbour. */
function phonesBetween(marks: readonly Mark[], durationSeconds: number): readonly PhoneEvent[] {
  return marks.flatMap(({ label, seconds }, k) => {
    const endSeconds = marks[k + 1]?.seconds ?? durationSeconds;
    if (endSeconds <= seconds) return [];
    const phone = label === '' ? 'sil' : plainPhone(label);
    return [{ label: phone, startSeconds: seconds, endSeconds, ...phoneFacts(phone, 'ipa') }];
  });
}

/** Stress, length, palatalisation, aspiration and marks of place say nothing about the class of a phone; ss is a long s. */
function plainPhone(label: string): string {
  return label
    .normalize('NFC')
    .replace(/[ˈˌːʲʰ-]|\p{M}/gu, '')
    .replace(/^(.)\1$/, '$1');
}
