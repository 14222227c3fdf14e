import type { SampleRange, TakeInfo } from '../state/page-state.js';
import type { PictureAnswer, PictureRequest } from '../worker/messages.js';

/** Keeps the drawing data of a view and of the whole take, and asks the worker for what is missing. */
export interface Pictures {
  /** Forgets the old take; the new one's samples come through the port. */
  open(samplesFrom: MessagePort): void;
  /** Says what is on the screen; the worker is asked where that is not what was worked out last. */
  want(take: TakeInfo, view: SampleRange, size: { width: number; height: number }, isDark: boolean): void;
  ofView(): PictureAnswer | null;
  /** Its waveform alone: the image may be gone. */
  ofWhole(): Omit<PictureAnswer, 'image'> | null;
  listen(listener: () => void): void;
}

/** Pixels of the page that one column of the spectrogram is wide, and one row high: finer is not seen, and slower. */
const SPECTROGRAM_STEP = 1.5;

/** Starts the worker that draws. It works on one question at a time, and only ever on the latest. */
export function createPictures(): Pictures {
  const worker = new Worker(new URL('../worker/picture-worker.ts', import.meta.url), { type: 'module' });
  let isReady = false;
  let isBusy = false;
  let asked = '';
  let wanted: PictureRequest | null = null;
  let ofView: PictureAnswer | null = null;
  let ofWhole: Omit<PictureAnswer, 'image'> | null = null;
  let lengthSamples = 0;
  let listener = (): void => {};

  worker.addEventListener('message', ({ data }: MessageEvent<PictureAnswer | 'ready'>) => {
    if (data === 'ready') isReady = true;
    else {
      isBusy = false;
      // An answer about a take that is no longer open.
      if (!isReady) return data.image.close();
      ofView?.image.close();
      ofView = data;
      if (data.view.startSample === 0 && data.view.endSample === lengthSamples) ofWhole = data;
    }
    ask();
    listener();
  });

  return {
    open(samplesFrom) {
      isReady = false;
      asked = '';
      ofView = null;
      ofWhole = null;
      worker.postMessage({ samplesFrom }, [samplesFrom]);
    },
    want(take, view, { width, height }, isDark) {
      lengthSamples = take.lengthSamples;
      wanted = {
        view,
        columns: Math.ceil(width * devicePixelRatio),
        width: Math.max(8, Math.round(width / SPECTROGRAM_STEP)),
        height: Math.max(8, Math.round(height / SPECTROGRAM_STEP)),
        isDark,
      };
      ask();
    },
    ofView: () => ofView,
    ofWhole: () => ofWhole,
    listen(next) {
      listener = next;
    },
  };

  function ask(): void {
    if (!isReady || isBusy || wanted === null) return;
    const key = JSON.stringify(wanted);
    if (key === asked) return;
    asked = key;
    isBusy = true;
    worker.postMessage(wanted);
  }
}
