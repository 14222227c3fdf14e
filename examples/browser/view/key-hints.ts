import { KEYS, type KeyBinding } from '../state/keys.js';

/** Writes its key on every button that has one, and all keys into the list. */
export function showKeys(list: HTMLElement): void {
  for (const button of document.querySelectorAll<HTMLElement>('[data-command]')) {
    const binding = KEYS.find(({ command }) => command === button.getAttribute('data-command'));
    if (binding === undefined) continue;
    button.append(hint(binding));
    button.setAttribute('aria-keyshortcuts', ariaKeys(binding));
  }
  const told = new Set<string>();
  for (const binding of KEYS) {
    // Some commands have a second key, for other keyboards and habits.
    if (told.has(binding.does)) continue;
    told.add(binding.does);
    const item = document.createElement('li');
    const key = document.createElement('kbd');
    key.textContent = binding.shown;
    item.append(key, ` ${binding.does}`);
    list.append(item);
  }
}

/** The key on a button is for the eye: the name that is read out is the button's own. */
function hint({ shown }: KeyBinding): HTMLElement {
  const key = document.createElement('kbd');
  key.textContent = shown;
  key.setAttribute('aria-hidden', 'true');
  return key;
}

function ariaKeys({ key, shift, ctrl }: KeyBinding): string {
  const name = key === ' ' ? 'Space' : key === '+' ? 'Plus' : key.length === 1 ? key.toUpperCase() : key;
  return `${ctrl === true ? 'Control+' : ''}${shift === true ? 'Shift+' : ''}${name}`;
}
