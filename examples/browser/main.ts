import { chainOf, createCommands } from './commands.js';
import { bindControls } from './controls.js';
import { bindFiles, fileName } from './files.js';
import { createPlayer } from './playback/player.js';
import { chooseRegion } from './state/choose.js';
import { aroundRegion, matchText, takeLevelDb } from './state/listening.js';
import {
  chosenRegion,
  EMPTY_PAGE,
  hasUnsavedEdits,
  type Listen,
  type PageState,
  say,
  shownList,
  type TakeInfo,
} from './state/page-state.js';
import { createStore } from './state/store.js';
import { showing } from './state/time-view.js';
import { decibelText } from './state/words.js';
import { createTakeClient } from './take-client.js';
import { download, element, setText } from './view/dom.js';
import { showKeys } from './view/key-hints.js';
import { fillChoices, showPanels } from './view/panels.js';
import { createPictures } from './view/pictures.js';
import { closeProblem, showProblems } from './view/problem.js';
import { createTakeView } from './view/take-view.js';

/** Edits in a row are measured once, this long after the last. */
const MEASURE_AFTER_MS = 400;

fillChoices();
showKeys(element('key-list', HTMLUListElement));

const store = createStore<PageState>(EMPTY_PAGE);
const pictures = createPictures();
const view = createTakeView(store, pictures);
/** What "hear before" and "hear after" play in place of what is chosen. */
let audition: Listen | null = null;
const player = createPlayer((problem) => {
  endPlaying();
  if (problem !== null) showProblems('play', [problem]);
});

const client = createTakeClient(store, {
  opened: (take) => void openForListening(take),
  progress: (part) => {
    element('progress', HTMLProgressElement).value = part;
  },
  backing: (name, samples) => {
    player.setBacking(samples);
    store.update((state) => ({ ...state, backingName: name }));
  },
  tamed: (wav, overSamples) => {
    download(wav, fileName(store.get(), 'tamed.wav'));
    const caution = overSamples > 0 ? ` Caution: ${overSamples} samples went past full scale.` : '';
    store.update((state) => say(state, `${fileName(store.get(), 'tamed.wav')} is written.${caution}`));
  },
  problems: showProblems,
});

const run = createCommands(store, {
  mono: client.mono,
  playOrPause,
  stop: stopPlaying,
  hear,
  decideAhead: (chain) => {
    const { decision, history } = store.get();
    if (history === null) return;
    client.ask({
      ask: 'ahead',
      list: history.present,
      chain,
      kinds: decision.kinds,
      maxCutDb: decision.cutDb,
    });
  },
  saveWav: () => {
    const list = store.get().history?.present;
    if (list !== undefined) client.ask({ ask: 'tame', list });
  },
});
bindControls(store, run);
bindFiles({ store, client, player, findAgain });
store.listen((state, before) => {
  showPanels(state, before, (id) => store.update((now) => chooseRegion(now, id)));
  setText(element('match-text', HTMLParagraphElement), matchText(state));
  const list = shownList(state);
  const listen = audition ?? state.listen;
  const takeDb = audition === null ? takeLevelDb(state) : 0;
  player.set({
    ...(list === null ? {} : { list }),
    listen,
    takeDb,
    chain: chainOf(state),
    backingOn: state.backingOn,
  });
  if (state.history?.present !== before.history?.present || state.matchLoudness !== before.matchLoudness)
    measureSoon(state, before);
  view.draw();
});
showPanels(EMPTY_PAGE, EMPTY_PAGE, () => {});

const monitor = element('monitor', HTMLInputElement);
monitor.addEventListener('input', () => {
  const monitorDb = Number(monitor.value);
  monitor.setAttribute('aria-valuetext', decibelText(monitorDb));
  setText(element('monitor-text', HTMLOutputElement), decibelText(monitorDb));
  player.set({ monitorDb });
});
addEventListener('beforeunload', (event) => {
  if (hasUnsavedEdits(store.get())) event.preventDefault();
});

async function openForListening(take: TakeInfo): Promise<void> {
  closeProblem();
  stopPlaying();
  const draw = new MessageChannel();
  pictures.open(draw.port2);
  client.ask({ ask: 'samples', port: draw.port1 }, [draw.port1]);
  findAgain();
  element('take-view', HTMLDivElement).focus();
  store.update((state) => ({ ...state, backingName: null }));
  try {
    const port = await player.open(take);
    client.ask({ ask: 'samples', port }, [port]);
    // The list again: the worklet is a new one.
    const list = shownList(store.get());
    if (list !== null) player.set({ list: { ...list } });
  } catch (error) {
    showProblems('play', [String(error)]);
  }
}

function findAgain(): void {
  store.update((state) => ({ ...say(state, 'Looking for consonants.'), phase: 'finding' }));
  element('progress', HTMLProgressElement).value = 0;
  client.ask({ ask: 'find', minConfidence: Number(element('least', HTMLInputElement).value) });
}

function playOrPause(): void {
  if (player.position() !== null) {
    const at = player.position() as number;
    stopPlaying();
    store.update((state) => ({ ...state, cursorSample: Math.min(at, (state.take?.lengthSamples ?? 1) - 1) }));
    return;
  }
  const { take, cursorSample } = store.get();
  if (take !== null) start(cursorSample, take.lengthSamples, null);
}

function hear(what: 'recorded' | 'tamed'): void {
  const state = store.get();
  const region = chosenRegion(state);
  if (region === undefined || state.take === null) {
    store.update((now) => say(now, 'Choose a region first.'));
    return;
  }
  const { startSample, endSample } = aroundRegion(region, state.take.sampleRateHz, state.take.lengthSamples);
  start(startSample, endSample, what);
}

function start(startSample: number, endSample: number, what: Listen | null): void {
  audition = what;
  const words = what === null ? 'Playing.' : what === 'tamed' ? 'The region after.' : 'The region before.';
  store.update((state) => say(state, words));
  void player.play(startSample, endSample).then(followPlayhead);
  setText(element('play', HTMLButtonElement).firstChild as unknown as HTMLElement, 'Pause');
}

function stopPlaying(): void {
  player.stop();
  endPlaying();
}

function endPlaying(): void {
  audition = null;
  setText(element('play', HTMLButtonElement).firstChild as unknown as HTMLElement, 'Play');
  view.showPlayhead(null);
  store.update((state) => ({ ...state }));
}

function followPlayhead(): void {
  const at = player.position();
  if (at === null) return;
  view.showPlayhead(at);
  store.update((state) => showing(state, at));
  requestAnimationFrame(followPlayhead);
}

let measuring: ReturnType<typeof setTimeout> | undefined;
let needsLevels = false;
/** Asks the worker for what an edit has made stale: levels where edges moved, flags, loudness where it is matched. */
function measureSoon(state: PageState, before: PageState): void {
  const list = state.history?.present;
  if (list === undefined || state.phase !== 'ready') return;
  if (list !== before.history?.present) {
    needsLevels ||= edgesOf(state) !== edgesOf(before);
    if (state.loudness !== null) store.update((now) => ({ ...now, loudness: null }));
  }
  clearTimeout(measuring);
  measuring = setTimeout(() => {
    client.ask({ ask: needsLevels || store.get().levels === null ? 'measure' : 'flags', list });
    needsLevels = false;
    if (store.get().matchLoudness) client.ask({ ask: 'loudness', list });
  }, MEASURE_AFTER_MS);
}

function edgesOf({ history }: PageState): string {
  return (history?.present.regions ?? [])
    .map((region) => `${region.id} ${region.kind} ${region.startSample} ${region.endSample}`)
    .join();
}
