import type { Problem } from '../../src/exchange/result.js';
import type { RegionList } from '../../src/regions/region.js';
import { problemLine } from '../lib/result.js';
import { decisionText, receiveFound } from './state/decide.js';
import { withEdit } from './state/edit.js';
import { openTake, type PageState, say, type TakeInfo } from './state/page-state.js';
import type { Store } from './state/store.js';
import type { TakeAnswer, TakeRequest } from './worker/messages.js';

/** What the page does beside its state when the worker answers. */
export interface TakeEvents {
  opened(take: TakeInfo): void;
  progress(part: number): void;
  backing(name: string, samples: Float32Array<ArrayBuffer>): void;
  tamed(wav: Blob, overSamples: number): void;
  problems(what: string, lines: readonly string[]): void;
}

/** The page's side of the worker that holds the take. */
export interface TakeClient {
  ask(request: TakeRequest, transfer?: Transferable[]): void;
  /** The take where it has one channel, for snapping to zero crossings. */
  mono(): Float32Array<ArrayBuffer> | null;
}

/** Starts the worker and brings its answers into the state. */
export function createTakeClient(store: Store<PageState>, events: TakeEvents): TakeClient {
  const worker = new Worker(new URL('./worker/take-worker.ts', import.meta.url), { type: 'module' });
  let mono: Float32Array<ArrayBuffer> | null = null;
  let isComplete = false;
  worker.addEventListener('message', ({ data }: MessageEvent<TakeAnswer>) => receive(data));
  worker.addEventListener('error', ({ message }) =>
    refused('work', [{ path: '', rule: message, received: '' }]),
  );
  return {
    ask: (request, transfer = []) => worker.postMessage(request, transfer),
    mono: () => mono,
  };

  function receive(answer: TakeAnswer): void {
    switch (answer.tell) {
      case 'opened':
        mono = answer.mono;
        isComplete = false;
        store.update((state) => openTake(state, answer.take));
        events.opened(answer.take);
        break;
      case 'refused':
        refused(answer.what, answer.problems);
        break;
      case 'progress':
        events.progress(answer.part);
        break;
      case 'found':
        document.documentElement.setAttribute('data-find-seconds', answer.seconds.toFixed(3));
        store.update((state) => receiveFound(state, answer.list, answer.stopped));
        break;
      case 'measured':
        store.update((state) => ({ ...state, levels: answer.levels }));
        break;
      case 'flags':
        store.update((state) => ({ ...state, flags: answer.flags }));
        // What can wait comes when all that is looked at is there.
        if (!isComplete) worker.postMessage({ ask: 'backing' } satisfies TakeRequest);
        isComplete = true;
        break;
      case 'warnings':
        store.update((state) => say(state, `Caution: ${answer.messages.join(' ')}`));
        break;
      case 'backing':
        events.backing(answer.name, answer.samples);
        break;
      case 'decided':
        store.update((state) => decided(state, answer.list, answer.unreached));
        break;
      case 'loudness': {
        const { recordedLufs, tamedLufs } = answer;
        store.update((state) => ({ ...state, loudness: { recordedLufs, tamedLufs } }));
        break;
      }
      case 'tamed':
        events.tamed(answer.wav, answer.overSamples);
        break;
    }
  }

  function refused(what: string, problems: readonly Problem[]): void {
    store.update((state) => {
      const phase = state.take === null ? 'empty' : 'ready';
      return { ...say(state, 'Nothing was changed.'), phase };
    });
    events.problems(what, problems.map(problemLine));
  }
}

/** Gains that were worked out by running the chain. They are put on what is there now: the list may have been edited since. */
function decided(state: PageState, decidedList: RegionList, unreached: number): PageState {
  if (state.history === null) return state;
  const gains = new Map(decidedList.regions.map((region) => [region.id, region]));
  const { present } = state.history;
  const regions = present.regions.map((region) => {
    const other = gains.get(region.id);
    if (other === undefined || region.locked || region.bypassed || other.startSample !== region.startSample)
      return region;
    return { ...region, gainDb: other.gainDb, reason: other.reason };
  });
  const edited = withEdit(
    { ...state, phase: 'ready' },
    { ...present, regions },
    decisionText(state.decision),
  );
  const rest = unreached === 0 ? '' : ` ${unreached} could not be brought all the way.`;
  return say(edited, `${edited.status}${rest}`);
}
