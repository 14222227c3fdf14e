/** Everything that a key can do. */
export type Command =
  | 'turnDown'
  | 'from'
  | 'to'
  | 'noRange'
  | 'next'
  | 'previous'
  | 'nextUncertain'
  | 'previousUncertain'
  | 'hearBefore'
  | 'hearAfter'
  | 'off'
  | 'lock'
  | 'remove'
  | 'undo'
  | 'redo'
  | 'play'
  | 'swap'
  | 'match'
  | 'backing'
  | 'chain'
  | 'decide'
  | 'saveWav'
  | 'zoomIn'
  | 'zoomOut'
  | 'whole'
  | 'closeUp'
  | 'gainUp'
  | 'gainDown'
  | 'gainUpFine'
  | 'gainDownFine'
  | 'earlier'
  | 'later'
  | 'earlierFine'
  | 'laterFine'
  | 'earlierFar'
  | 'laterFar'
  | 'home'
  | 'end';

/** A key and what it does. */
export interface KeyBinding {
  readonly command: Command;
  /** `key` of the keyboard event, letters in lower case. */
  readonly key: string;
  /** Undefined: with Shift or without. */
  readonly shift?: boolean;
  readonly ctrl?: boolean;
  /** Works in the time view alone, so that arrows scroll the page elsewhere. */
  readonly inView?: boolean;
  /** As the page writes it; the same words stand together in the list of keys. */
  readonly shown: string;
  readonly does: string;
}

/** Letters are the first of the word that the page uses, where it was free. */
export const KEYS: readonly KeyBinding[] = [
  {
    command: 'turnDown',
    key: 'd',
    shift: false,
    shown: 'D',
    does: 'turn down by 6 dB: the range, or the region',
  },
  { command: 'from', key: 'f', shift: false, shown: 'F', does: 'range from the cursor' },
  { command: 'to', key: 't', shift: false, shown: 'T', does: 'range to the cursor' },
  { command: 'noRange', key: 'Escape', shown: 'Esc', does: 'no range; stop playing' },
  { command: 'next', key: 'n', shift: false, shown: 'N', does: 'next region' },
  { command: 'previous', key: 'p', shift: false, shown: 'P', does: 'previous region' },
  { command: 'nextUncertain', key: 'u', shift: false, shown: 'U', does: 'next uncertain region' },
  {
    command: 'previousUncertain',
    key: 'u',
    shift: true,
    shown: '⇧U',
    does: 'previous uncertain region',
  },
  { command: 'hearBefore', key: 'b', shift: false, shown: 'B', does: 'hear the region before' },
  { command: 'hearAfter', key: 'a', shift: false, shown: 'A', does: 'hear the region after' },
  { command: 'gainUp', key: 'ArrowUp', shift: false, inView: true, shown: '↑', does: 'gain up by 1 dB' },
  {
    command: 'gainDown',
    key: 'ArrowDown',
    shift: false,
    inView: true,
    shown: '↓',
    does: 'gain down by 1 dB',
  },
  {
    command: 'gainUpFine',
    key: 'ArrowUp',
    shift: true,
    inView: true,
    shown: '⇧↑',
    does: 'gain up by 0.1 dB',
  },
  {
    command: 'gainDownFine',
    key: 'ArrowDown',
    shift: true,
    inView: true,
    shown: '⇧↓',
    does: 'gain down by 0.1 dB',
  },
  { command: 'off', key: 'o', shift: false, shown: 'O', does: 'region off: as recorded' },
  { command: 'lock', key: 'l', shift: false, shown: 'L', does: 'lock the region' },
  { command: 'remove', key: 'Delete', shown: 'Delete', does: 'remove the region' },
  { command: 'undo', key: 'z', shift: false, shown: 'Z', does: 'undo' },
  { command: 'redo', key: 'z', shift: true, shown: '⇧Z', does: 'redo' },
  { command: 'undo', key: 'z', shift: false, ctrl: true, shown: 'Ctrl Z', does: 'undo' },
  { command: 'redo', key: 'z', shift: true, ctrl: true, shown: 'Ctrl ⇧Z', does: 'redo' },
  { command: 'play', key: ' ', shown: 'Space', does: 'play from the cursor, pause' },
  { command: 'swap', key: 'x', shift: false, shown: 'X', does: 'swap tamed and as recorded' },
  { command: 'match', key: 'y', shift: false, shown: 'Y', does: 'match their loudness' },
  { command: 'backing', key: 's', shift: false, shown: 'S', does: 'the take alone, or with its backing' },
  { command: 'chain', key: 'v', shift: false, shown: 'V', does: 'through the mix chain, or not' },
  { command: 'decide', key: 'g', shift: false, shown: 'G', does: 'decide all gains' },
  { command: 'saveWav', key: 'w', shift: false, shown: 'W', does: 'write the tamed WAV' },
  {
    command: 'earlier',
    key: 'ArrowLeft',
    shift: false,
    inView: true,
    shown: '←',
    does: 'cursor 10 ms earlier',
  },
  { command: 'later', key: 'ArrowRight', shift: false, inView: true, shown: '→', does: 'cursor 10 ms later' },
  {
    command: 'earlierFine',
    key: 'ArrowLeft',
    shift: true,
    inView: true,
    shown: '⇧←',
    does: 'cursor 1 ms earlier',
  },
  {
    command: 'laterFine',
    key: 'ArrowRight',
    shift: true,
    inView: true,
    shown: '⇧→',
    does: 'cursor 1 ms later',
  },
  {
    command: 'earlierFar',
    key: 'ArrowLeft',
    ctrl: true,
    inView: true,
    shown: 'Ctrl ←',
    does: 'cursor 1 s earlier',
  },
  {
    command: 'laterFar',
    key: 'ArrowRight',
    ctrl: true,
    inView: true,
    shown: 'Ctrl →',
    does: 'cursor 1 s later',
  },
  { command: 'home', key: 'Home', inView: true, shown: 'Home', does: 'cursor to the start' },
  { command: 'end', key: 'End', inView: true, shown: 'End', does: 'cursor to the end' },
  { command: 'zoomIn', key: '+', shown: '+', does: 'zoom in' },
  { command: 'zoomIn', key: '=', shown: '=', does: 'zoom in' },
  { command: 'zoomOut', key: '-', shown: '−', does: 'zoom out' },
  { command: 'whole', key: '0', shift: false, shown: '0', does: 'the whole take' },
  { command: 'closeUp', key: 'e', shift: false, shown: 'E', does: 'close up: the range or the region' },
];

/** What of a keyboard event counts. */
export interface KeyPress {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}

/** Where the focus is: in the time view, in a field that takes text or arrows itself, on a button, or on nothing. */
export type Focus = 'view' | 'field' | 'button' | 'page';

/** The command of a key press, or undefined. `keysOn` false: only keys with Ctrl and those within the time view. */
export function commandOf(press: KeyPress, focus: Focus, keysOn: boolean): Command | undefined {
  if (press.altKey || focus === 'field') return undefined;
  // Space presses the button that has the focus.
  if (press.key === ' ' && focus === 'button') return undefined;
  const key = press.key.length === 1 ? press.key.toLowerCase() : press.key;
  const ctrl = press.ctrlKey || press.metaKey;
  if (!keysOn && !ctrl && focus !== 'view') return undefined;
  return KEYS.find(
    (binding) =>
      binding.key === key &&
      (binding.ctrl ?? false) === ctrl &&
      (binding.shift === undefined || binding.shift === press.shiftKey) &&
      (binding.inView !== true || focus === 'view'),
  )?.command;
}
