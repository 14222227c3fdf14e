import { CHAIN_PRESETS } from '../../../src/forecast/presets.js';
import { KIND_STYLES } from '../../../src/picture/kind-style.js';
import { REGION_KINDS } from '../../../src/regions/region.js';
import { notesOf } from '../state/notes.js';
import { chosenRegion, type DecisionName, type PageState, shownList } from '../state/page-state.js';
import { decibelText, regionText, summaryText, timeText } from '../state/words.js';
import { element, setText } from './dom.js';

/** Kinds that the detector finds and a decision is made for. */
export const DECIDED_KINDS = ['sibilant', 'fricative', 'burst', 'breath'] as const;
/** More notes than these are counted, not listed. */
const MOST_NOTES = 40;

const DECISION_TEXTS: Readonly<Record<DecisionName, string>> = {
  fixed: 'Each by the same cut.',
  level: 'The loud ones down to one level beside the voice, the soft ones not at all.',
  even: 'Half of what stands out is taken away; loud ones stay louder, by less.',
  ahead: 'By as much as the mix chain will lift them.',
};

/** Fills what the page's lists can hold. */
export function fillChoices(): void {
  const kind = element('kind', HTMLSelectElement);
  for (const name of REGION_KINDS) kind.add(new Option(`${KIND_STYLES[name].tag}  ${name}`, name));
  const chain = element('chain', HTMLSelectElement);
  for (const name of ['none', ...CHAIN_PRESETS.map((preset) => preset.name ?? '')])
    chain.add(new Option(name, name));
  const kinds = element('kinds', HTMLDivElement);
  for (const name of DECIDED_KINDS) {
    const label = document.createElement('label');
    label.className = 'check';
    const box = document.createElement('input');
    box.type = 'checkbox';
    box.value = name;
    box.checked = name === 'sibilant';
    const chip = document.createElement('span');
    chip.className = `chip chip-${name}`;
    chip.textContent = KIND_STYLES[name].tag;
    chip.setAttribute('aria-hidden', 'true');
    label.append(box, chip, name);
    kinds.append(label);
  }
}

/** Brings everything beside the drawing in line with the state. */
export function showPanels(state: PageState, before: PageState, go: (id: number) => void): void {
  const { take, phase, history } = state;
  const main = document.querySelector('main') as HTMLElement;
  main.setAttribute('data-phase', phase);
  element('welcome', HTMLDivElement).hidden = take !== null;
  element('time', HTMLDivElement).hidden = take === null;
  element('panels', HTMLDivElement).hidden = take === null;
  element('tools', HTMLFieldSetElement).hidden = take === null;
  element('zoom-tools', HTMLFieldSetElement).hidden = take === null;
  element('finding', HTMLDivElement).hidden = phase !== 'finding';
  setText(element('status', HTMLParagraphElement), state.status);
  if (take !== null)
    setText(
      element('take-name', HTMLParagraphElement),
      `${take.name}: ${timeText(take.lengthSamples, take.sampleRateHz)}, ${take.sampleRateHz / 1000} kHz, ${take.format}, ${take.channelCount === 1 ? 'mono' : `${take.channelCount} channels`}`,
    );
  showRegion(state);
  showListening(state);
  const list = shownList(state);
  if (list !== null && phase === 'ready')
    setText(element('summary', HTMLParagraphElement), `${summaryText(list)}.`);
  setText(element('decision-text', HTMLParagraphElement), DECISION_TEXTS[state.decision.how]);
  const present = history?.present ?? null;
  if (present !== (before.history?.present ?? null) || state.flags !== before.flags) showNotes(state, go);
  enable(state);
}

function showRegion(state: PageState): void {
  const region = chosenRegion(state);
  const text =
    region === undefined
      ? 'None is chosen: click one, or press N.'
      : regionText(region, state.take?.sampleRateHz ?? 1);
  const level = region === undefined ? undefined : state.levels?.byId.get(region.id)?.sibilanceDb;
  const beside =
    typeof level === 'number'
      ? `. As recorded ${Math.abs(level).toFixed(1)} dB ${level < 0 ? 'below' : 'above'} the voice beside it.`
      : '';
  setText(element('region-text', HTMLParagraphElement), `${text}${beside}`);
  const gain = element('gain', HTMLInputElement);
  const gainDb = region?.gainDb ?? 0;
  if (Number(gain.value) !== gainDb) gain.value = String(gainDb);
  gain.setAttribute('aria-valuetext', decibelText(gainDb));
  setText(element('gain-text', HTMLOutputElement), decibelText(gainDb));
  element('kind', HTMLSelectElement).value = region?.kind ?? 'sibilant';
  element('off', HTMLInputElement).checked = region?.bypassed ?? false;
  element('locked', HTMLInputElement).checked = region?.locked ?? false;
}

function showListening({ listen, matchLoudness, backingName, backingOn, chainName }: PageState): void {
  for (const radio of document.querySelectorAll<HTMLInputElement>('input[name="listen"]'))
    radio.checked = radio.value === listen;
  element('match', HTMLInputElement).checked = matchLoudness;
  element('backing', HTMLInputElement).checked = backingOn;
  element('chain', HTMLSelectElement).value = chainName ?? 'none';
  setText(
    element('open-backing', HTMLButtonElement),
    backingName === null ? 'Add a backing track' : 'Remove the backing track',
  );
  const text =
    backingName === null ? 'None is loaded. In solo an s is easily cut too far.' : `With ${backingName}.`;
  setText(element('backing-text', HTMLParagraphElement), text);
}

function showNotes(state: PageState, go: (id: number) => void): void {
  const list = state.history?.present;
  const notes = list === undefined ? [] : notesOf(list, state.flags);
  const items = notes.slice(0, MOST_NOTES).map(({ id, startSample, text, isFlag }) => {
    const item = document.createElement('li');
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = `${isFlag ? '⚑ ' : ''}${timeText(startSample, list?.sampleRateHz ?? 1)}: ${text}`;
    button.addEventListener('click', () => go(id));
    item.append(button);
    return item;
  });
  if (notes.length > MOST_NOTES) items.push(textItem(`and ${notes.length - MOST_NOTES} more: press U`));
  if (notes.length === 0 && state.phase === 'ready') items.push(textItem('Nothing stands out.'));
  element('notes', HTMLOListElement).replaceChildren(...items);
}

function textItem(text: string): HTMLLIElement {
  const item = document.createElement('li');
  item.textContent = text;
  item.className = 'small';
  return item;
}

/** What cannot be done now is greyed out. */
function enable(state: PageState): void {
  const isOpen = state.take !== null;
  const isReady = isOpen && state.phase === 'ready';
  const isThere: Readonly<Record<string, boolean>> = {
    take: isOpen,
    ready: isReady,
    region: isReady && chosenRegion(state) !== undefined,
  };
  for (const control of document.querySelectorAll<HTMLButtonElement>('[data-needs]'))
    control.disabled = isThere[control.getAttribute('data-needs') ?? ''] !== true;
  element('backing', HTMLInputElement).disabled = state.backingName === null;
}
