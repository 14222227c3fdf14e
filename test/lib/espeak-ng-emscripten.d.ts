/** As much of the speech synthesiser as the tests use; the package comes without types. */
declare module '@echogarden/espeak-ng-emscripten' {
  interface SpeechEvent {
    readonly type: 'samplerate' | 'sentence' | 'word' | 'phoneme' | 'mark' | 'play' | 'end';
    /** Milliseconds from the start of the sound. */
    readonly audio_position: number;
    /** Of a phoneme: its letters in IPA, empty for a pause. */
    readonly id?: string | number;
  }
  interface Worker {
    set_voice(identifier: string): number;
    set_rate(wordsPerMinute: number): number;
    set_pitch(percent: number): number;
    get_samplerate(): number;
    /** Calls back block by block; a true result stops the synthesis. Gives the phonemes as text. */
    synthesize_and_get_phonemes(
      text: string,
      callback: (samples: Int16Array, events: readonly SpeechEvent[]) => boolean,
    ): string;
  }
  export default function load(): Promise<{ readonly eSpeakNGWorker: new () => Worker }>;
}
