import { REGION_KINDS, type RegionKind } from '../../src/regions/region.js';
import { changeGain, changeKind } from './state/edit.js';
import { type Command, commandOf, type Focus } from './state/keys.js';
import { listenTo, throughChain } from './state/listening.js';
import { DECISIONS, type Decision, type Listen, type PageState } from './state/page-state.js';
import type { Store } from './state/store.js';
import { element } from './view/dom.js';

/** Binds buttons, fields and keys to the state. */
export function bindControls(store: Store<PageState>, run: (command: Command) => void): void {
  for (const button of document.querySelectorAll<HTMLElement>('[data-command]'))
    button.addEventListener('click', () => run(button.getAttribute('data-command') as Command));
  bindRegion(store, run);
  bindListening(store, run);
  bindDecision(store);
  bindKeys(run);
}

function bindRegion(store: Store<PageState>, run: (command: Command) => void): void {
  const gain = element('gain', HTMLInputElement);
  gain.addEventListener('input', () => store.update((state) => changeGain(state, Number(gain.value), false)));
  gain.addEventListener('change', () => store.update((state) => changeGain(state, Number(gain.value), true)));
  const kind = element('kind', HTMLSelectElement);
  kind.addEventListener('change', () => {
    const chosen = REGION_KINDS.find((name) => name === kind.value);
    if (chosen !== undefined) store.update((state) => changeKind(state, chosen));
  });
  onToggle('off', () => run('off'), store);
  onToggle('locked', () => run('lock'), store);
}

function bindListening(store: Store<PageState>, run: (command: Command) => void): void {
  for (const radio of document.querySelectorAll<HTMLInputElement>('input[name="listen"]'))
    radio.addEventListener('change', () => store.update((state) => listenTo(state, radio.value as Listen)));
  onToggle('match', () => run('match'), store);
  onToggle('backing', () => run('backing'), store);
  const chain = element('chain', HTMLSelectElement);
  chain.addEventListener('change', () =>
    store.update((state) => throughChain(state, chain.value === 'none' ? null : chain.value)),
  );
}

/** A box whose state is the page's: where an edit was refused it goes back. */
function onToggle(id: string, act: () => void, store: Store<PageState>): void {
  element(id, HTMLInputElement).addEventListener('change', () => {
    act();
    store.update((state) => ({ ...state }));
  });
}

function bindDecision(store: Store<PageState>): void {
  const change = (part: Partial<Decision>): void =>
    store.update((state) => ({ ...state, decision: { ...state.decision, ...part } }));
  const how = element('decision', HTMLSelectElement);
  how.addEventListener('change', () =>
    change({ how: DECISIONS.find((name) => name === how.value) ?? 'fixed' }),
  );
  const cut = element('cut', HTMLInputElement);
  cut.addEventListener('change', () => {
    const cutDb = Math.min(24, Math.max(0, Math.abs(Number(cut.value))));
    cut.value = String(cutDb);
    change({ cutDb });
  });
  const kinds = element('kinds', HTMLDivElement);
  kinds.addEventListener('change', () => {
    const boxes = [...kinds.querySelectorAll<HTMLInputElement>('input:checked')];
    change({ kinds: boxes.map((box) => box.value as RegionKind) });
  });
}

function bindKeys(run: (command: Command) => void): void {
  const keysOn = element('keys-on', HTMLInputElement);
  document.addEventListener('keydown', (event) => {
    const command = commandOf(event, focusOf(document.activeElement), keysOn.checked);
    if (command === undefined) return;
    event.preventDefault();
    run(command);
  });
}

function focusOf(active: Element | null): Focus {
  if (active === null || active === document.body) return 'page';
  if (active.id === 'take-view') return 'view';
  if (active instanceof HTMLSelectElement || active instanceof HTMLTextAreaElement) return 'field';
  if (active instanceof HTMLInputElement)
    return ['checkbox', 'radio', 'range'].includes(active.type) ? 'button' : 'field';
  return 'button';
}
