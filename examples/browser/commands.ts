import type { Chain } from '../../src/forecast/chain.js';
import { CHAIN_PRESETS } from '../../src/forecast/presets.js';
import type { Channels } from '../../src/signal/samples.js';
import { markAtCursor, markRange, moveCursor, placeCursor, step } from './state/choose.js';
import { applyDecision } from './state/decide.js';
import {
  changeGain,
  redoEdit,
  removeChosen,
  toggleLock,
  toggleOff,
  turnDown,
  undoEdit,
} from './state/edit.js';
import type { Command } from './state/keys.js';
import { swapListen, throughChain } from './state/listening.js';
import { chosenRegion, type PageState, say } from './state/page-state.js';
import type { Store } from './state/store.js';
import { closeUp, whole, zoomed } from './state/time-view.js';

/** What commands need beside the state. */
export interface CommandTools {
  mono(): Channels | null;
  playOrPause(): void;
  stop(): void;
  hear(what: 'recorded' | 'tamed'): void;
  decideAhead(chain: Chain): void;
  saveWav(): void;
}

type Change = (state: PageState) => PageState;

/** Commands that only change the state. */
const CHANGES: Partial<Record<Command, Change>> = {
  from: (state) => markAtCursor(state, 'from'),
  to: (state) => markAtCursor(state, 'to'),
  next: (state) => step(state, 'next'),
  previous: (state) => step(state, 'previous'),
  nextUncertain: (state) => step(state, 'nextUncertain'),
  previousUncertain: (state) => step(state, 'previousUncertain'),
  off: toggleOff,
  lock: toggleLock,
  remove: removeChosen,
  undo: undoEdit,
  redo: redoEdit,
  swap: swapListen,
  match: (state) =>
    say(
      { ...state, matchLoudness: !state.matchLoudness },
      state.matchLoudness ? 'Loudness is not matched.' : 'Loudness is matched.',
    ),
  backing: (state) =>
    state.backingName === null
      ? say(state, 'No backing track is loaded.')
      : say(
          { ...state, backingOn: !state.backingOn },
          state.backingOn ? 'The take alone.' : 'With the backing.',
        ),
  chain: (state) => throughChain(state, state.chainName === null ? state.lastChainName : null),
  zoomIn: (state) => zoomed(state, 0.5, state.cursorSample),
  zoomOut: (state) => zoomed(state, 2, state.cursorSample),
  whole,
  closeUp: (state) => {
    const target = state.range ?? chosenRegion(state);
    return target === undefined
      ? say(state, 'Mark a range or choose a region first.')
      : closeUp(state, target);
  },
  gainUp: (state) => byDecibels(state, 1),
  gainDown: (state) => byDecibels(state, -1),
  gainUpFine: (state) => byDecibels(state, 0.1),
  gainDownFine: (state) => byDecibels(state, -0.1),
  earlier: (state) => moveCursor(state, -0.01),
  later: (state) => moveCursor(state, 0.01),
  earlierFine: (state) => moveCursor(state, -0.001),
  laterFine: (state) => moveCursor(state, 0.001),
  earlierFar: (state) => moveCursor(state, -1),
  laterFar: (state) => moveCursor(state, 1),
  home: (state) => placeCursor(state, 0),
  end: (state) => placeCursor(state, state.take?.lengthSamples ?? 0),
};

/** Commands that change regions: they wait until a search is over. */
const EDITS: ReadonlySet<Command> = new Set([
  'turnDown',
  'off',
  'lock',
  'remove',
  'undo',
  'redo',
  'decide',
  'gainUp',
  'gainDown',
  'gainUpFine',
  'gainDownFine',
  'saveWav',
]);

/** Runs commands, from keys and buttons alike. */
export function createCommands(store: Store<PageState>, tools: CommandTools): (command: Command) => void {
  return (command) => {
    const { take, phase } = store.get();
    if (take === null) return;
    if (EDITS.has(command) && phase !== 'ready') {
      store.update((state) => say(state, 'Wait until the search is over, or stop it.'));
      return;
    }
    const change = CHANGES[command];
    if (change !== undefined) store.update(change);
    else act(command, store, tools);
  };
}

function act(command: Command, store: Store<PageState>, tools: CommandTools): void {
  switch (command) {
    case 'turnDown':
      store.update((state) => turnDown(state, tools.mono()));
      break;
    case 'noRange':
      tools.stop();
      store.update((state) => markRange(state, null));
      break;
    case 'hearBefore':
      tools.hear('recorded');
      break;
    case 'hearAfter':
      tools.hear('tamed');
      break;
    case 'play':
      tools.playOrPause();
      break;
    case 'saveWav':
      tools.saveWav();
      break;
    case 'decide':
      decide(store, tools);
      break;
  }
}

/** The preset that a state plays through; null for none. */
export function chainOf({ chainName }: PageState): Chain | null {
  return CHAIN_PRESETS.find(({ name }) => name === chainName) ?? null;
}

function decide(store: Store<PageState>, tools: CommandTools): void {
  const state = store.get();
  if (state.decision.how !== 'ahead') {
    store.update(applyDecision);
    return;
  }
  const chain = chainOf(state);
  const words =
    chain === null
      ? 'Choose a mix chain first: it is what the cut is ahead of.'
      : 'The chain is being run. You can go on working.';
  store.update((now) => say(now, words));
  if (chain !== null) tools.decideAhead(chain);
}

function byDecibels(state: PageState, db: number): PageState {
  const region = chosenRegion(state);
  if (region === undefined) return say(state, 'Choose a region first.');
  return changeGain(state, region.gainDb + db, true);
}
